import { describe, expect, it } from 'vitest';
import { rangeOf, stripScale, straysOf } from '../../../renderer/charts/strip-scale.ts';

it('shows what is there with room above and below', () => {
  const scale = stripScale({ low: 2.7, high: 5.2 }, 2);
  expect(scale.low).toBeLessThan(2.7);
  expect(scale.high).toBeGreaterThan(5.2);
  expect(scale.ticks.length).toBeGreaterThanOrEqual(2);
  for (const tick of scale.ticks) expect(tick > scale.low && tick < scale.high).toBe(true);
});
it('keeps noise looking like noise', () => {
  const scale = stripScale({ low: 5.0, high: 5.1 }, 2);
  expect(scale.high - scale.low).toBeGreaterThanOrEqual(2);
});
it('stands still while what is seen fits, and moves when it does not', () => {
  const before = stripScale({ low: 2, high: 6 }, 2);
  expect(stripScale({ low: 2.1, high: 5.9 }, 2, before)).toBe(before);
  expect(stripScale({ low: 2, high: 9 }, 2, before)).not.toBe(before);
  expect(stripScale({ low: 3.9, high: 4.1 }, 2, stripScale({ low: 0, high: 21 }, 2)).high).toBeLessThan(10);
});

describe('what a strip has to show', () => {
  const same = (inner: number): number => inner;
  const span = { fromMs: 0, toMs: 60_000 };
  const columns = { timeMs: [0, 4000, 8000, 12_000], low: [20.9, 20.1, 6.8, 6.9], high: [20.9, 20.9, 7.2, 7.0] };
  const strip = { heading: undefined, readings: [] };

  it('leaves excluded stretches out of the scale: start-up air does not press the gas flat', () => {
    expect(rangeOf(columns, strip, span, [], same)).toEqual({ low: 6.8, high: 20.9 });
    expect(rangeOf(columns, strip, span, [{ fromMs: 0, toMs: 7000 }], same)).toEqual({ low: 6.8, high: 7.2 });
  });
  it('shows what there is while nothing else was measured', () => {
    expect(rangeOf(columns, strip, span, [{ fromMs: 0, toMs: 20_000 }], same)).toEqual({ low: 6.8, high: 20.9 });
  });
  it('has room for where it is heading and for readings in sight', () => {
    const more = {
      heading: { value: 5, band: 0.2 },
      readings: [
        { timeMs: 9000, value: 8 },
        { timeMs: 90_000, value: 15 },
      ],
    };
    expect(rangeOf(columns, more, span, [{ fromMs: 0, toMs: 7000 }], same)).toEqual({ low: 4.8, high: 8 });
  });
  it('has room for the way of a drift and for both ends of a swing', () => {
    const start = [{ fromMs: 0, toMs: 7000 }];
    const drifting = { ...strip, drift: { value: 6.9, toMs: 100_000, toValue: 6 } };
    expect(rangeOf(columns, drifting, span, start, same)).toEqual({ low: 6, high: 7.2 });
    const surging = { ...strip, swing: { fromMs: 0, low: 6.5, high: 9 } };
    expect(rangeOf(columns, surging, span, start, same)).toEqual({ low: 6.5, high: 9 });
  });
});

describe('one bad line', () => {
  const same = (inner: number): number => inner;
  const strip = { heading: undefined, readings: [] };
  /** a column a second; CO about 10 ppm */
  const columnsOf = (change: Record<number, number>): { timeMs: number[]; low: number[]; high: number[] } => {
    const values = Array.from({ length: 40 }, (_, index) => change[index] ?? 10 + (index % 3));
    return { timeMs: values.map((_, index) => index * 1000), low: values, high: values };
  };
  const seen = (change: Record<number, number>): ReturnType<typeof rangeOf> => {
    const columns = columnsOf(change);
    return rangeOf(columns, strip, { fromMs: 0, toMs: 60_000 }, [], same, straysOf(columns, 40));
  };

  it('does not press the strip flat: CO of -40, once or twice, and a spike of one line', () => {
    expect(seen({ 20: -40 })).toEqual({ low: 10, high: 12 });
    expect(seen({ 20: -40, 21: -40 })).toEqual({ low: 10, high: 12 });
    expect(seen({ 20: 900 })).toEqual({ low: 10, high: 12 });
  });
  it('is told all the same', () => {
    expect(straysOf(columnsOf({ 20: -40, 30: 900 }), 40)).toEqual([
      { index: 20, end: 'low' },
      { index: 30, end: 'high' },
    ]);
  });
  it('is none where it lasts, where it came last, and where it is no farther than the strip shows anyway', () => {
    expect(seen({ 20: 300, 21: 700, 22: 800, 23: 600, 24: 300 })?.high).toBe(800);
    expect(seen({ 39: 900 })?.high).toBe(900);
    expect(seen({ 38: 900, 39: 900 })?.high).toBe(900);
    expect(seen({ 20: 45 })?.high).toBe(45);
  });
  it('a change that stays is none', () => {
    const change = Object.fromEntries(Array.from({ length: 20 }, (_, index) => [index + 20, 400]));
    expect(straysOf(columnsOf(change), 40)).toEqual([]);
  });
  it('the foot of a steep rise is none, wherever the view begins', () => {
    const rise = [91, 91, 91, ...Array.from({ length: 30 }, (_, index) => 300 + 4 * index)];
    for (const from of [0, 1, 2]) {
      const values = rise.slice(from);
      expect(straysOf({ low: values, high: values }, 12)).toEqual([]);
    }
  });
});
