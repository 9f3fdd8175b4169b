/**
 * Which gas is at the inlet now, told from the stream itself. Samples in, applications of gas out: each with the way there (for response times) and the
 * plateau (for errors). The operator's mark, where given, says when the gas was switched; without it times count from the first movement.
 */
import type { ChannelId } from '../../measurement/channel.ts';
import type { Sample } from '../../measurement/sample.ts';
import { isAtRest, plateauOf, type Plateau } from '../results/plateau.ts';
import { resolutionOf, responseOrWhy, type NoResponse, type Response } from '../results/response.ts';
import type { BenchChannel } from '../instrument.ts';
import { levelScales, nearestLevel, type Level } from './nearest-level.ts';
import type { StepPoint } from '../results/step-fit.ts';
import { defined } from '../../defined.ts';

/** One gas applied once. */
export type Application = {
  /** undefined: steady at a value that no gas of the plan has */
  readonly level: string | undefined;
  readonly markMs: number | undefined;
  readonly fromMs: number;
  readonly toMs: number;
  readonly channels: Partial<
    Record<
      BenchChannel,
      {
        readonly plateau: Plateau;
        readonly response: Response | undefined;
        readonly resolution: number;
        /** why there is no response, where a step was to be timed */
        readonly noResponse?: NoResponse | undefined;
      }
    >
  >;
  /** still going on */
  readonly open: boolean;
};

export type RecogniserOptions = {
  readonly channels: readonly BenchChannel[];
  readonly levels: readonly Level[];
  /** how long all channels must be steady before it counts as a plateau, s */
  readonly restS?: number;
  /** half-width of the doubt about a mark made by hand, s (common practice 0.3) */
  readonly markHalfWidthS?: number;
};

export interface Recogniser {
  push(sample: Sample): void;
  /** the operator switched the gas at this time; `level`: to which one, where the plan or the hand says so */
  mark(timeMs: number, level?: string): void;
  /** lines went missing: nothing is joined over it */
  gap(): void;
  /** all so far; the last one may be open */
  applications(): readonly Application[];
  /** what the stream does now */
  now(): { readonly phase: 'waiting' | 'moving' | 'at-rest'; readonly level: string | undefined; readonly sinceMs: number };
}

const PLATEAU_MS = 60_000;
/** An hour at 2 Hz for the running application; older samples of a longer one are thinned by half. */
const MOST_POINTS = 7200;

type Mark = { readonly timeMs: number; readonly level: string | undefined };
type Point = { readonly t: number; readonly values: readonly (number | undefined)[] };

