import { describe, expect, it } from 'vitest';
import type { DoneStep } from '../../../shared/bench/bench-test.ts';
import { wholeStep } from '../../../shared/bench/results/whole-step.ts';

const step = (parts: Partial<DoneStep>): DoneStep => ({ stepId: 'zero', end: 'reached', atMs: 60_000, ...parts });

describe('a step with a figure that is none', () => {
  it('loses the point of the curve that has it, and no other', () => {
    const curve = {
      o2: [[0, 20.9] as [number, number], [1, NaN] as [number, number], [NaN, 4] as [number, number], [3, 2.5] as [number, number]],
    };
    expect(wholeStep(step({ curve }))).toEqual(
      step({
        curve: {
          o2: [
            [0, 20.9],
            [3, 2.5],
          ],
        },
      }),
    );
  });
  it('loses the whole row of noise that has it: a deviation without its averaging time says nothing', () => {
    const rows = [
      { averagingS: 1, deviation: 0.02, pairs: 60 },
      { averagingS: 2, deviation: Infinity, pairs: 30 },
      { averagingS: 4, deviation: 0.01, pairs: 15 },
    ];
    expect(wholeStep(step({ noise: { o2: rows } }))).toEqual(step({ noise: { o2: [rows[0]!, rows[2]!] } }));
  });
  it('loses the row of the warm-up that has no minute', () => {
    const warmUp = [
      { afterMin: NaN, values: { o2: 1 } },
      { afterMin: 5, values: { o2: 2 } },
    ];
    expect(wholeStep(step({ warmUp }))).toEqual(step({ warmUp: [warmUp[1]!] }));
  });
  it('keeps its words, lists of words and readings of other channels', () => {
    const whole = step({ why: 'bottle empty', absent: ['co'], readings: { co: [100, 101] } });
    expect(wholeStep({ ...whole, readings: { o2: [2, NaN], co: [100, 101] } })).toEqual(whole);
  });
  it('keeps at least which step it was and how it ended', () => {
    expect(wholeStep(step({ atMs: NaN, why: 'x' }))).toEqual({ stepId: 'zero', end: 'reached', atMs: 0 });
    // more points than a record takes
    const curve = { o2: Array.from({ length: 201 }, (_, s) => [s, 1] as [number, number]) };
    expect(wholeStep(step({ curve }))).toEqual(step({}));
  });
  it('is the same step where every figure is one', () => {
    const whole = step({ readings: { o2: [1, 2] } });
    expect(wholeStep(whole)).toBe(whole);
  });
});
