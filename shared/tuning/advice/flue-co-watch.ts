/**
 * CO in the flue against its limits, line by line: from what was measured (the mean of the last second, or the last line), never from a model. Pure:
 * the events carry the time. Judged air-free, so that excess air does not hide it.
 */
import { derive } from '../../combustion/figures/derive.ts';
import { O2_LIMIT_AIR_FREE_PERCENT } from '../../combustion/constants.ts';
import type { Fuel } from '../../combustion/fuel.ts';
import { coAirFreePpm } from '../../combustion/carbon-monoxide.ts';
import type { Sample } from '../../measurement/sample.ts';
import { flueCoLevel, type FlueCoLevel, type FlueCoLimits } from './cautions.ts';

export type FlueCoEvent =
  | {
      readonly kind: 'line';
      readonly sample: Sample;
      readonly fuel: Fuel;
      readonly limits: FlueCoLimits;
      /** the instrument breathes air, or says that it is not measuring flue gas */
      readonly isAir: boolean;
      /** typed from a display: no stream, so no start is seen in it */
      readonly isTyped: boolean;
    }
  /** no lines, port away, paused: nothing is measured now */
  | { readonly kind: 'not-measured' }
  /** a gap, another recipe: what came before says nothing about what comes */
  | { readonly kind: 'broken' };

/** `peakPpm` is air-free, as shown; whether it falls is judged by what was measured, which a falling O2 does not move. */
type Spike = {
  readonly sinceMs: number;
  readonly peakPpm: number;
  readonly measuredPeakPpm: number;
  readonly measuredLowPpm: number;
  readonly hasEased: boolean;
};
type Measured = { readonly timeMs: number; readonly co: number; readonly o2: number | undefined; readonly co2: number | undefined };

export type FlueCoWatch = {
  readonly level: FlueCoLevel;
  /** when this level began, run time */
  readonly sinceMs: number;
  /** what the level was judged by; undefined when the cell is over its range */
  readonly ppm: number | undefined;
  readonly isAirFree: boolean;
  readonly overRange: boolean;
  /** CO at light-off that still may be the usual spike */
  readonly spike: Spike | undefined;
  readonly lastSecond: readonly Measured[];
  /** air seen without a break since, and until */
  readonly airFromMs: number | undefined;
  readonly airToMs: number | undefined;
  /** the flame's gas, since a start that was seen */
  readonly startedMs: number | undefined;
  /** the gas before the air had an alarm: what comes back is no start */
  readonly hadAlarm: boolean;
};

export const newFlueCoWatch: FlueCoWatch = {
  level: 'clear',
  sinceMs: 0,
  ppm: undefined,
  isAirFree: false,
  overRange: false,
  spike: undefined,
  lastSecond: [],
  airFromMs: undefined,
  airToMs: undefined,
  startedMs: undefined,
  hadAlarm: false,
};

/** A little less than a second: of one line a second, even if they come unevenly, it is the last one. */
const LAST_SECOND_MS = 900;
const MOST_LINES = 64;
/** %vol dry; no oil burner burns above it. @source own choice */
const AIR_PERCENT = 18;
/** A single line of air is no burner that is off. */
const AIR_LEAST_MS = 3000;
/** After so much air it is a new start, whatever was before. */
const AIR_LONG_MS = 120_000;
/** @source own choice: a healthy burner is through its light-off within a minute of flue gas, the sampling line and the cell included */
const START_MS = 60_000;
/** By then it must have fallen from its peak by this much, and it may not rise again by that much. @source own choice */
const FALLS_WITHIN_MS = 30_000;
const FALLEN_SHARE = 0.9;
/** so far below the alarm that it is over: what comes then has come back. @source own choice */
const EASED_SHARE = 0.8;
const RISES_SHARE = 0.15;
const RISES_PPM = 50;

/** The largest factor between measured and air-free CO, at the highest O2 for which that is defined. */
const MOST_FACTOR = coAirFreePpm(1, O2_LIMIT_AIR_FREE_PERCENT);

export function watchFlueCo(watch: FlueCoWatch, event: FlueCoEvent): FlueCoWatch {
  switch (event.kind) {
    case 'not-measured':
      return cleared(watch.level === 'alarm' ? { ...watch, hadAlarm: true } : watch);
    case 'broken':
      return { ...newFlueCoWatch, hadAlarm: watch.level === 'alarm' || watch.hadAlarm };
    case 'line':
      return takeLine(watch, event);
  }
}

const cleared = (watch: FlueCoWatch): FlueCoWatch =>
  watch.level === 'clear' && watch.lastSecond.length === 0
    ? watch
    : { ...watch, level: 'clear', ppm: undefined, overRange: false, lastSecond: [] };

type Line = Extract<FlueCoEvent, { kind: 'line' }>;

