import { z } from 'zod';
import { WallMs } from '../wall-clock.ts';
import { settlingChannels, type SettlingChannel } from '../measurement/channel.ts';

/** At most this many points a channel: a 30 min curve at 10 Hz is thinned, the run file keeps every line. */
export const CURVE_POINTS = 1200;

export const WarmUpFit = z.object({
  /** one or two time constants, s; shares of the change, adding to 1 */
  constants: z
    .array(z.object({ tauS: z.number(), share: z.number(), low: z.number().optional(), high: z.number().optional() }))
    .min(1)
    .max(2),
  deadS: z.number(),
  endValue: z.number(),
  endLow: z.number(),
  endHigh: z.number(),
  /** the last third was predicted by the first two thirds */
  honest: z.boolean(),
  /** largest miss of that, K; absent when the record was too short to try */
  missK: z.number().optional(),
});
export type WarmUpFit = z.infer<typeof WarmUpFit>;

export const CurveChannel = z.object({ seconds: z.array(z.number()).max(CURVE_POINTS), values: z.array(z.number()).max(CURVE_POINTS) });
export type CurveChannel = z.infer<typeof CurveChannel>;

/** A captured warm-up, kept in the library. Times are seconds from light-off; units are the inner ones. */
export const WarmUpCurve = z.strictObject({
  format: z.literal(1),
  name: z.string().min(1).max(120),
  runId: z.string(),
  applianceId: z.string().optional(),
  appliance: z.string().max(120).optional(),
  capturedWallMs: WallMs,
  source: z.enum(['port', 'simulated', 'replay', 'typed']),
  /** cold: 8 h or more off */
  startState: z.enum(['cold', 'warm', 'hot', 'unknown']),
  outdoorC: z.number().min(-60).max(60).optional(),
  tags: z.array(z.string().max(40)).max(20),
  lightOffMs: z.number(),
  /** s from light-off until which the fit and the published criterion look: the burner stopped or the air was changed there */
  usedToS: z.number().optional(),
  channels: z.partialRecord(z.enum(settlingChannels), CurveChannel),
  fits: z.partialRecord(z.enum(settlingChannels), WarmUpFit).optional(),
  /** seconds from light-off until a full reading was first offered, and until the published criterion was met */
  steadyOwnS: z.number().optional(),
  steadyPublishedS: z.number().optional(),
  notes: z.string().max(2000).optional(),
});
export type WarmUpCurve = z.infer<typeof WarmUpCurve>;

/** Value at a time by straight line between neighbours; undefined outside the curve or across a hole of more than `holeS`. */
export function valueAt({ seconds, values }: CurveChannel, at: number, holeS = 20): number | undefined {
  let low = 0;
  let high = seconds.length - 1;
  if (high < 0 || at < (seconds[0] as number) || at > (seconds[high] as number)) return undefined;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((seconds[middle] as number) <= at) low = middle;
    else high = middle;
  }
  const [t0, t1, y0, y1] = [seconds[low], seconds[high], values[low], values[high]] as [number, number, number, number];
  if (at === t0 || t1 === t0) return y0;
  if (at === t1) return y1;
  return t1 - t0 > holeS ? undefined : y0 + ((y1 - y0) * (at - t0)) / (t1 - t0);
}

/** One curve minus another, on the first one's times; where the other has no value there is none. */
export function difference(curve: WarmUpCurve, reference: WarmUpCurve, channel: SettlingChannel): CurveChannel {
  const [a, b] = [curve.channels[channel], reference.channels[channel]];
  const result: CurveChannel = { seconds: [], values: [] };
  if (a === undefined || b === undefined) return result;
  a.seconds.forEach((at, i) => {
    const other = valueAt(b, at);
    if (other === undefined) return;
    result.seconds.push(at);
    result.values.push((a.values[i] as number) - other);
  });
  return result;
}

export type ReferenceBand = {
  readonly seconds: number[];
  readonly low: number[];
  readonly middle: number[];
  readonly high: number[];
  readonly curves: number;
};

/**
 * What is usual for this appliance: at each time the mean of the curves and twice their standard deviation either way.
 *
 * @returns undefined with fewer than three curves
 * @source mean and sample standard deviation, k = 2
 */
export function referenceBand(curves: readonly WarmUpCurve[], channel: SettlingChannel, stepS = 5): ReferenceBand | undefined {
  const parts = curves.flatMap((curve) => curve.channels[channel] ?? []).filter(({ seconds }) => seconds.length > 1);
  if (parts.length < 3) return undefined;
  const from = Math.max(...parts.map(({ seconds }) => seconds[0] as number));
  const to = Math.min(...parts.map(({ seconds }) => seconds.at(-1) as number));
  const band: ReferenceBand = { seconds: [], low: [], middle: [], high: [], curves: parts.length };
  for (let at = Math.ceil(from / stepS) * stepS; at <= to; at += stepS) {
    const values = parts.flatMap((part) => valueAt(part, at) ?? []);
    if (values.length < 3) continue;
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
    const sd = Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1));
    band.seconds.push(at);
    band.middle.push(mean);
    band.low.push(mean - 2 * sd);
    band.high.push(mean + 2 * sd);
  }
  return band.seconds.length === 0 ? undefined : band;
}
