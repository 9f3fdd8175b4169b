import type { SettlingChannel } from '../measurement/channel.ts';
import type { Reading } from '../measurement/state.ts';
import { fitWarmUp } from '../settling/warm-up-fit.ts';
import { CURVE_POINTS, type CurveChannel, type WarmUpCurve, type WarmUpFit } from './curve.ts';
import { createFireWatch } from './light-off.ts';
import { steadyByTripleS } from './steady.ts';

/** One channel of a run as columns; run time in ms, values in the inner unit. */
export type RunColumns = Partial<Record<SettlingChannel, { readonly timeMs: readonly number[]; readonly values: readonly number[] }>>;

export type CaptureInput = {
  readonly about: Pick<WarmUpCurve, 'name' | 'runId' | 'capturedWallMs' | 'source' | 'startState' | 'tags'> &
    Partial<Pick<WarmUpCurve, 'applianceId' | 'appliance' | 'outdoorC' | 'notes'>>;
  readonly columns: RunColumns;
  readonly readings: readonly Reading[];
  /** given by hand where the data do not show it */
  readonly lightOffMs?: number | undefined;
};

/** @returns the first light-off seen in the columns; undefined when the run began with the burner on, or O2 is missing */
export function lightOffIn({ o2, stackTemperature }: RunColumns): number | undefined {
  if (o2 === undefined) return undefined;
  const watch = createFireWatch();
  let s = 0;
  for (let i = 0; i < o2.timeMs.length; i++) {
    const timeMs = o2.timeMs[i] as number;
    while (stackTemperature !== undefined && s + 1 < stackTemperature.timeMs.length && (stackTemperature.timeMs[s + 1] as number) <= timeMs)
      s++;
    const stack = stackTemperature?.values[s];
    const event = watch.push({
      timeMs,
      values: { o2: o2.values[i] as number, ...(stack === undefined ? {} : { stackTemperature: stack }) },
    });
    if (event?.kind === 'light-off') return event.timeMs;
  }
  return undefined;
}

/** A run -> a curve for the library: lined up at light-off, thinned, fitted, with the times to steady by both criteria. */
export function captureCurve({ about, columns, readings, lightOffMs }: CaptureInput): WarmUpCurve {
  const origin = lightOffMs ?? lightOffIn(columns) ?? firstMs(columns);
  const channels: WarmUpCurve['channels'] = {};
  const fits: NonNullable<WarmUpCurve['fits']> = {};
  for (const [channel, column] of Object.entries(columns) as [SettlingChannel, NonNullable<RunColumns[SettlingChannel]>][]) {
    const curve = thinned(
      column.timeMs.map((time) => (time - origin) / 1000),
      column.values,
    );
    if (curve.seconds.length < 2) continue;
    channels[channel] = curve;
    if (channel !== 'stackTemperature') continue;
    const fit = fitOf(curve);
    if (fit !== undefined) fits[channel] = fit;
  }
  const first = readings
    .filter(({ scope, settled, takenMs }) => scope === 'full' && settled && takenMs > origin)
    .sort((a, b) => a.takenMs - b.takenMs)[0];
  const published = channels.stackTemperature === undefined ? undefined : steadyByTripleS(channels.stackTemperature);
  return {
    format: 1,
    ...about,
    lightOffMs: origin,
    channels,
    ...(Object.keys(fits).length === 0 ? {} : { fits }),
    ...(first === undefined ? {} : { steadyOwnS: (first.takenMs - origin) / 1000 }),
    ...(published === undefined ? {} : { steadyPublishedS: published }),
  };
}

const firstMs = (columns: RunColumns): number =>
  Math.min(...Object.values(columns).map((column) => column?.timeMs[0] ?? Number.POSITIVE_INFINITY));

/** Every n-th value would lose peaks; means of neighbours keep the course, and the run file keeps every line. */
function thinned(seconds: readonly number[], values: readonly number[]): CurveChannel {
  const size = Math.max(1, Math.ceil(seconds.length / CURVE_POINTS));
  const result: CurveChannel = { seconds: [], values: [] };
  for (let i = 0; i < seconds.length; i += size) {
    const end = Math.min(seconds.length, i + size);
    let t = 0;
    let y = 0;
    for (let k = i; k < end; k++) {
      t += seconds[k] as number;
      y += values[k] as number;
    }
    result.seconds.push(Math.round((t / (end - i)) * 1000) / 1000);
    result.values.push(Math.round((y / (end - i)) * 1000) / 1000);
  }
  return result;
}

/** The fit after light-off; undefined when the curve is too short to say anything. */
export function fitOf({ seconds, values }: CurveChannel): WarmUpFit | undefined {
  const points = seconds.flatMap((timeS, i) => (timeS >= 0 ? [{ timeS, value: values[i] as number }] : []));
  const fit = points.length < 20 ? undefined : fitWarmUp(points);
  if (fit === undefined || !Number.isFinite(fit.heading.value)) return undefined;
  const whole = fit.amplitudes.reduce((sum, amplitude) => sum + amplitude, 0);
  const end = (edge: number): number => (Number.isFinite(edge) ? edge : fit.heading.value);
  return {
    constants: fit.timeConstantsS.map(({ value, low, high }, i) => ({
      tauS: value,
      share: whole === 0 ? 1 / fit.timeConstantsS.length : (fit.amplitudes[i] ?? 0) / whole,
      ...(Number.isFinite(low) ? { low } : {}),
      ...(Number.isFinite(high) ? { high } : {}),
    })),
    deadS: fit.deadTimeS,
    endValue: fit.heading.value,
    endLow: end(fit.heading.low),
    endHigh: end(fit.heading.high),
    honest: fit.usable,
  };
}
