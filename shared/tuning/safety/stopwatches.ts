/** The stopwatches of the safety run-through: one per test, timed by the host, so that every window shows the same. Pure. */
import { z } from 'zod';
import { safetyTestIds, type SafetyTestId } from './safety-plan.ts';
import { defined } from '../../defined.ts';

export const watchActs = ['press', 'lap', 'reset'] as const;
export type WatchAct = (typeof watchActs)[number];

export type Stopwatch = {
  /** of a clock that nobody can set, ms */
  startedMs: number;
  /** the same moment of the wall clock, ms: the clock above stands still while some computers sleep */
  startedWallMs: number;
  /** the run that was measured then and its time, for what the gas says about it */
  run: { runId: string; timeMs: number } | undefined;
  /** from the start to each lap, s */
  laps: readonly number[];
  /** from the start to the stop, s; undefined while it runs */
  seconds: number | undefined;
};
export type Stopwatches = Readonly<Partial<Record<SafetyTestId, Stopwatch>>>;

/** More laps than a control has tries. */
const MOST_LAPS = 20;

export type WatchPress = { test: SafetyTestId; act: WatchAct; atMs: number; wallMs: number; run?: Stopwatch['run'] };

/** A press starts a watch, the next one stops it; one that is stopped stays until it is reset. */
export function pressWatch(watches: Stopwatches, { test, act, atMs, wallMs, run }: WatchPress): Stopwatches {
  const watch = watches[test];
  if (act === 'reset') {
    const { [test]: _gone, ...others } = watches;
    return others;
  }
  if (watch === undefined)
    return act === 'lap' ? watches : { ...watches, [test]: { startedMs: atMs, startedWallMs: wallMs, run, laps: [], seconds: undefined } };
  if (watch.seconds !== undefined) return watches;
  const seconds = Math.max(0, atMs - watch.startedMs) / 1000;
  if (act === 'press') return { ...watches, [test]: { ...watch, seconds } };
  return watch.laps.length >= MOST_LAPS ? watches : { ...watches, [test]: { ...watch, laps: [...watch.laps, seconds] } };
}

/** What two looks at two clocks, and a wall clock that is corrected bit by bit, may differ by. Own choice. */
const CLOCKS_AGREE_MS = 1000;

/** The computer slept, or its clock was set, while this watch ran: what it shows is not the time that passed. */
export const isTimeLost = (watch: Stopwatch | undefined, { atMs, wallMs }: Pick<WatchPress, 'atMs' | 'wallMs'>): boolean =>
  watch !== undefined && watch.seconds === undefined && Math.abs(wallMs - watch.startedWallMs - (atMs - watch.startedMs)) > CLOCKS_AGREE_MS;

/** A watch as it travels: how long it has run when this was said, because two machines' clocks need not agree. */
export const WatchNow = z.object({
  test: z.enum(safetyTestIds),
  elapsedS: z.number().nonnegative(),
  running: z.boolean(),
  laps: z.array(z.number().nonnegative()),
  run: z.object({ runId: z.string(), timeMs: z.number() }).optional(),
});
export type WatchNow = z.infer<typeof WatchNow>;

export const watchesNow = (watches: Stopwatches, nowMs: number): WatchNow[] =>
  safetyTestIds.flatMap((test) => {
    const watch = watches[test];
    if (watch === undefined) return [];
    return [
      {
        test,
        elapsedS: watch.seconds ?? Math.max(0, nowMs - watch.startedMs) / 1000,
        running: watch.seconds === undefined,
        laps: [...watch.laps],
        ...defined({ run: watch.run }),
      },
    ];
  });
