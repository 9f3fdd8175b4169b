/** How this report writes figures: the units of the visit, no more digits than the uncertainty carries. */
import { formatClock } from '../format/duration.ts';
import { formatDay } from '../format/date.ts';
import { decimalsFor, formatNumber, formatWithHalf, withUnit, type UnitSystem } from '../format/quantity.ts';
import { L_PER_US_GALLON } from '../units/convert.ts';
import type { QuantityId } from '../units/quantities.ts';
import type { Visit } from '../tuning/visit/visit.ts';
import { reportWords } from '../words/paper/page-one.ts';
import type { FigureText } from './card-format.ts';

/** A value and its half-width in the same digits, without a unit; the half-width never shows as nothing. */
export function pair(value: number, half: number, mostDecimals = 1): FigureText {
  const decimals = decimalsFor(half, mostDecimals);
  return { value: formatNumber(value, decimals), half: `±${formatNumber(Math.max(half, 10 ** -decimals), decimals)}` };
}

export const written = ({ value, half }: FigureText, unit = ''): string => withUnit(half === undefined ? value : `${value} ${half}`, unit);

export const figureText = (id: QuantityId, inner: { value: number; half: number }, units: UnitSystem): FigureText => {
  const { value, half } = formatWithHalf(id, inner, units);
  return { value, half };
};

/** Fuel of a year, told in gallons inside. */
export const fuelVolume = (gallons: number, units: UnitSystem): string =>
  `${formatNumber(units === 'us' ? gallons : gallons * L_PER_US_GALLON, 0)}\u00a0${reportWords.fuelVolume[units]}`;

/** Wall-clock times of this visit. */
export const timesOf = ({ zoneMinutes, runs }: Visit) => ({
  clock: (wallMs: number): string => formatClock(wallMs, zoneMinutes, 'minutes'),
  exact: (wallMs: number): string => formatClock(wallMs, zoneMinutes, 'seconds'),
  day: (wallMs: number): string => formatDay(wallMs, zoneMinutes),
  dayAndTime: (wallMs: number): string => `${formatDay(wallMs, zoneMinutes)} ${formatClock(wallMs, zoneMinutes, 'minutes')}`,
  /** undefined when the run is not one of the visit's */
  ofRun: (runId: string, timeMs: number): number | undefined => {
    const run = runs.find(({ id }) => id === runId);
    return run === undefined ? undefined : run.startWallMs + timeMs;
  },
});

/** '7f3a 91c2': enough to tell two runs apart by eye. */
export const shortHash = (hash: string): string => `${hash.slice(0, 4)} ${hash.slice(4, 8)}`;

/** A whole hash in groups of four, so that it can be read out and compared. */
export const hashInGroups = (hash: string): string => hash.match(/.{1,4}/g)?.join(' ') ?? '';

/** Trials are counted through the visit, whatever their run. */
export const trialNumber = (visit: Visit, trialId: string): number => visit.trials.findIndex(({ id }) => id === trialId) + 1;
