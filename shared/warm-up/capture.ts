import type { SettlingChannel } from '../measurement/channel.ts';
import type { Mark } from '../measurement/mark.ts';
import type { Reading } from '../measurement/state.ts';
import { fitWarmUp } from '../settling/fits/warm-up-fit.ts';
import { CURVE_POINTS, type CurveChannel, type WarmUpCurve, type WarmUpFit } from './curve.ts';
import { createFireWatch, type FireEvent } from './light-off.ts';
import { steadyByTripleS } from './steady.ts';
import { defined } from '../defined.ts';

/** One channel of a run as columns; run time in ms, values in the inner unit. */
export type RunColumns = Partial<Record<SettlingChannel, { readonly timeMs: readonly number[]; readonly values: readonly number[] }>>;

export type CaptureInput = {
  readonly about: Pick<WarmUpCurve, 'name' | 'runId' | 'capturedWallMs' | 'source' | 'startState' | 'tags'> &
    Partial<Pick<WarmUpCurve, 'applianceId' | 'appliance' | 'outdoorC' | 'notes'>>;
  readonly columns: RunColumns;
  readonly readings: readonly Reading[];
  /** what was changed, and when; the first adjustment after light-off ends what is fitted */
  readonly marks?: readonly Mark[] | undefined;
  /** given by hand where the data do not show it */
  readonly lightOffMs?: number | undefined;
  /** fitting twenty curves takes seconds; where only their course is wanted */
  readonly withoutFit?: boolean | undefined;
};

/** Light-offs and stops seen in the columns, in order; O2 has to be there. */
export function fireEventsIn({ o2, stackTemperature }: RunColumns): readonly FireEvent[] {
  if (o2 === undefined) return [];
  const watch = createFireWatch();
  let s = 0;
  for (let i = 0; i < o2.timeMs.length; i++) {
    const timeMs = o2.timeMs[i] as number;
    while (stackTemperature !== undefined && s + 1 < stackTemperature.timeMs.length && (stackTemperature.timeMs[s + 1] as number) <= timeMs)
      s++;
    const stack = stackTemperature?.values[s];
    watch.push({
      timeMs,
      values: { o2: o2.values[i] as number, ...defined({ stackTemperature: stack }) },
    });
  }
  return watch.events;
}

/** @returns the first light-off seen in the columns; undefined when the run began with the burner on, or O2 is missing */
export const lightOffIn = (columns: RunColumns): number | undefined =>
  fireEventsIn(columns).find(({ kind }) => kind === 'light-off')?.timeMs;

