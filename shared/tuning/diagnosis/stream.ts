import { bisector } from 'd3-array';
import type { ChannelId } from '../../measurement/channel.ts';
import type { Sample } from '../../measurement/sample.ts';

export type Point = { t: number; value: number };
export type Episode = { kind: 'burning' | 'fresh'; fromMs: number; toMs: number; open: boolean };
export type Gap = { fromMs: number; toMs: number };

/** A recent stretch of samples, prepared once for all patterns. */
export type Stream = {
  fromMs: number;
  toMs: number;
  periodMs: number;
  series: Partial<Record<ChannelId, Point[]>>;
  /** O2 with single spikes clipped only: the median of three would wipe out a fast swing */
  fastO2: Point[];
  episodes: Episode[];
  gaps: Gap[];
  adjustmentsMs: readonly number[];
};

/** O2 above this is air and not flue gas: burners with so much excess go out. */
const FRESH_O2_PERCENT = 18;
const GAP_PERIODS = 3;
const LEAVES_MS = 40_000;
const LEAST_GAP_MS = 5000;

export function prepareStream(samples: readonly Sample[], adjustmentsMs: readonly number[]): Stream | undefined {
  const first = samples[0];
  const last = samples.at(-1);
  if (!first || !last || samples.length < 20) return undefined;
  const steps = samples.slice(1).map((sample, index) => sample.timeMs - samples[index]!.timeMs);
  const periodMs = median(steps);
  const series: Stream['series'] = {};
  for (const channel of ['o2', 'co', 'stackTemperature', 'airTemperature', 'draft'] as const) {
    const points = samples.flatMap(({ timeMs, values }): Point[] => {
      const value = values[channel];
      return value === undefined ? [] : [{ t: timeMs, value }];
    });
    if (points.length >= 20) series[channel] = thinned(despiked(points));
  }
  const fastO2 = clipped(samples.flatMap(({ timeMs, values }) => (values.o2 === undefined ? [] : [{ t: timeMs, value: values.o2 }])));
  const gaps = steps.flatMap((step, index): Gap[] =>
    step > Math.max(LEAST_GAP_MS, GAP_PERIODS * periodMs) ? [{ fromMs: samples[index]!.timeMs, toMs: samples[index + 1]!.timeMs }] : [],
  );
  return {
    fromMs: first.timeMs,
    toMs: last.timeMs,
    periodMs,
    series,
    fastO2,
    episodes: episodesOf(series.o2 ?? [], last.timeMs),
    gaps,
    adjustmentsMs,
  };
}

/** Means of about a second: the patterns but for the flutter are slow, and ten lines a second would only make them dear. */
const THIN_MS = 1000;
function thinned(points: readonly Point[]): Point[] {
  const out: Point[] = [];
  for (let index = 0; index < points.length;) {
    let [t, value, n] = [0, 0, 0];
    const endMs = points[index]!.t + 0.95 * THIN_MS;
    for (; index < points.length && points[index]!.t < endMs; index++, n++) {
      t += points[index]!.t;
      value += points[index]!.value;
    }
    out.push({ t: t / n, value: value / n });
  }
  return out;
}

/** Single-sample spikes must not look like a pattern. */
const despiked = (points: readonly Point[]): Point[] =>
  points.map((point, index) =>
    index === 0 || index === points.length - 1
      ? point
      : { t: point.t, value: median([points[index - 1]!.value, point.value, points[index + 1]!.value]) },
  );

/** further than this from the median of its neighbours is a spike and not a swing, % O2 */
const SPIKE_O2 = 0.8;
const clipped = (raw: readonly Point[]): Point[] => {
  const smooth = despiked(raw);
  return raw.map((point, index) => {
    const calm = smooth[index]?.value ?? point.value;
    return Math.abs(point.value - calm) > SPIKE_O2 ? { t: point.t, value: calm } : point;
  });
};

