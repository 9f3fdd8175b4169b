import { describe, expect, it } from 'vitest';
import fc from 'fast-check';
import { createSeries, type Columns } from '../../../shared/series/series.ts';

const small = { samplesKept: 64, rowsKept: 32 };
const extremes = (columns: Columns): [number, number] => [Math.min(...columns.low), Math.max(...columns.high)];

describe('series', () => {
  it('gives each sample back while there are fewer than slots', () => {
    const series = createSeries();
    [1, 2, 3].forEach((value, i) => series.append(i * 1000, value));
    expect(series.query(0, 10_000, 1000)).toEqual({ timeMs: [0, 1000, 2000], low: [1, 2, 3], high: [1, 2, 3], breaks: [] });
  });

  it('keeps a spike of one sample at any look back, however long the run', () => {
    const series = createSeries();
    for (let i = 0; i < 864_000; i++) series.append(i * 100, i === 123_456 ? 99 : 5);
    const day = series.query(0, 86_400_000, 1000);
    expect(extremes(day)).toEqual([5, 99]);
    const at = day.high.indexOf(99);
    expect(Math.abs((day.timeMs[at] as number) - 12_345_600)).toBeLessThan(86_400);
    expect(day.timeMs.length).toBeLessThan(1100);
    expect(day.timeMs.length).toBeGreaterThan(200);
  });

  // law: the extremes of the whole range are those of the plain list, as long as nothing has been forgotten
  it('has the extremes of the plain list for any values, any slots', () => {
    fc.assert(
      fc.property(
        fc.array(fc.float({ noNaN: true, noDefaultInfinity: true }), { minLength: 1, maxLength: 600 }),
        fc.integer({ min: 1, max: 300 }),
        (values, buckets) => {
          const series = createSeries(small);
          values.forEach((value, i) => series.append(i * 100, value));
          expect(extremes(series.query(0, values.length * 100, buckets))).toEqual([Math.min(...values), Math.max(...values)]);
        },
      ),
    );
  });

  it('gives at most two rows more than slots, times in order, low never above high', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 1, max: 5000 }), fc.integer({ min: -50, max: 50 }), fc.boolean()), {
          minLength: 1,
          maxLength: 800,
        }),
        fc.integer({ min: 1, max: 100 }),
        (points, buckets) => {
          const series = createSeries(small);
          let time = 0;
          for (const [step, value, gap] of points) {
            time += step;
            if (gap) series.gap();
            series.append(time, value);
          }
          const columns = series.query(0, time, buckets);
          expect(columns.timeMs.length).toBeLessThanOrEqual(2 * (buckets + 2));
          columns.timeMs.forEach((t, i) => {
            expect(columns.low[i]).toBeLessThanOrEqual(columns.high[i] as number);
            if (i > 0) expect(t).toBeGreaterThan(columns.timeMs[i - 1] as number);
          });
        },
      ),
    );
  });

  it('never joins points across missing time, and puts none into it', () => {
    const series = createSeries(small);
    for (let i = 0; i < 1000; i++) series.append(i * 100, i % 7);
    series.gap();
    series.gap(); // a second word about the same gap changes nothing
    for (let i = 0; i < 1000; i++) series.append(700_000 + i * 100, i % 7);
    for (const buckets of [20, 100, 1000]) {
      const { timeMs, breaks } = series.query(0, 800_000, buckets);
      expect(breaks).toHaveLength(1);
      expect(timeMs[breaks[0] as number]).toBeGreaterThanOrEqual(700_000);
      expect(timeMs.filter((t) => t > 99_900 && t < 700_000)).toEqual([]);
    }
  });

  it('still thins when every other sample is missing', () => {
    const series = createSeries(small);
    for (let i = 0; i < 20_000; i++) {
      series.append(i * 200, i === 30 ? 9 : 1);
      series.gap();
    }
    const columns = series.query(0, 4_000_000, 100);
    expect(extremes(columns)).toEqual([1, 9]); // the early spike is still known
    expect(columns.timeMs.length).toBeLessThanOrEqual(202);
  });

  it('takes one neighbour on each side of the range, so that lines run out of the picture', () => {
    const series = createSeries();
    for (let i = 0; i < 100; i++) series.append(i * 1000, i);
    expect(series.query(10_500, 12_500, 1000).timeMs).toEqual([10_000, 11_000, 12_000, 13_000]);
  });

  it('is empty before the first sample and refuses what is not a number', () => {
    const series = createSeries();
    expect(series.query(0, 1, 10).timeMs).toEqual([]);
    expect(() => series.append(0, Number.NaN)).toThrow(RangeError);
    expect(series.lastValue).toBeUndefined();
  });
});
