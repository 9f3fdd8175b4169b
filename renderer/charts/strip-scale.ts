/** The value axis of one strip: what is visible decides, but never closer than a few bands, and in calm steps. Pure. */
import { tickIncrement, ticks } from 'd3-array';
import type { Columns } from '../../shared/series/series.ts';
import type { TrendSpan, TrendStrip } from './trend-content.ts';

export type StripScale = { low: number; high: number; ticks: readonly number[]; decimals: number };

/** an axis ends on round values: about so many steps of them hold what is seen */
const STEPS = 8;
/** as a part of what is above zero: a curve on zero does not lie on the edge */
const ROOM_BELOW_ZERO = 0.08;
export const isShare = (channel: TrendStrip['channel']): boolean => channel === 'o2' || channel === 'co';

/**
 * Two or three ticks at round values; the ends have room for the curve's width. `leastSpan` in the shown unit. The axis ends on round values, so that
 * it does not breathe with every sample. It never depends on the axis of a moment ago: the same figures give the same picture, whenever it is drawn.
 *
 * @param beginsAtZero a share of a gas is never less than none: where nothing below zero was seen, the axis begins there, with room for the curve's width
 */
export function stripScale(seen: { low: number; high: number } | undefined, leastSpan: number, beginsAtZero = false): StripScale {
  if (seen === undefined) return scaleOf(0, leastSpan);
  const middle = (seen.low + seen.high) / 2;
  const half = Math.max((seen.high - seen.low) * 0.53, leastSpan / 2);
  // a fraction is given as the negative of what one is divided by
  const increment = tickIncrement(middle - half, middle + half, STEPS);
  const onStep = (value: number, round: (steps: number) => number): number =>
    increment > 0 ? round(value / increment) * increment : round(value * -increment) / -increment;
  const [low, high] = [onStep(middle - half, Math.floor), onStep(middle + half, Math.ceil)];
  if (!beginsAtZero || low >= 0 || seen.low < 0) return scaleOf(low, high);
  const end = Math.max(high, leastSpan);
  return scaleOf(-ROOM_BELOW_ZERO * end, end);
}

function scaleOf(low: number, high: number): StripScale {
  const chosen = ticks(low + (high - low) * 0.06, high - (high - low) * 0.06, 3);
  const marks = chosen.length > 3 ? chosen.filter((_, index) => index % 2 === chosen.length % 2) : chosen;
  const step = marks.length > 1 ? (marks[1] as number) - (marks[0] as number) : high - low;
  return { low, high, ticks: marks, decimals: Math.max(0, -Math.floor(Math.log10(step) + 1e-9)) };
}

type Range = { low: number; high: number };

function widen(range: Range | undefined, value: number): Range {
  if (range === undefined) return { low: value, high: value };
  return { low: Math.min(range.low, value), high: Math.max(range.high, value) };
}

/** A value that one or two columns have and their neighbours have not: a bad line, or a spike as short as one. */
export type Stray = { index: number; end: 'low' | 'high' };
/** columns a stray may last, and how many on each side say what is usual there */
const STRAY_COLUMNS = 2;
const NEIGHBOURS = 8;

/** The second lowest (1) or highest (-1) of some columns: two strays near each other do not make each other usual. Without sorting: it is asked often. */
function secondOf(values: readonly number[], [from, to]: readonly [number, number], order: 1 | -1): number {
  let [first, second] = [Infinity, Infinity];
  for (let index = Math.max(0, from); index < Math.min(to, values.length); index++) {
    const value = order * (values[index] as number);
    if (value < first) [first, second] = [value, first];
    else if (value < second) second = value;
  }
  return order * (second === Infinity ? first : second);
}

/**
 * Strays stay out of the scale, or one bad line presses a quarter of an hour flat. What came last is none: it may be the beginning of something.
 * `leastSpan` is in the unit of the columns.
 */
export function straysOf({ low, high }: Pick<Columns, 'low' | 'high'>, leastSpan: number): Stray[] {
  const strays: Stray[] = [];
  /** Near what came before it: so is nearly every column, and looking is far quicker than sorting. */
  const isOrdinary = (index: number): boolean => {
    let [mostLow, leastHigh] = [-Infinity, Infinity];
    for (let column = Math.max(0, index - NEIGHBOURS); column <= index - STRAY_COLUMNS; column++) {
      mostLow = Math.max(mostLow, low[column] as number);
      leastHigh = Math.min(leastHigh, high[column] as number);
    }
    return (low[index] as number) >= mostLow - leastSpan && (high[index] as number) <= leastHigh + leastSpan;
  };
  for (let index = STRAY_COLUMNS; index < low.length - STRAY_COLUMNS; index++) {
    if (isOrdinary(index)) continue;
    // beyond what is usual before it and after it: the foot of a steep rise is none
    const [before, after] = [
      [index - NEIGHBOURS, index - STRAY_COLUMNS + 1],
      [index + STRAY_COLUMNS, index + NEIGHBOURS + 1],
    ] as const;
    const lowest = Math.min(secondOf(low, before, 1), secondOf(low, after, 1));
    const highest = Math.max(secondOf(high, before, -1), secondOf(high, after, -1));
    const far = Math.max(leastSpan, 2 * (highest - lowest));
    // what is beside it is usual again: a peak of several columns is no stray
    const isAlone = (isBeyond: (column: number) => boolean): boolean =>
      isBeyond(index) && [-1, 1].some((side) => !isBeyond(index + side) && !(isBeyond(index - side) && isBeyond(index - 2 * side)));
    if (isAlone((column) => (low[column] as number) < lowest - far)) strays.push({ index, end: 'low' });
    if (isAlone((column) => (high[column] as number) > highest + far)) strays.push({ index, end: 'high' });
  }
  return strays;
}