function takeLine(before: FlueCoWatch, { sample, fuel, limits, isAir, isTyped }: Line): FlueCoWatch {
  const { timeMs, values, absent } = sample;
  const watch = watchStart(before, timeMs, values.o2);
  if (isAir) return cleared({ ...watch, hadAlarm: watch.hadAlarm || before.level === 'alarm', spike: undefined });
  if (absent?.co === 'over-range') {
    return leveled(watch, timeMs, 'alarm', { ppm: undefined, isAirFree: false, overRange: true, spike: undefined, lastSecond: [] });
  }
  // no figure says nothing new: an alarm holds until the cell reads again
  if (values.co === undefined) return watch;
  const line: Measured = { timeMs, co: values.co, o2: values.o2, co2: values.co2 };
  const lastSecond = [...watch.lastSecond.filter((one) => timeMs - one.timeMs < LAST_SECOND_MS).slice(1 - MOST_LINES), line];
  const mean = (pick: (one: Measured) => number | undefined): number | undefined => {
    const found = lastSecond.map(pick).filter((value) => value !== undefined);
    return found.length === 0 ? undefined : found.reduce((sum, value) => sum + value, 0) / found.length;
  };
  const measuredPpm = mean(({ co }) => co) as number;
  const airFreePpm = airFreeOf(
    measuredPpm,
    mean(({ o2 }) => o2),
    mean(({ co2 }) => co2),
    fuel,
    limits,
  );
  const level = flueCoLevel({ airFreePpm, measuredPpm, overRange: false }, limits);
  const facts = { ppm: airFreePpm ?? measuredPpm, isAirFree: airFreePpm !== undefined, overRange: false, lastSecond };
  const spike = isTyped ? undefined : spikeNow(watch, timeMs, { ppm: facts.ppm, measuredPpm }, level, limits.alarmPpm);
  return leveled(watch, timeMs, level === 'alarm' && spike !== undefined && !spike.hasEased ? 'notice' : level, { ...facts, spike });
}

/** Below the notice whatever the O2: the measured value is enough, and nothing is computed in a flood of lines. */
function airFreeOf(
  measuredPpm: number,
  o2: number | undefined,
  co2: number | undefined,
  fuel: Fuel,
  limits: FlueCoLimits,
): number | undefined {
  if (o2 !== undefined) return o2 <= O2_LIMIT_AIR_FREE_PERCENT && o2 >= 0 ? coAirFreePpm(measuredPpm, o2) : undefined;
  if (co2 === undefined || measuredPpm * MOST_FACTOR < limits.noticePpm) return undefined;
  return derive({ timeMs: 0, fuel, co2PercentDry: co2, coPpmDry: measuredPpm }).values.coAirFreePpm;
}

/** Follows O2 from air into flue gas: that is where a start is. */
function watchStart(watch: FlueCoWatch, timeMs: number, o2: number | undefined): FlueCoWatch {
  if (o2 === undefined) return watch;
  if (o2 >= AIR_PERCENT) {
    const airFromMs = watch.airFromMs ?? timeMs;
    const hadAlarm = (watch.hadAlarm || watch.level === 'alarm') && timeMs - airFromMs < AIR_LONG_MS;
    return { ...watch, airFromMs, airToMs: timeMs, hadAlarm };
  }
  if (watch.airFromMs === undefined) return watch;
  const wasLong = (watch.airToMs ?? timeMs) - watch.airFromMs >= AIR_LEAST_MS;
  return {
    ...watch,
    airFromMs: undefined,
    airToMs: undefined,
    ...(wasLong && { startedMs: watch.hadAlarm ? undefined : timeMs, spike: undefined }),
  };
}

/** @returns the spike at light-off, while CO at the alarm may still be one; `hasEased` once it has been below the alarm again */
function spikeNow(
  watch: FlueCoWatch,
  timeMs: number,
  { ppm, measuredPpm }: { ppm: number; measuredPpm: number },
  level: FlueCoLevel,
  alarmPpm: number,
): Spike | undefined {
  const { startedMs, spike } = watch;
  if (startedMs === undefined || timeMs - startedMs >= START_MS || watch.overRange) return undefined;
  if (spike === undefined) {
    // once it is an alarm it stays one
    if (level !== 'alarm' || watch.level === 'alarm') return undefined;
    return { sinceMs: timeMs, peakPpm: ppm, measuredPeakPpm: measuredPpm, measuredLowPpm: measuredPpm, hasEased: false };
  }
  if (level !== 'alarm') return ppm < EASED_SHARE * alarmPpm ? { ...spike, hasEased: true } : spike;
  if (spike.hasEased) return spike;
  const peak = Math.max(spike.measuredPeakPpm, measuredPpm);
  const low = measuredPpm >= peak ? measuredPpm : Math.min(spike.measuredLowPpm, measuredPpm);
  const risesAgain = low < FALLEN_SHARE * peak && measuredPpm > low + Math.max(RISES_PPM, RISES_SHARE * peak);
  const staysUp = timeMs - spike.sinceMs >= FALLS_WITHIN_MS && measuredPpm > FALLEN_SHARE * peak;
  if (risesAgain || staysUp) return undefined;
  return { ...spike, peakPpm: Math.max(spike.peakPpm, ppm), measuredPeakPpm: peak, measuredLowPpm: low };
}

type Facts = Pick<FlueCoWatch, 'ppm' | 'isAirFree' | 'overRange' | 'spike' | 'lastSecond'>;
const leveled = (watch: FlueCoWatch, timeMs: number, level: FlueCoLevel, facts: Facts): FlueCoWatch => ({
  ...watch,
  ...facts,
  level,
  sinceMs: level === watch.level ? watch.sinceMs : timeMs,
});
