import { describe, expect, it } from 'vitest';
import { flameChangeAfter } from '../../../../shared/tuning/trial/inferred-time.ts';
import type { Sample } from '../../../../shared/measurement/sample.ts';

/** one line a second; the flame changes at `changeS`, seen through a cell of 6 s */
const stream = (before: number, after: number, changeS: number, noise = 0.1): Sample[] =>
  Array.from({ length: 120 }, (_, second) => {
    const change = second < changeS ? 0 : 1 - Math.exp(-(second - changeS) / 6);
    return { timeMs: second * 1000, values: { o2: before + (after - before) * change + noise * (second % 2 === 0 ? 1 : -1) } };
  });

describe('a time inferred from O2', () => {
  it('is when O2 begins to leave a flame, within a line or two', () => {
    const change = flameChangeAfter(stream(4.5, 20.9, 52), 40_000);
    expect(change?.kind).toBe('out');
    // 12 s after the watch; the first line after the change shows it
    expect(Math.abs(change!.seconds - 12)).toBeLessThanOrEqual(1.5);
    expect(change!.doubtS).toBeCloseTo(0.5, 6);
  });
  it('is when a flame lights, when the air was fresh before', () => {
    const change = flameChangeAfter(stream(20.9, 5, 45), 40_000);
    expect(change?.kind).toBe('lit');
    expect(Math.abs(change!.seconds - 5)).toBeLessThanOrEqual(1.5);
  });
  it('is none while the flame burns on, without lines before the watch, or from a step of the shutter', () => {
    expect(flameChangeAfter(stream(4.5, 4.5, 52), 40_000)).toBeUndefined();
    expect(flameChangeAfter(stream(4.5, 6.5, 52), 40_000)).toBeUndefined();
    expect(flameChangeAfter(stream(4.5, 20.9, 52), 0)).toBeUndefined();
    expect(flameChangeAfter([], 40_000)).toBeUndefined();
  });
});