/** % O2: nothing is computed from flue gas so thin */
const NEARLY_AIR = 18;

/**
 * Which columns are not used: those of an excluded stretch, and of O2 its way up into fresh air and back from it. Fresh air is known as such a moment
 * after it began; until then its O2 was told as the flue's.
 */
function unusedColumns({ timeMs, high }: Pick<Columns, 'timeMs' | 'high'>, excluded: readonly TrendSpan[], isO2: boolean): boolean[] {
  const isUnused = timeMs.map((time, index) => {
    if (excluded.length === 0) return false;
    // a column's time is its middle: it holds what came from half way after the last one until, at most, the next one
    const sinceMs = ((timeMs[index - 1] ?? time) + time) / 2;
    const untilMs = timeMs[index + 1] ?? Infinity;
    return excluded.some(({ fromMs, toMs }) => untilMs >= fromMs && sinceMs <= toMs);
  });
  if (!isO2) return isUnused;
  const isOnTheWay = (index: number, nearerAir: number): boolean =>
    isUnused[nearerAir] === true && ((high[index] as number) >= NEARLY_AIR || (high[index] as number) < (high[nearerAir] as number));
  for (let index = timeMs.length - 2; index >= 0; index--) isUnused[index] ||= isOnTheWay(index, index + 1);
  for (let index = 1; index < timeMs.length; index++) isUnused[index] ||= isOnTheWay(index, index - 1);
  return isUnused;
}

/** Where the slot that a channel is heading for begins; a gas does not head for less than none. */
export const lowEndOf = ({ value, band }: { value: number; band: number }, channel: TrendStrip['channel']): number =>
  isShare(channel) ? Math.max(Math.min(0, value), value - band) : value - band;

/**
 * What the strip has to show: the curve, where it is heading, its readings. Excluded stretches (air before the start at 20.9 %, fresh air) are
 * drawn and hatched, and run out of the strip: they do not press what is measured flat. Nor do strays, which an arrow at the edge tells.
 */
export function rangeOf(
  { timeMs, low, high }: Pick<Columns, 'timeMs' | 'low' | 'high'>,
  { channel, heading, readings, drift, swing }: Pick<TrendStrip, 'channel' | 'heading' | 'readings' | 'drift' | 'swing'>,
  span: TrendSpan,
  excluded: readonly TrendSpan[],
  toShown: (inner: number) => number,
  strays: readonly Stray[] = [],
): Range | undefined {
  const isStray = { low: new Uint8Array(low.length), high: new Uint8Array(low.length) };
  for (const { index, end } of strays) isStray[end][index] = 1;
  const isUnused = unusedColumns({ timeMs, high }, excluded, channel === 'o2');
  const [used, all] = [
    { low: Infinity, high: -Infinity },
    { low: Infinity, high: -Infinity },
  ];
  for (let index = 0; index < low.length; index++) {
    const [isLowStray, isHighStray] = [isStray.low[index] === 1, isStray.high[index] === 1];
    if (isLowStray && isHighStray) continue;
    const [lowest, highest] = [low[index] as number, high[index] as number];
    // a column of one line is one value
    if (lowest === highest && (isLowStray || isHighStray)) continue;
    const [bottom, top] = [toShown(isLowStray ? highest : lowest), toShown(isHighStray ? lowest : highest)];
    for (const range of isUnused[index] === true ? [all] : [all, used]) {
      range.low = Math.min(range.low, bottom, top);
      range.high = Math.max(range.high, bottom, top);
    }
  }
  let range: Range | undefined = [used, all].find((one) => one.low <= one.high);
  if (heading !== undefined && range !== undefined)
    range = widen(widen(range, toShown(lowEndOf(heading, channel))), toShown(heading.value + heading.band));
  if (drift !== undefined && range !== undefined) range = widen(range, toShown(drift.toValue));
  if (swing !== undefined && range !== undefined) range = widen(widen(range, toShown(swing.low)), toShown(swing.high));
  for (const reading of readings)
    if (reading.timeMs >= span.fromMs && reading.timeMs <= span.toMs) range = widen(range, toShown(reading.value));
  return range;
}

/** @returns the axis in the shown unit, and the strays that are not on it */
export function stripViewOf(
  columns: Columns,
  strip: TrendStrip,
  span: TrendSpan,
  excluded: readonly TrendSpan[],
  { factor, offset }: { factor: number; offset: number },
): { scale: StripScale; strays: Stray[] } {
  const strays = straysOf(columns, strip.leastSpan);
  const range = rangeOf(columns, strip, span, excluded, (inner) => inner * factor + offset, strays);
  return { scale: stripScale(range, strip.leastSpan * factor, isShare(strip.channel)), strays };
}
