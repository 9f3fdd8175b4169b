/**
 * *Call it*: the verdicts are hidden, the trainee says when the reading may be taken and which pattern is seen. Afterwards: how early or late that
 * was, and what it would have cost.
 */
import { group } from 'd3-array';
import { z } from 'zod';
import { WallMs } from '../wall-clock.ts';
import type { ChannelId } from '../measurement/channel.ts';
import type { Sample } from '../measurement/sample.ts';
import type { Reading } from '../measurement/state.ts';
import { defined } from '../defined.ts';

export const exercisePatterns = [
  'normal',
  'dilution',
  'creeping-co',
  'flutter',
  'falling-draft',
  'high-stack',
  'slow-cell',
  'purge',
] as const;
export const ExercisePattern = z.enum(exercisePatterns);
export type ExercisePattern = z.infer<typeof ExercisePattern>;

export const Exercise = z.strictObject({
  name: z.string().min(1).max(120),
  about: z.string().max(600).optional(),
  /** a scenario of the simulated burner with its seed, or a stored run */
  source: z.discriminatedUnion('kind', [
    z.strictObject({ kind: z.literal('simulated'), scenario: z.string().max(100), seed: z.number().int() }),
    z.strictObject({ kind: z.literal('replay'), runId: z.string().max(100) }),
  ]),
  fromMs: z.number().min(0).default(0),
  pattern: ExercisePattern.optional(),
  speed: z.number().min(1).max(60).default(1),
});
export type Exercise = z.infer<typeof Exercise>;

/** A set that an instructor hands out as a file. */
export const ExerciseSet = z.strictObject({
  format: z.literal('flueside-exercises'),
  version: z.literal(1),
  name: z.string().min(1).max(120),
  exercises: z.array(Exercise).min(1).max(60),
});
export type ExerciseSet = z.infer<typeof ExerciseSet>;

/** A channel that was watched, thinned: seconds of the run, the values at them. */
const Watched = z.strictObject({ seconds: z.array(z.number()).max(400), values: z.array(z.number()).max(400) });
export type Watched = z.infer<typeof Watched>;

/** One answer. No names are required: a trainee is whatever was typed, a number will do. */
export const CallResult = z.strictObject({
  format: z.literal(1),
  trainee: z.string().max(60),
  exercise: z.string().max(120),
  wallMs: WallMs,
  calledMs: z.number(),
  /** when a reading could first be taken; absent when it never could in the time shown */
  readyMs: z.number().optional(),
  earlyS: z.number().optional(),
  costO2: z.number().optional(),
  costStackK: z.number().optional(),
  costEfficiencyPoints: z.number().optional(),
  patternSaid: ExercisePattern.optional(),
  patternRight: z.boolean().optional(),
  points: z.number().min(0).max(10),
  /** which burner and seed, or which stored run: equal for all who watched the same curve. Absent in what was saved before there was a debrief */
  of: z.string().max(240).optional(),
  watched: z.strictObject({ o2: Watched.optional(), stackTemperature: Watched.optional() }).optional(),
});
export type CallResult = z.infer<typeof CallResult>;

const MEAN_OVER_MS = 10_000;

/** The means that would have been written down at a call: the last 10 s. */
export function meansAt(samples: readonly Sample[], calledMs: number): Partial<Record<ChannelId, number>> {
  const sums = new Map<ChannelId, { sum: number; n: number }>();
  for (const { timeMs, values } of samples) {
    if (timeMs > calledMs || timeMs < calledMs - MEAN_OVER_MS) continue;
    for (const [channel, value] of Object.entries(values) as [ChannelId, number][]) {
      const entry = sums.get(channel) ?? { sum: 0, n: 0 };
      sums.set(channel, { sum: entry.sum + value, n: entry.n + 1 });
    }
  }
  return Object.fromEntries([...sums].map(([channel, { sum, n }]) => [channel, sum / n]));
}

