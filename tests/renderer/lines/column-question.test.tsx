// @vitest-environment happy-dom
/** What a person answered in the table of columns stands, whatever later lines make the host guess; and it is sent as it stands there. */
import { act, cleanup, fireEvent, screen } from '@testing-library/react';
import { useState } from 'react';
import { afterEach, expect, it } from 'vitest';
import { ColumnQuestion } from '../../../renderer/views/lines/questions/ColumnQuestion.tsx';
import type { RunInfo, ShownColumn } from '../../../shared/ipc/run-info.ts';
import { inWindow, press, settled } from '../helpers/in-window.tsx';

afterEach(cleanup);

const column = (at: number, more: Partial<ShownColumn> = {}): ShownColumn => ({
  at,
  name: '',
  unitText: '',
  examples: ['41'],
  sureness: 'look',
  evidence: [],
  ...more,
});

function shown(first: readonly ShownColumn[]) {
  let later: (columns: readonly ShownColumn[]) => void = () => undefined;
  function Screen() {
    const [columns, setColumns] = useState(first);
    later = setColumns;
    const info = { runId: 'r', question: { columns, hidden: 0 } } as unknown as RunInfo & { question: NonNullable<RunInfo['question']> };
    return <ColumnQuestion info={info} mayAct declined={() => undefined} />;
  }
  const { asked } = inWindow(<Screen />, {}, { 'run.answerQuestion': undefined });
  return {
    asked,
    moreLines: (columns: readonly ShownColumn[]) => act(() => later(columns)),
    answers: async () => {
      press(/^Use th/);
      await settled();
      return asked.find(({ name }) => name === 'run.answerQuestion')?.input;
    },
  };
}
const what = (number: number): HTMLSelectElement => screen.getByLabelText<HTMLSelectElement>(`What column ${number} is`);
const choose = (number: number, channel: string): void => void fireEvent.change(what(number), { target: { value: channel } });
const taken = (): string[] => [1, 2, 3].map((number) => what(number).value);

const guessed = [column(0, { taken: 'o2' }), column(1, { taken: 'co' }), column(2)];

it('takes the channel from the column that was guessed to have it, and sends both', async () => {
  const { answers } = shown(guessed);
  choose(3, 'co');
  expect(taken()).toEqual(['o2', 'none', 'co']);
  expect(await answers()).toEqual({
    runId: 'r',
    answers: [
      { at: 1, channel: 'none' },
      { at: 2, channel: 'co' },
    ],
  });
});

it('a guess that comes with later lines gives way to what was answered before', async () => {
  const { moreLines, answers } = shown([column(0, { taken: 'o2' }), column(1), column(2)]);
  choose(3, 'co');
  moreLines(guessed);
  expect(taken()).toEqual(['o2', 'none', 'co']);
  expect(await answers()).toEqual({
    runId: 'r',
    answers: [
      { at: 1, channel: 'none' },
      { at: 2, channel: 'co' },
    ],
  });
});

it('of two answers that give one channel the later one counts', () => {
  shown(guessed);
  choose(3, 'co');
  choose(1, 'co');
  expect(taken()).toEqual(['co', 'none', 'none']);
});
