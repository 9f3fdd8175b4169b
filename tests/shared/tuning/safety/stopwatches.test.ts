/** The stopwatches of the safety run-through: which press does what, and what a window is told. Times by hand. */
import { describe, expect, it } from 'vitest';
import {
  isTimeLost,
  pressWatch,
  WatchNow,
  watchesNow,
  type Stopwatches,
  type WatchAct,
} from '../../../../shared/tuning/safety/stopwatches.ts';

const run = { runId: 'r', timeMs: 60_000 };
const after = (...presses: readonly [WatchAct, atMs: number][]): Stopwatches =>
  presses.reduce<Stopwatches>((watches, [act, atMs]) => pressWatch(watches, { test: 'flame-failure', act, atMs, wallMs: atMs, run }), {});
const seen = (watches: Stopwatches, nowMs: number) => watchesNow(watches, nowMs)[0];

describe('a stopwatch', () => {
  it('starts with a press, runs, and stops with the next one', () => {
    expect(watchesNow({}, 5000)).toEqual([]);
    const started = after(['press', 1000]);
    expect(seen(started, 4500)).toEqual({ test: 'flame-failure', elapsedS: 3.5, running: true, laps: [], run });
    expect(seen(after(['press', 1000], ['press', 16_200]), 99_000)).toEqual({
      test: 'flame-failure',
      elapsedS: 15.2,
      running: false,
      laps: [],
      run,
    });
  });
  it('one that is stopped stays as it is until it is reset, whatever is pressed', () => {
    const stopped = after(['press', 1000], ['press', 16_000]);
    for (const act of ['press', 'lap'] as const)
      expect(pressWatch(stopped, { test: 'flame-failure', act, atMs: 30_000, wallMs: 30_000 })).toEqual(stopped);
    expect(after(['press', 1000], ['press', 16_000], ['reset', 20_000])).toEqual({});
    expect(seen(after(['press', 1000], ['press', 16_000], ['reset', 20_000], ['press', 21_000]), 22_000)).toMatchObject({
      elapsedS: 1,
      running: true,
    });
  });
  it('a lap is timed from the start and stops nothing; without a start there is none', () => {
    expect(after(['lap', 1000])).toEqual({});
    expect(seen(after(['press', 1000], ['lap', 3000], ['lap', 8500]), 9000)).toMatchObject({ laps: [2, 7.5], running: true, elapsedS: 8 });
  });
  it('takes twenty laps and no more', () => {
    const laps = Array.from({ length: 25 }, (_, at): [WatchAct, number] => ['lap', 2000 + at]);
    expect(seen(after(['press', 1000], ...laps), 9000)?.laps).toHaveLength(20);
  });
  it('never shows less than nothing, should a press come late', () => {
    expect(seen(after(['press', 5000]), 4000)?.elapsedS).toBe(0);
    expect(seen(after(['press', 5000], ['press', 4000]), 9000)?.elapsedS).toBe(0);
  });
  it('of one test leaves the others alone, and travels in their order', () => {
    const first = pressWatch({}, { test: 'flame-failure', act: 'press', atMs: 0, wallMs: 0 });
    const both = pressWatch(first, { test: 'lockout-no-ignition', act: 'press', atMs: 1000, wallMs: 1000 });
    const told = watchesNow(both, 3000);
    expect(new Set(told.map(({ test, elapsedS }) => `${test} ${elapsedS}`))).toEqual(new Set(['flame-failure 3', 'lockout-no-ignition 2']));
    expect(told.every((one) => WatchNow.safeParse(one).success && one.run === undefined)).toBe(true);
    const left = pressWatch(both, { test: 'flame-failure', act: 'reset', atMs: 4000, wallMs: 4000 });
    expect(Object.keys(left)).toEqual(['lockout-no-ignition']);
  });
  it('knows when the computer slept or its clock was set while it ran; one that was stopped before has its time', () => {
    const watch = after(['press', 1000])['flame-failure'];
    const at = (atMs: number, aheadMs: number) => isTimeLost(watch, { atMs, wallMs: atMs + aheadMs });
    expect([at(21_000, 0), at(21_000, 900), at(21_000, -900)]).toEqual([false, false, false]);
    expect([at(21_000, 30_000), at(21_000, -3_600_000)]).toEqual([true, true]);
    expect(isTimeLost(undefined, { atMs: 0, wallMs: 9e9 })).toBe(false);
    expect(isTimeLost(after(['press', 1000], ['press', 16_000])['flame-failure'], { atMs: 20_000, wallMs: 9e9 })).toBe(false);
  });
});