export type CallInput = {
  readonly calledMs: number;
  /** full readings of the stretch that the trainee watched, in order */
  readonly readings: readonly Reading[];
  readonly samples: readonly Sample[];
  /** efficiency of a set of means; undefined where it can't be computed */
  readonly efficiency: (means: Partial<Record<ChannelId, number>>) => number | undefined;
  readonly pattern?: ExercisePattern | undefined;
  readonly patternSaid?: ExercisePattern | undefined;
};
export type CallScore = Pick<
  CallResult,
  'readyMs' | 'earlyS' | 'costO2' | 'costStackK' | 'costEfficiencyPoints' | 'patternRight' | 'points'
>;

/**
 * Early is judged by what it costs, late by the time it wastes. Ten points: eight for the time, two for the pattern.
 * A call within a minute after the reading was ready has all eight; each further minute costs one. An early call loses by its error in efficiency,
 * 0.1 points being one mark, and half of the marks at once when any channel was outside its band.
 *
 * @source the scale is our own choice
 */
export function scoreCall({ calledMs, readings, samples, efficiency, pattern, patternSaid }: CallInput): CallScore {
  const settled = readings.filter((reading) => reading.scope === 'full' && reading.settled).sort((a, b) => a.takenMs - b.takenMs);
  const before = settled.findLast((reading) => reading.takenMs <= calledMs);
  const target = before ?? settled[0];
  const patternRight = pattern === undefined || patternSaid === undefined ? undefined : pattern === patternSaid;
  const patternPoints = patternRight === false ? 0 : pattern !== undefined && patternSaid === undefined ? 0 : 2;
  if (target === undefined) return { points: patternPoints, ...defined({ patternRight }) };
  const readyMs = target.takenMs;
  const called = meansAt(samples, calledMs);
  const right = Object.fromEntries(Object.entries(target.channels).map(([channel, statistics]) => [channel, statistics?.mean])) as Partial<
    Record<ChannelId, number>
  >;
  const costO2 = minus(called.o2, right.o2);
  const costStackK = minus(called.stackTemperature, right.stackTemperature);
  const costEfficiencyPoints = minus(efficiency(called), efficiency(right));
  const earlyS = (readyMs - calledMs) / 1000;
  const timePoints =
    earlyS > 0
      ? Math.max(0, (Math.abs(costEfficiencyPoints ?? Infinity) < 0.05 ? 8 : 4) - 10 * Math.abs(costEfficiencyPoints ?? 0.4))
      : Math.max(0, 8 - Math.max(0, -earlyS - 60) / 60);
  return {
    readyMs,
    earlyS,
    ...defined({ costO2, costStackK, costEfficiencyPoints, patternRight }),
    points: Math.round(10 * Math.min(10, timePoints + patternPoints)) / 10,
  };
}

const minus = (a: number | undefined, b: number | undefined): number | undefined =>
  a === undefined || b === undefined ? undefined : a - b;

export type ClassRow = {
  readonly trainee: string;
  readonly calls: number;
  readonly points: number;
  readonly tooEarly: number;
  readonly meanEarlyS: number | undefined;
};

/** One row per trainee, best first. */
export function classOverview(results: readonly CallResult[]): ClassRow[] {
  const byTrainee = group(results, ({ trainee }) => trainee);
  return [...byTrainee]
    .map(([trainee, calls]) => {
      const timed = calls.flatMap(({ earlyS }) => earlyS ?? []);
      return {
        trainee,
        calls: calls.length,
        points: calls.reduce((sum, { points }) => sum + points, 0) / calls.length,
        tooEarly: timed.filter((earlyS) => earlyS > 0).length,
        meanEarlyS: timed.length === 0 ? undefined : timed.reduce((sum, value) => sum + value, 0) / timed.length,
      };
    })
    .sort((a, b) => b.points - a.points || a.trainee.localeCompare(b.trainee));
}
