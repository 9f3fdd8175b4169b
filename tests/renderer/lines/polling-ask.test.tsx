// @vitest-environment happy-dom
/** Nothing is sent to an instrument before a person has seen the bytes and agreed; and it can be stopped again. */
import { cleanup, fireEvent, render, screen } from '@testing-library/react';
import { afterEach, expect, it } from 'vitest';
import { AppContext, type AppParts } from '../../../renderer/app-parts.ts';
import { createAppStore } from '../../../renderer/state/store.ts';
import { PollingAsk } from '../../../renderer/views/lines/questions/PollingAsk.tsx';
import type { RunInfo } from '../../../shared/ipc/run-info.ts';
import { recipeWords } from '../../../shared/words/lines/lines.ts';
import { infoOf } from '../helpers/records.ts';
import { button, press } from '../helpers/in-window.tsx';

afterEach(cleanup);

const words = recipeWords.polling;
const polling: NonNullable<RunInfo['polling']> = {
  command: 'M\r',
  intervalMs: 2000,
  allowed: false,
  sent: 0,
  answered: 0,
  timedOut: 0,
  late: 0,
  double: 0,
  isBackingOff: false,
};
type Given = { more?: Partial<typeof polling> | 'none'; isDeclined?: boolean; mayAct?: boolean; answer?: RunInfo };
function show({ more = {}, isDeclined = false, mayAct = true, answer }: Given = {}) {
  const asked: unknown[] = [];
  const declined: boolean[] = [];
  const told: RunInfo[] = [];
  const store = createAppStore();
  store.setState({ runChanged: (info: RunInfo) => void told.push(info) });
  const parts = {
    store,
    actions: {
      ask: (name: string, input: unknown) => {
        asked.push([name, input]);
        return Promise.resolve(answer);
      },
    },
  } as unknown as AppParts;
  const info = infoOf(more === 'none' ? {} : { polling: { ...polling, ...more } });
  const { container } = render(
    <AppContext value={parts}>
      <PollingAsk info={info} isDeclined={isDeclined} decline={(no) => void declined.push(no)} mayAct={mayAct} />
    </AppContext>,
  );
  const text = (): string => container.textContent ?? '';
  return { asked, declined, told, container, text };
}

it('an instrument that sends by itself is not asked about', () => expect(show({ more: 'none' }).container.innerHTML).toBe(''));

it('shows what would be sent and how often, and sends it after a yes only', async () => {
  const answer = infoOf({ timeMs: 7 });
  const { asked, told, declined, text } = show({ answer });
  expect(text()).toContain(words.ask);
  expect(text()).toContain(words.every('2'));
  expect(document.querySelector('.poll-bytes')?.textContent).toMatch(/^M/);
  expect(asked).toEqual([]);
  press(words.yes);
  expect(asked).toEqual([['run.allowPolling', { runId: 'run-1', allowed: true, command: 'M\r' }]]);
  await Promise.resolve();
  expect([told, declined]).toEqual([[answer], []]);
});
it('tells parts of a second where there are some', () => expect(show({ more: { intervalMs: 2500 } }).text()).toContain(words.every('2.5')));
it('after a no sends nothing, and the question can be opened again', () => {
  const first = show();
  press(words.no);
  expect([first.asked, first.declined]).toEqual([[], [true]]);
  cleanup();
  const again = show({ isDeclined: true });
  expect(document.querySelector('.poll-bytes')).toBeNull();
  press(recipeWords.command);
  expect([again.asked, again.declined]).toEqual([[], [false]]);
});
it('an answer that does not come changes nothing', async () => {
  const { told } = show();
  press(words.yes);
  await Promise.resolve();
  expect(told).toEqual([]);
});
it('a window that may only look allows nothing, and opens nothing', () => {
  show({ mayAct: false });
  expect(button(words.yes).disabled).toBe(true);
  cleanup();
  show({ mayAct: false, isDeclined: true });
  expect(button(recipeWords.command).disabled).toBe(true);
  cleanup();
  show({ mayAct: false, more: { allowed: true } });
  expect(button(words.stop).disabled).toBe(true);
});
it('while it is asked, says how it goes, and stops at a press', () => {
  const { asked, text, container } = show({ more: { allowed: true, sent: 12, answered: 11 } });
  expect(text()).toBe(`${words.going('11', '12')}${words.stop}`);
  expect(container.querySelector('.notice')).toBeNull();
  fireEvent.click(screen.getByText(words.stop));
  expect(asked).toEqual([['run.allowPolling', { runId: 'run-1', allowed: false, command: 'M\r' }]]);
});
it('says what is wrong with the answers, each only where there is some of it', () => {
  const { text, container } = show({
    more: { allowed: true, sent: 12, answered: 9, usualAnswerMs: 140, late: 2, double: 3, timedOut: 4, isBackingOff: true },
  });
  const said = [words.going('9', '12'), words.usual('140'), words.late(2), words.double(3), words.timedOut(4)].join(' · ');
  expect(text()).toContain(said + words.backingOff);
  expect(container.querySelector('.notice')).not.toBeNull();
});
