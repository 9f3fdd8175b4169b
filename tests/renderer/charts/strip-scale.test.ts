import { describe, expect, it } from 'vitest';
import fc from 'fast-check';
import { createSeries } from '../../../shared/series/series.ts';
import { rangeOf, stripScale, straysOf, stripViewOf } from '../../../renderer/charts/strip-scale.ts';

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
it('stands still while what is seen hardly changes, and moves when it does', () => {
  const scale = stripScale({ low: 2, high: 6 }, 2);
  expect(stripScale({ low: 2.05, high: 5.97 }, 2)).toEqual(scale);
  expect(stripScale({ low: 2, high: 9 }, 2)).not.toEqual(scale);
});
it('ends on round values, which hold what is seen', () => {
  fc.assert(
    fc.property(
      fc.double({ min: -50, max: 4000, noNaN: true }),
      fc.double({ min: 0, max: 4000, noNaN: true }),
      fc.constantFrom(2, 40, 12, 5.4),
      (low, more, leastSpan) => {
        const scale = stripScale({ low, high: low + more }, leastSpan);
        expect(scale.low).toBeLessThanOrEqual(low);
        expect(scale.high).toBeGreaterThanOrEqual(low + more);
        // no more than a third of the strip is empty where the figures need it all
        if (more > leastSpan) expect(scale.high - scale.low).toBeLessThan(more * 1.5);
        for (const end of [scale.low, scale.high]) expect(Number(end.toPrecision(6))).toBeCloseTo(end, 8);
      },
    ),
  );
});

it('a gas is never less than none: its axis begins at zero, with room for the curve, unless something below was measured', () => {
  for (const seen of [
    { low: 0, high: 2 },
    { low: 0, high: 18 },
    { low: 3, high: 30 },
  ]) {
    const scale = stripScale(seen, 40, true);
    expect(scale.low).toBeGreaterThan(-5);
    expect(scale.low).toBeLessThan(0);
    expect(scale.high - scale.low).toBeGreaterThanOrEqual(40);
    expect(scale.high).toBeGreaterThanOrEqual(seen.high);
    expect(scale.ticks[0]).toBe(0);
  }
  expect(stripScale({ low: 4, high: 6 }, 2, true)).toEqual(stripScale({ low: 4, high: 6 }, 2));
  expect(stripScale({ low: -3, high: 18 }, 40, true).low).toBeLessThan(-3);
});

describe('what a strip has to show', () => {
  const same = (inner: number): number => inner;
  const span = { fromMs: 0, toMs: 60_000 };
  const columns = { timeMs: [0, 4000, 8000, 12_000], low: [20.9, 20.1, 6.8, 6.9], high: [20.9, 20.9, 7.2, 7.0] };
  const strip = { channel: 'co' as const, heading: undefined, readings: [] };

  it('leaves excluded stretches out of the scale: start-up air does not press the gas flat', () => {
    expect(rangeOf(columns, strip, span, [], same)).toEqual({ low: 6.8, high: 20.9 });
    expect(rangeOf(columns, strip, span, [{ fromMs: 0, toMs: 5000 }], same)).toEqual({ low: 6.8, high: 7.2 });
  });
  it('shows what there is while nothing else was measured', () => {
    expect(rangeOf(columns, strip, span, [{ fromMs: 0, toMs: 20_000 }], same)).toEqual({ low: 6.8, high: 20.9 });
  });
  it('a gas heads for no less than none, with all of its band above', () => {
    const heading = { value: 8, band: 10 };
    const little = { timeMs: [0, 4000], low: [7, 8], high: [8, 9] };
    expect(rangeOf(little, { ...strip, heading }, span, [], same)).toEqual({ low: 0, high: 18 });
    expect(rangeOf(little, { ...strip, channel: 'airTemperature', heading }, span, [], same)).toEqual({ low: -2, high: 18 });
  });
  it('has room for where it is heading and for readings in sight', () => {
    const more = {
      ...strip,
      heading: { value: 5, band: 0.2 },
      readings: [
        { timeMs: 9000, value: 8 },
        { timeMs: 90_000, value: 15 },
      ],
    };
    expect(rangeOf(columns, more, span, [{ fromMs: 0, toMs: 5000 }], same)).toEqual({ low: 4.8, high: 8 });
  });
  it('has room for the way of a drift and for both ends of a swing', () => {
    const start = [{ fromMs: 0, toMs: 5000 }];
    const drifting = { ...strip, drift: { value: 6.9, toMs: 100_000, toValue: 6 } };
    expect(rangeOf(columns, drifting, span, start, same)).toEqual({ low: 6, high: 7.2 });
    const surging = { ...strip, swing: { fromMs: 0, low: 6.5, high: 9 } };
    expect(rangeOf(columns, surging, span, start, same)).toEqual({ low: 6.5, high: 9 });
  });
});

describe('one bad line', () => {
  const same = (inner: number): number => inner;
  const strip = { channel: 'co' as const, heading: undefined, readings: [] };
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

describe('fresh air in the middle of a run', () => {
  const MINUTE = 60_000;
  const KNOWN_AFTER_MS = 5000;
  const strip = { channel: 'o2' as const, weight: 1, leastSpan: 2, settled: [], readings: [], forecast: [], heading: undefined };
  const air = { fromMs: 10 * MINUTE, toMs: 12 * MINUTE };
  /** a line a second, now 5 % and now 5.1 %; in fresh air 20.9 %, reached and left within `risesMs` */
  const o2At = (timeMs: number, risesMs: number): number => {
    const gas = timeMs % 2000 === 0 ? 5 : 5.1;
    const into = Math.min(1, Math.max(0, (timeMs - air.fromMs) / risesMs));
    const back = Math.min(1, Math.max(0, (timeMs - air.toMs) / risesMs));
    return gas + (20.9 - gas) * (into - back);
  };
  const viewAt = (nowMs: number, risesMs: number): ReturnType<typeof stripViewOf> => {
    const series = createSeries();
    for (let timeMs = 0; timeMs <= nowMs; timeMs += 1000) series.append(timeMs, o2At(timeMs, risesMs));
    const knownMs = air.fromMs + risesMs + KNOWN_AFTER_MS;
    const excluded = nowMs < knownMs ? [] : [{ fromMs: knownMs, toMs: nowMs < air.toMs ? Infinity : air.toMs }];
    const span = { fromMs: nowMs - 12 * MINUTE, toMs: nowMs + 4 * MINUTE };
    return stripViewOf(series.query(span.fromMs, nowMs, 260), strip, span, excluded, { factor: 1, offset: 0 });
  };
  const alone = stripScale({ low: 5, high: 5.1 }, 2);

  it.each([1000, 30_000])('leaves the axis as it is with the gas alone, whenever it is drawn, rising within %i ms', (risesMs) => {
    for (let nowMs = air.fromMs + risesMs + KNOWN_AFTER_MS; nowMs < air.toMs + 5 * MINUTE; nowMs += 1000)
      expect([nowMs, viewAt(nowMs, risesMs).scale]).toEqual([nowMs, alone]);
  });
});