function episodesOf(o2: readonly Point[], endMs: number): Episode[] {
  const episodes: Episode[] = [];
  for (const { t, value } of o2) {
    const kind = value >= FRESH_O2_PERCENT ? 'fresh' : 'burning';
    const last = episodes.at(-1);
    if (last?.kind === kind) last.toMs = t;
    else episodes.push({ kind, fromMs: t, toMs: t, open: false });
  }
  const last = episodes.at(-1);
  if (last) episodes[episodes.length - 1] = { ...last, toMs: endMs, open: true };
  return episodes;
}

/** Burning stretches without a change of setting, a gap or fresh air, with the first `skipMs` of each left out. */
export function steadyStretches(stream: Stream, skipMs: number, skipAfterLightMs: number): { fromMs: number; toMs: number }[] {
  return stream.episodes
    .filter((episode) => episode.kind === 'burning')
    .flatMap((episode) => {
      const inside = (ms: number): boolean => ms > episode.fromMs && ms < episode.toMs;
      const cuts = [...stream.adjustmentsMs.filter(inside), ...stream.gaps.map((gap) => gap.toMs).filter(inside)].sort((a, b) => a - b);
      const startsLit = episode.fromMs > stream.fromMs + stream.periodMs;
      // O2 has left the flame's value long before it reaches that of air
      const endMs = episode.open ? episode.toMs : episode.toMs - LEAVES_MS;
      const edges = [episode.fromMs + (startsLit ? skipAfterLightMs - skipMs : -skipMs), ...cuts, endMs];
      return edges.slice(1).map((toMs, index) => ({ fromMs: Math.max(stream.fromMs, edges[index]! + skipMs), toMs }));
    })
    .filter(({ fromMs, toMs }) => toMs > fromMs);
}

const byTime = bisector((point: Point) => point.t);
/** Points from `fromMs` to `toMs`, both included. */
export const within = (points: readonly Point[] | undefined, fromMs: number, toMs: number): Point[] =>
  points ? points.slice(byTime.left(points, fromMs), byTime.right(points, toMs)) : [];
export const valuesOf = (points: readonly Point[]): number[] => points.map((point) => point.value);

export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length === 0 ? 0 : sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}

export type Trend = { perMinute: number; half: number; start: number; end: number; n: number };

/**
 * Straight line through means of `blockMs`, with a 95 % half-width of the slope. Noise that lasts over blocks (draft wander, flutter) is
 * counted by the lag-one correlation of the residuals: the error grows by sqrt((1 + r)/(1 - r)).
 *
 * @returns undefined for fewer than six blocks
 */
export function trendOf(points: readonly Point[], blockMs = 10_000): Trend | undefined {
  const first = points[0]?.t ?? 0;
  const blocks = new Map<number, { t: number; value: number; n: number }>();
  for (const { t, value } of points) {
    const key = Math.floor((t - first) / blockMs);
    const block = blocks.get(key) ?? { t: 0, value: 0, n: 0 };
    blocks.set(key, { t: block.t + t, value: block.value + value, n: block.n + 1 });
  }
  const means = [...blocks.values()].map(({ t, value, n }) => ({ t: t / n / 60_000, value: value / n }));
  const n = means.length;
  if (n < 6) return undefined;
  const meanT = means.reduce((sum, block) => sum + block.t, 0) / n;
  const meanValue = means.reduce((sum, block) => sum + block.value, 0) / n;
  const spreadT = means.reduce((sum, block) => sum + (block.t - meanT) ** 2, 0);
  const perMinute = means.reduce((sum, block) => sum + (block.t - meanT) * (block.value - meanValue), 0) / spreadT;
  const residuals = means.map((block) => block.value - meanValue - perMinute * (block.t - meanT));
  const variance = residuals.reduce((sum, residual) => sum + residual ** 2, 0) / (n - 2);
  const lagged = residuals.slice(1).reduce((sum, residual, index) => sum + residual * residuals[index]!, 0);
  const correlation = Math.min(0.9, Math.max(0, lagged / Math.max(1e-12, (n - 2) * variance)));
  const half = 2 * Math.sqrt((variance / spreadT) * ((1 + correlation) / (1 - correlation)));
  return {
    perMinute,
    half,
    start: meanValue + perMinute * (means[0]!.t - meanT),
    end: meanValue + perMinute * (means[n - 1]!.t - meanT),
    n,
  };
}