/** A run -> a curve for the library: lined up at light-off, thinned, fitted, with the times to steady by both criteria. */
export function captureCurve({ about, columns, readings, marks = [], lightOffMs, withoutFit = false }: CaptureInput): WarmUpCurve {
  const events = fireEventsIn(columns);
  const origin = lightOffMs ?? events.find(({ kind }) => kind === 'light-off')?.timeMs ?? firstMs(columns);
  const endMs = Math.min(
    ...events.flatMap(({ kind, timeMs }) => (kind === 'stop' && timeMs > origin ? [timeMs] : [])),
    ...marks.flatMap(({ body, timeMs }) => (body.kind === 'adjustment' && timeMs > origin ? [timeMs] : [])),
  );
  const usedToS = Number.isFinite(endMs) ? (endMs - origin) / 1000 : undefined;
  const channels: WarmUpCurve['channels'] = {};
  const fits: NonNullable<WarmUpCurve['fits']> = {};
  for (const [channel, column] of Object.entries(columns) as [SettlingChannel, NonNullable<RunColumns[SettlingChannel]>][]) {
    const curve = thinned(
      column.timeMs.map((time) => (time - origin) / 1000),
      column.values,
    );
    if (curve.seconds.length < 2) continue;
    channels[channel] = curve;
    if (channel !== 'stackTemperature' || withoutFit) continue;
    const fit = fitOf(upTo(curve, usedToS));
    if (fit !== undefined) fits[channel] = fit;
  }
  const first = readings
    .filter(({ scope, settled, takenMs }) => scope === 'full' && settled && takenMs > origin && takenMs <= endMs)
    .sort((a, b) => a.takenMs - b.takenMs)[0];
  const published = channels.stackTemperature === undefined ? undefined : steadyByTripleS(upTo(channels.stackTemperature, usedToS));
  return {
    format: 1,
    ...about,
    lightOffMs: origin,
    ...defined({ usedToS }),
    channels,
    ...(Object.keys(fits).length === 0 ? {} : { fits }),
    ...defined({ steadyOwnS: first === undefined ? undefined : (first.takenMs - origin) / 1000, steadyPublishedS: published }),
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

const FEWEST_POINTS = 20;
const fromLightOff = ({ seconds, values }: CurveChannel): { timeS: number; value: number }[] =>
  seconds.flatMap((timeS, i) => (timeS >= 0 ? [{ timeS, value: values[i] as number }] : []));

const upTo = ({ seconds, values }: CurveChannel, endS: number | undefined): CurveChannel => {
  const count = endS === undefined ? -1 : seconds.findIndex((at) => at > endS);
  return count < 0 ? { seconds, values } : { seconds: seconds.slice(0, count), values: values.slice(0, count) };
};

/** Residuals at each point that it used, so that a person sees whether it runs in waves. */
export type FitPicture = {
  readonly seconds: readonly number[];
  readonly residuals: readonly number[];
  readonly sd: number;
  readonly largest: number;
  /** where residuals change sign; of independent ones about half of the points do */
  readonly crossings: number;
  /** share of the residuals' variance that is in their means over eight stretches; near 0 when they are chance, near 1 when they run in waves */
  readonly waveShare: number;
};

const STRETCHES = 8;
/** A single spike is no wave: the middle of each stretch counts, without its highest and lowest tenth. */
function waveShareOf(residuals: readonly number[]): number {
  const kept: number[] = [];
  const means: number[] = [];
  for (let s = 0; s < STRETCHES; s++) {
    const part = residuals.slice(Math.floor((s * residuals.length) / STRETCHES), Math.floor(((s + 1) * residuals.length) / STRETCHES));
    const cut = Math.floor(part.length / 10);
    const middle = [...part].sort((a, b) => a - b).slice(cut, part.length - cut);
    if (middle.length === 0) continue;
    kept.push(...middle);
    means.push(middle.reduce((sum, value) => sum + value, 0) / middle.length);
  }
  const square = (values: readonly number[]): number => values.reduce((sum, value) => sum + value * value, 0) / Math.max(1, values.length);
  return square(kept) > 0 ? square(means) / square(kept) : 0;
}

/** Fits the kept curve anew for its picture; the same points and rules as when it was captured. */
export function fitPicture(curve: WarmUpCurve): FitPicture | undefined {
  const stack = curve.channels.stackTemperature;
  if (stack === undefined) return undefined;
  const points = fromLightOff(upTo(stack, curve.usedToS));
  const fit = points.length < FEWEST_POINTS ? undefined : fitWarmUp(points);
  if (fit === undefined) return undefined;
  const used = points.filter(({ timeS }) => timeS >= fit.fromS);
  const residuals = used.map(({ timeS, value }) => value - fit.at(timeS));
  return {
    seconds: used.map(({ timeS }) => timeS),
    residuals,
    sd: fit.residualSd,
    largest: Math.max(...residuals.map(Math.abs)),
    waveShare: waveShareOf(residuals),
    crossings: residuals.filter((residual, i) => i > 0 && residual > 0 !== (residuals[i - 1] as number) > 0).length,
  };
}

/** The fit after light-off; undefined when the curve is too short to say anything. */
export function fitOf(curve: CurveChannel): WarmUpFit | undefined {
  const points = fromLightOff(curve);
  const fit = points.length < FEWEST_POINTS ? undefined : fitWarmUp(points);
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
    ...(Number.isFinite(fit.honestyMiss) ? { missK: fit.honestyMiss } : {}),
  };
}
