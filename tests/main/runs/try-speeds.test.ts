/** Listening at the usual speeds: one after the other, until a speed gives text; said once, and the speed of before where none does. */
import { describe, expect, it } from 'vitest';
import { createSpeedTrial } from '../../../main/runs/live/try-speeds.ts';
import { usualBauds } from '../../../shared/lines/wrong-baud.ts';
import type { StampedLine } from '../../../shared/measurement/line.ts';
import { createFakeClock } from '../../helpers/host/fake-clock.ts';

const LISTEN_MS = 3000;
function listen(baudNow = 9600) {
  const clock = createFakeClock();
  const [set, done]: [number[], (number | undefined)[]] = [[], []];
  let changes = 0;
  const trial = createSpeedTrial({
    clock,
    baudNow,
    setBaud: (baud) => void set.push(baud),
    onChange: () => (changes += 1),
    onDone: (baud) => void done.push(baud),
  });
  const hear = (count: number, bytes: string, more: Partial<StampedLine> = {}): void => {
    for (let at = 0; at < count; at += 1) trial.line({ timeMs: 0, number: at, bytes, ...more } as StampedLine);
  };
  return { clock, set, done, trial, hear, changes: () => changes };
}
const others = usualBauds.filter((baud) => baud !== 9600);
const noise = '\u0080\u00ff\u0081\u00fe3';

describe('listening for the speed', () => {
  it('begins at the first that is not the one of now, and says how far it is', () => {
    const { set, trial, changes } = listen();
    expect(set).toEqual([others[0]]);
    expect(trial.state).toEqual({ baud: others[0], tried: 1, of: others.length });
    expect(changes()).toBe(1);
  });
  it('three lines of text after the first, which may be cut, are enough when the time is over', async () => {
    const { clock, set, done, hear } = listen();
    hear(1, noise);
    hear(3, '5.1,20');
    await clock.advance(LISTEN_MS - 1);
    expect(done).toEqual([]);
    await clock.advance(1);
    expect(done).toEqual([others[0]]);
    // the speed that was found stays
    expect(set).toEqual([others[0]]);
  });
  it('two lines, lines without a digit, or noise lead to the next speed', async () => {
    for (const [count, text] of [
      [3, '5.1,20'],
      [5, 'ready'],
      [5, noise],
    ] as const) {
      const { clock, set, hear, done } = listen();
      hear(count, text);
      await clock.advance(LISTEN_MS);
      expect(set).toEqual(others.slice(0, 2));
      expect(done).toEqual([]);
    }
  });
  it('twelve lines, or one without an end, are judged without waiting', () => {
    const text = listen();
    text.hear(13, '5.1,20');
    expect(text.done).toEqual([others[0]]);
    const cut = listen();
    cut.hear(1, noise);
    cut.hear(1, noise, { cutBytes: 400 });
    expect(cut.set).toEqual(others.slice(0, 2));
  });
  it('what one speed gave does not count at the next', async () => {
    const { clock, set, done, hear } = listen();
    hear(3, '5.1,20');
    await clock.advance(LISTEN_MS);
    hear(3, '5.1,20');
    await clock.advance(LISTEN_MS);
    expect(done).toEqual([]);
    expect(set).toHaveLength(3);
  });
  it('is over with the first answer: nothing that comes later is judged again', async () => {
    const { clock, done, hear } = listen();
    hear(40, '5.1,20');
    await clock.advance(60_000);
    expect(done).toEqual([others[0]]);
  });
  it('goes back to the speed of before where none gives text, and says so once', async () => {
    const { clock, set, done, trial, hear } = listen();
    await clock.advance(LISTEN_MS * (others.length + 2));
    expect(set).toEqual([...others, 9600]);
    expect(done).toEqual([undefined]);
    expect(trial.state).toEqual({ baud: 9600, tried: others.length, of: others.length });
    hear(40, '5.1,20');
    expect(done).toEqual([undefined]);
  });
  it('that is stopped says nothing any more', async () => {
    const { clock, set, done, trial, hear } = listen();
    trial.stop();
    hear(40, '5.1,20');
    await clock.advance(60_000);
    expect(done).toEqual([]);
    expect(set).toHaveLength(1);
  });
});