export function createRecogniser({ channels, levels, restS = 20, markHalfWidthS = 0.3 }: RecogniserOptions): Recogniser {
  const done: Application[] = [];
  let points: Point[] = [];
  let restFromMs: number | undefined;
  let pendingMark: Mark | undefined;
  let currentMark: Mark | undefined;
  let away = 0;
  const scales = levelScales(channels, levels);

  const series = (channel: number, list: readonly Point[], originMs: number): StepPoint[] => {
    const found: StepPoint[] = [];
    for (const { t, values } of list) {
      const y = values[channel];
      if (y !== undefined) found.push({ t: (t - originMs) / 1000, y });
    }
    return found;
  };
  const since = (fromMs: number): Point[] => {
    // from the end, because the stretch asked for is almost always the latest
    let i = points.length;
    while (i > 0 && (points[i - 1] as Point).t >= fromMs) i--;
    return points.slice(i);
  };

  const nearest = (means: readonly (number | undefined)[]): string | undefined => nearestLevel(channels, levels, means);

  const describe = (open: boolean): Application | undefined => {
    if (restFromMs === undefined) return undefined;
    const from = restFromMs;
    const resting = since(from);
    const toMs = resting.at(-1)?.t ?? from;
    const startMs = currentMark?.timeMs ?? firstMoveMs(points, channels.length, scales);
    const described: Application['channels'] = {};
    channels.forEach((channel, i) => {
      const whole = series(i, points, startMs ?? from);
      const resolution = resolutionOf(whole);
      // the latest minute: whatever was still creeping at first is left out
      const plateau = plateauOf(series(i, since(Math.max(from, toMs - PLATEAU_MS)), from), resolution);
      if (plateau === undefined) return;
      const response =
        startMs === undefined
          ? undefined
          : responseOrWhy(whole, {
              resolution,
              markHalfWidthS: currentMark === undefined ? 0 : markHalfWidthS,
              restS: (from - startMs) / 1000,
            });
      const noResponse = typeof response === 'string' ? response : undefined;
      described[channel] = {
        plateau: { ...plateau, fromS: from / 1000, toS: toMs / 1000 },
        response: typeof response === 'string' ? undefined : response,
        resolution,
        ...defined({ noResponse }),
      };
    });
    const means = channels.map((channel) => described[channel]?.plateau.mean);
    return { level: currentMark?.level ?? nearest(means), markMs: currentMark?.timeMs, fromMs: from, toMs, channels: described, open };
  };

  const close = (): void => {
    const application = describe(false);
    if (application !== undefined && application.toMs - application.fromMs >= restS * 1000 * 0.9) done.push(application);
    restFromMs = undefined;
    away = 0;
  };

  return {
    push({ timeMs, values, absent }) {
      const row = channels.map((channel) => (absent?.[channel as ChannelId] === undefined ? values[channel as ChannelId] : undefined));
      points.push({ t: timeMs, values: row });
      if (points.length > MOST_POINTS) points = points.filter((point, i) => i % 2 === 0 || point.t > timeMs - 120_000);
      const window = since(timeMs - restS * 1000);
      const enough = (window[0]?.t ?? timeMs) <= timeMs - restS * 1000 * 0.9 && window.length >= 8;
      if (restFromMs === undefined) {
        if (!enough) return;
        const resting = channels.every((_, i) => {
          const list = series(i, window, timeMs);
          if (list.length < window.length / 2) return true;
          const scale = scales[i] as number;
          // a short dip has no slope, but it is no rest either
          return isAtRest(list, 0.006 * scale) && (plateauOf(list)?.sd ?? 0) <= 0.03 * scale;
        });
        if (resting) restFromMs = window[0]?.t ?? timeMs;
        return;
      }
      const resting = since(Math.max(restFromMs, timeMs - 300_000));
      // the latest stretch is enough to see a departure, and keeps a day-long plateau cheap
      const settled = resting.slice(-300, Math.max(8, resting.length - 3));
      const leaves = channels.some((_, i) => {
        const plateau = plateauOf(series(i, settled, timeMs));
        const value = row[i];
        if (plateau === undefined || value === undefined) return false;
        return Math.abs(value - plateau.mean) > Math.max(6 * plateau.sd, 0.04 * (scales[i] as number));
      });
      away = leaves ? away + 1 : 0;
      const marked = pendingMark !== undefined && pendingMark.timeMs > restFromMs;
      if (away < 3) return;
      // the plateau ended when it began to move, or when the operator said so
      const leftMs = marked ? (pendingMark as Mark).timeMs : (points[points.length - 3]?.t ?? timeMs);
      const kept = points;
      points = points.filter(({ t }) => t < leftMs);
      close();
      currentMark = marked ? pendingMark : undefined;
      pendingMark = undefined;
      points = kept.filter(({ t }) => t >= leftMs - 10_000);
    },
    mark(timeMs, level) {
      if (restFromMs === undefined) currentMark = { timeMs, level };
      else pendingMark = { timeMs, level };
    },
    gap() {
      close();
      points = [];
      currentMark = undefined;
      pendingMark = undefined;
    },
    applications() {
      const open = describe(true);
      return open === undefined ? done : [...done, open];
    },
    now() {
      const lastMs = points.at(-1)?.t ?? 0;
      if (points.length === 0) return { phase: 'waiting', level: undefined, sinceMs: lastMs };
      if (restFromMs === undefined) return { phase: 'moving', level: undefined, sinceMs: points[0]?.t ?? lastMs };
      const means = channels.map((_, i) => plateauOf(series(i, since(Math.max(restFromMs as number, lastMs - PLATEAU_MS)), 0))?.mean);
      return { phase: 'at-rest', level: currentMark?.level ?? nearest(means), sinceMs: restFromMs };
    },
  };
}

/** Time of the first sample that leaves what stood before it; undefined when there is no stretch of rest to leave. */
function firstMoveMs(points: readonly Point[], channelCount: number, scales: readonly number[]): number | undefined {
  const startMs = points[0]?.t;
  if (startMs === undefined) return undefined;
  let first: number | undefined;
  for (let i = 0; i < channelCount; i++) {
    const before = points.filter(({ t }) => t < startMs + 8000).flatMap(({ values }) => values[i] ?? []);
    if (before.length < 3) continue;
    const level = [...before].sort((a, b) => a - b)[Math.floor(before.length / 2)] as number;
    const moved = points.find(({ values }) => Math.abs((values[i] ?? level) - level) > 0.02 * (scales[i] as number));
    if (moved !== undefined && (first === undefined || moved.t < first)) first = moved.t;
  }
  return first;
}
