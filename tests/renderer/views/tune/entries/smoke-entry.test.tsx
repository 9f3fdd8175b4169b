// @vitest-environment happy-dom
/** Smoke spots on the live view: what is typed is marked, what cannot be read is said and waits, and a practice burner can be looked at. */
import { cleanup, fireEvent, screen } from '@testing-library/react';
import { afterEach, describe, expect, it } from 'vitest';
import { SmokeEntry } from '../../../../../renderer/views/tune/entries/SmokeEntry.tsx';
import { live } from '../../../../../shared/words/tune/live.ts';
import type { RunInfo } from '../../../../../shared/ipc/run-info.ts';
import { button, field, inWindow, press, settled, typeInto } from '../../../helpers/in-window.tsx';
import { recordWith } from '../../../helpers/records.ts';

const words = live.smokeDialog;

afterEach(cleanup);

const simulated: Partial<RunInfo> = { source: { kind: 'simulated', scenario: 's' } as unknown as RunInfo['source'] };
function show(info: Partial<RunInfo> = {}, answers: Record<string, unknown> = {}) {
  const record = recordWith({}, info);
  let closed = 0;
  const made = inWindow(<SmokeEntry record={record} close={() => (closed += 1)} />, { runs: { 'run-1': record }, runId: 'run-1' }, answers);
  return { ...made, closed: () => closed };
}
const save = async (): Promise<void> => {
  fireEvent.submit(document.querySelector('form')!);
  await settled();
};
const errors = (): string[] => [...document.querySelectorAll('.field-error')].map((one) => one.textContent ?? '');

describe('spots', () => {
  it('are marked as they are typed; an empty field is a spot that was not pumped', async () => {
    const { marks, closed } = show();
    typeInto(words.spot(1), '1½');
    typeInto(words.spot(3), '2');
    fireEvent.click(screen.getAllByLabelText(words.wet)[2]!);
    await save();
    expect(marks).toEqual([{ kind: 'smoke', spots: [{ number: 1.5 }, { number: 2, flaw: 'wet' }] }]);
    expect(closed()).toBe(1);
  });
  it('with oil say it of every one', async () => {
    const { marks } = show();
    typeInto(words.spot(1), '0');
    typeInto(words.spot(2), '1');
    fireEvent.click(screen.getByLabelText(words.oil));
    await save();
    expect(marks).toEqual([
      {
        kind: 'smoke',
        spots: [
          { number: 0, oilTrace: true },
          { number: 1, oilTrace: true },
        ],
      },
    ]);
  });
  it('that cannot be read are said once it is tried to save them, and nothing is marked', async () => {
    const { marks, closed } = show();
    typeInto(words.spot(1), '1');
    typeInto(words.spot(2), '12');
    expect(errors()).toEqual([]);
    await save();
    expect(errors()).toHaveLength(1);
    expect(marks).toEqual([]);
    expect(closed()).toBe(0);
    typeInto(words.spot(2), '2');
    expect(errors()).toEqual([]);
  });
  it('none at all are asked for', async () => {
    const { marks } = show();
    await save();
    expect(errors()).toEqual([words.unclear]);
    expect(marks).toEqual([]);
  });
  it('not taken is marked as such', async () => {
    const { marks, closed } = show();
    press(words.notTaken);
    await settled();
    expect(marks).toEqual([{ kind: 'smoke', spots: [], notTaken: true }]);
    expect(closed()).toBe(1);
  });
  it('a mark that is refused leaves what was typed', async () => {
    const { onMark, closed } = show();
    onMark.current = () => undefined;
    typeInto(words.spot(1), '1');
    await save();
    expect(closed()).toBe(0);
    expect(field(words.spot(1)).value).toBe('1');
  });
});

describe('a simulated burner', () => {
  it('shows its paper: the spots that it has, and its oil', async () => {
    const { asked } = show(simulated, {
      'simulator.look': {
        smoke: [
          { number: 1, oilTrace: false },
          { number: 1.5, oilTrace: true },
        ],
      },
    });
    press(words.simulated);
    await settled();
    expect(asked).toEqual([{ name: 'simulator.look', input: { runId: 'run-1' } }]);
    expect([1, 2, 3].map((at) => field(words.spot(at)).value)).toEqual(['1', '1½', '']);
    expect(screen.getByLabelText<HTMLInputElement>(words.oil).checked).toBe(true);
  });
  it('is not offered for a real one', () => {
    show();
    expect(() => button(words.simulated)).toThrow();
  });
});
