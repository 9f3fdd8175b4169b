import { describe, expect, it } from 'vitest';
import fc from 'fast-check';
import { createFileTimes } from '../../../shared/pipeline/file-times.ts';

const timesOf = (stamps: (number | undefined)[], stepMs = 1000): number[] => {
  const times = createFileTimes<number>(stepMs);
  const timed = [...stamps.flatMap((stamp, i) => times.push(i, stamp)), ...times.end()];
  expect(timed.map(({ item }) => item)).toEqual(stamps.map((_, i) => i));
  return timed.map(({ timeMs }) => timeMs);
};

describe('times of stored lines', () => {
  it('uses the rate when there is no clock', () => {
    expect(timesOf([undefined, undefined, undefined], 500)).toEqual([0, 500, 1000]);
  });

  it('counts from the first stamp, whatever it was', () => {
    expect(timesOf([52_000, 53_000, 55_000])).toEqual([0, 1000, 3000]);
  });

  it('spreads lines with the same stamp evenly', () => {
    expect(timesOf([0, 0, 0, 0, 1000, 1000, 1000, 1000, 2000])).toEqual([0, 250, 500, 750, 1000, 1250, 1500, 1750, 2000]);
  });

  it('spreads the last stamp as the lines before it', () => {
    expect(timesOf([0, 0, 1000, 1000, 2000, 2000])).toEqual([0, 500, 1000, 1500, 2000, 2500]);
  });

  it('keeps a gap a gap, also after repeated stamps', () => {
    expect(timesOf([0, 0, 1000, 1000, 61_000, 61_000])).toEqual([0, 500, 1000, 1500, 61_000, 61_500]);
    expect(timesOf([0, 1000, 61_000])).toEqual([0, 1000, 61_000]);
  });

  it('goes on when the clock was set back in mid-file', () => {
    expect(timesOf([9000, 10_000, 11_000, 0, 1000])).toEqual([0, 1000, 2000, 3000, 4000]);
  });

  it('gives headers the time of the line after them', () => {
    const times = createFileTimes<string>(1000);
    expect([...times.push('header', undefined, false), ...times.push('first', undefined), ...times.push('second', undefined)]).toEqual([
      { item: 'header', timeMs: 0 },
      { item: 'first', timeMs: 0 },
      { item: 'second', timeMs: 1000 },
    ]);
  });

  it('never goes back and loses no line, whatever the stamps', () => {
    fc.assert(
      fc.property(fc.array(fc.option(fc.integer({ min: 0, max: 5000 }), { nil: undefined }), { maxLength: 200 }), (stamps) => {
        const times = timesOf(stamps);
        times.forEach((time, i) => expect(time).toBeGreaterThanOrEqual(times[i - 1] ?? 0));
      }),
    );
  });
});
