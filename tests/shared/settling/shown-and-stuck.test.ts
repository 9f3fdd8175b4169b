import { describe, expect, it } from 'vitest';
import { createLastSecond } from '../../../shared/settling/watch/last-second.ts';
import { createStuck } from '../../../shared/settling/watch/stuck.ts';

describe('the value that is shown: the mean of the last second', () => {
  const meanOf = (...lines: readonly (readonly [ms: number, value: number])[]): number | undefined => {
    const last = createLastSecond();
    for (const [ms, value] of lines) last.add(ms, value);
    return last.mean();
  };
  it.each([
    ['one line', [[0, 5]], 5],
    [
      'lines a second apart: the newest',
      [
        [0, 5],
        [1000, 7],
      ],
      7,
    ],
    [
      'unevenly, 900 ms apart: the newest',
      [
        [0, 5],
        [900, 7],
      ],
      7,
    ],
    [
      '899 ms apart: both',
      [
        [0, 5],
        [899, 7],
      ],
      6,
    ],
    [
      'four in a second',
      [
        [0, 100],
        [250, 1],
        [500, 2],
        [750, 3],
        [1000, 6],
      ],
      3,
    ],
    [
      'far apart',
      [
        [0, 5],
        [60_000, 7],
      ],
      7,
    ],
  ] as [string, [number, number][], number][])('%s', (_, lines, mean) => expect(meanOf(...lines)).toBe(mean));
  it('is none before the first line, and after a new start', () => {
    expect(meanOf()).toBeUndefined();
    const last = createLastSecond();
    last.add(0, 5);
    last.reset();
    expect(last.mean()).toBeUndefined();
    last.add(100, 9);
    expect(last.mean()).toBe(9);
  });
  it('is that of the newest 64 where more come in a second', () => {
    // 1 ... 100, one each ms: the mean of 37 ... 100
    expect(meanOf(...Array.from({ length: 100 }, (_, at): [number, number] => [at, at + 1]))).toBe(68.5);
  });
});

describe('a channel that is stuck on one value', () => {
  /** a line a second: `moving` lines of noise, then `still` lines of the last value */
  function stuckAfter({
    moving = 120,
    still,
    noise = (at: number) => (at % 2 === 0 ? 5 : 5.5),
    quantum = 0.1,
    last = 5,
    everyMs = 1000,
  }: {
    moving?: number;
    still: number;
    noise?: (at: number) => number;
    quantum?: number;
    last?: number;
    everyMs?: number;
  }): boolean {
    const stuck = createStuck();
    let ms = 0;
    for (let at = 0; at < moving; at++) stuck.add((ms += everyMs), noise(at), quantum);
    for (let at = 0; at <= still; at++) stuck.add((ms += everyMs), last, quantum);
    return stuck.is();
  }
  it('is said from a minute on', () => {
    expect(stuckAfter({ still: 60 })).toBe(true);
    expect(stuckAfter({ still: 59 })).toBe(false);
  });
  it.each([
    ['by half a step of the printout as noise', { noise: (at: number) => (at % 2 === 0 ? 5 : 5.1) }, false],
    ['by two steps', { noise: (at: number) => (at % 2 === 0 ? 5 : 5.2) }, true],
    ['by a trend, which never turns', { noise: (at: number) => at, last: 120 }, false],
    ['of CO that is nothing at all', { last: 0 }, false],
    ['of a channel that was seen for half a minute', { moving: 30 }, false],
    ['of one that turns in every fifth line only', { noise: (at: number) => 5 + (Math.floor(at / 5) % 2) }, false],
    ['of one that turns in every third line', { noise: (at: number) => 5 + (Math.floor(at / 3) % 2) }, true],
  ])('after three minutes, %s', (_, parts, is) => expect(stuckAfter({ still: 180, ...parts })).toBe(is));
  it('is not said of a chance: 20 still lines in a minute of a line every three seconds', () =>
    expect(stuckAfter({ still: 21, everyMs: 3000, noise: (at) => 5 + (Math.floor(at / 3) % 2) })).toBe(false));
  it('ends with the next other value, and with a new start', () => {
    const stuck = createStuck();
    for (let s = 0; s < 120; s++) stuck.add(s * 1000, s % 2 === 0 ? 5 : 5.5, 0.1);
    for (let s = 120; s < 200; s++) stuck.add(s * 1000, 5.5, 0.1);
    expect(stuck.is()).toBe(true);
    stuck.add(200_000, 5.6, 0.1);
    expect(stuck.is()).toBe(false);
    for (let s = 201; s < 262; s++) stuck.add(s * 1000, 5.6, 0.1);
    expect(stuck.is()).toBe(true);
    stuck.reset();
    stuck.add(262_000, 5.6, 0.1);
    expect(stuck.is()).toBe(false);
  });
});
