/** The gate before a reading: a rest must outlast the pauses between the moves that no turn of the burner explains. Levels and times by hand. */
import { describe, expect, it } from 'vitest';
import { createRestless } from '../../../shared/settling/watch/restless.ts';

const BAND = 0.2;
const BLOCK_S = 2;
const QUIET_SD = 0.02;

/** Follows `course` in blocks until `toS`. @returns the gate, at every block asked with the given turns */
function follow(course: (t: number) => number, toS: number, turnedAtS: readonly number[] = [], sd = QUIET_SD) {
  const gate = createRestless();
  const restless: number[] = [];
  for (let t = BLOCK_S; t <= toS; t += BLOCK_S) {
    gate.add(t, course(t), BAND, sd);
    if (gate.isRestless(t, turnedAtS)) restless.push(t);
  }
  return { gate, restless };
}
const stepAt =
  (...atS: number[]) =>
  (t: number): number =>
    5 + 0.5 * atS.filter((at) => t >= at).length;

describe('the gate before a reading', () => {
  it('lets a value that stands still be read', () => {
    expect(follow(() => 5, 300).restless).toEqual([]);
  });

  it('waits 40 s after one move that nothing explains, not longer', () => {
    const { restless } = follow(stepAt(100), 300);
    expect(restless[0]).toBeGreaterThanOrEqual(100);
    expect(restless[0]).toBeLessThan(108);
    expect(restless.at(-1)).toBeGreaterThanOrEqual(136);
    expect(restless.at(-1)).toBeLessThanOrEqual(150);
  });

  it('does not wait after a move that a turn of the burner explains', () => {
    expect(follow(stepAt(100), 300, [95]).restless).toEqual([]);
    expect(follow(stepAt(100), 300, [20]).restless).not.toEqual([]);
  });

  it('does not take the pauses of a staircase for settled, but what comes after it', () => {
    const { restless } = follow(stepAt(60, 105, 150, 195, 240), 500);
    for (let t = 110; t <= 240; t += BLOCK_S) expect(restless, `${t} s`).toContain(t);
    expect(restless.at(-1)).toBeLessThan(240 + 90);
  });

  it('waits 100 s after a third move to and fro, however far apart they are', () => {
    const toAndFro =
      (...atS: number[]) =>
      (t: number): number =>
        5 + 0.5 * (atS.filter((at) => t >= at).length % 2);
    const { restless } = follow(toAndFro(100, 190, 280), 500);
    expect(restless.at(-1)).toBeGreaterThanOrEqual(376);
    expect(restless.at(-1)).toBeLessThanOrEqual(390);
    // two are no swing yet, in one direction they are stairs, and where the burner was turned they are explained
    const after = (course: (t: number) => number, turnedAtS: readonly number[] = []): number =>
      follow(course, 500, turnedAtS).restless.at(-1) ?? 0;
    expect(after(toAndFro(190, 280))).toBeLessThanOrEqual(330);
    expect(after(stepAt(100, 190, 280))).toBeLessThanOrEqual(330);
    expect(after(toAndFro(100, 190, 280), [185])).toBeLessThanOrEqual(330);
  });

  it('does not count flutter and noise as moves', () => {
    const flutter = follow((t) => 5 + 0.15 * Math.sin(0.9 * t), 300);
    expect(flutter.restless).toEqual([]);
    // four standard deviations of a block are wider than the step
    expect(follow(stepAt(100), 300, [], 0.15).restless).toEqual([]);
  });

  it('does not count going out to fresh air and back as moves', () => {
    const gate = createRestless();
    for (let t = 2; t <= 100; t += 2) gate.add(t, 5, BAND, QUIET_SD);
    gate.add(102, 9, BAND, QUIET_SD);
    gate.interrupt(104, true);
    for (let t = 130; t <= 200; t += 2) {
      gate.add(t, t < 150 ? 9 : 5, BAND, QUIET_SD);
      expect(gate.isRestless(t, []), `${t} s`).toBe(false);
    }
  });

  it('names a surge with its period and its two values, and forgets it once it is over', () => {
    const periodS = 60;
    const { gate } = follow((t) => (t < 400 ? 5 + 0.8 * Math.sin((2 * Math.PI * t) / periodS) : 5), 396);
    const surge = gate.surge(396, BAND, [])!;
    expect(surge.periodS).toBeGreaterThan(0.9 * periodS);
    expect(surge.periodS).toBeLessThan(1.1 * periodS);
    expect(Math.abs(surge.low - 4.2)).toBeLessThan(0.1);
    expect(Math.abs(surge.high - 5.8)).toBeLessThan(0.1);
    expect(gate.surge(396 + 2.5 * periodS, BAND, [])).toBeUndefined();
  });
});
