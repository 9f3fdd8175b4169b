/** The value axis of one strip: what is visible decides, but never closer than a few bands, and in calm steps. Pure. */
import { ticks } from 'd3-array';
import type { Columns } from '../../shared/series/series.ts';
import type { TrendSpan, TrendStrip } from './trend-content.ts';

export type StripScale = { low: number; high: number; ticks: readonly number[]; decimals: number };

/** Two or three ticks at round values; the ends have room for the curve's width. `leastSpan` in the shown unit. */
export function stripScale(seen: { low: number; high: number } | undefined, leastSpan: number, before?: StripScale): StripScale {
  if (seen === undefined) return before ?? scaleOf(0, leastSpan);
  const middle = (seen.low + seen.high) / 2;
  const half = Math.max((seen.high - seen.low) * 0.56, leastSpan / 2);
  const [low, high] = [middle - half, middle + half];
  // keep the axis as long as what is seen still fits and fills it: an axis that breathes with every sample can't be read
  if (before !== undefined) {
    const fits = seen.low >= before.low + (before.high - before.low) * 0.02 && seen.high <= before.high - (before.high - before.low) * 0.02;
    const fills = (before.high - before.low) / (high - low) < 1.8;
    if (fits && fills) return before;
  }
  return scaleOf(low, high);
}

function scaleOf(low: number, high: number): StripScale {
  const chosen = ticks(low + (high - low) * 0.06, high - (high - low) * 0.06, 3);
  const marks = chosen.length > 3 ? chosen.filter((_, index) => index % 2 === chosen.length % 2) : chosen;
  const step = marks.length > 1 ? (marks[1] as number) - (marks[0] as number) : high - low;
  return { low, high, ticks: marks, decimals: Math.max(0, -Math.floor(Math.log10(step) + 1e-9)) };
}

function widen(range: { low: number; high: number } | undefined, value: number): { low: number; high: number } {
  if (range === undefined) return { low: value, high: value };
  return { low: Math.min(range.low, value), high: Math.max(range.high, value) };
}

/**
 * What the strip has to show: the curve, where it is heading, its readings. Excluded stretches (air before the start at 20.9 %, fresh air) are
 * drawn and hatched, and run out of the strip: they do not press what is measured flat.
 */
export function rangeOf(
  { timeMs, low, high }: Pick<Columns, 'timeMs' | 'low' | 'high'>,
  { heading, readings, drift, swing }: Pick<TrendStrip, 'heading' | 'readings' | 'drift' | 'swing'>,
  span: TrendSpan,
  excluded: readonly TrendSpan[],
  toShown: (inner: number) => number,
): { low: number; high: number } | undefined {
  let used: { low: number; high: number } | undefined;
  let all: { low: number; high: number } | undefined;
  low.forEach((value, index) => {
    const time = timeMs[index] as number;
    const [bottom, top] = [toShown(value), toShown(high[index] as number)];
    all = widen(widen(all, bottom), top);
    // a column holds what came until the next one
    const untilMs = timeMs[index + 1] ?? time;
    if (!excluded.some(({ fromMs, toMs }) => untilMs >= fromMs && time <= toMs)) used = widen(widen(used, bottom), top);
  });
  let range = used ?? all;
  if (heading !== undefined && range !== undefined)
    range = widen(widen(range, toShown(heading.value - heading.band)), toShown(heading.value + heading.band));
  if (drift !== undefined && range !== undefined) range = widen(range, toShown(drift.toValue));
  if (swing !== undefined && range !== undefined) range = widen(widen(range, toShown(swing.low)), toShown(swing.high));
  for (const reading of readings)
    if (reading.timeMs >= span.fromMs && reading.timeMs <= span.toMs) range = widen(range, toShown(reading.value));
  return range;
}
