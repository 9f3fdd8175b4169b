import { linearRegression, linearRegressionLine } from 'simple-statistics';
import { studentQuantile95 } from '../../units/student.ts';

/** Sensitivity of a cell at one earlier test: reading over reference at span, before adjustment, 1 = as new. */
export type SpanPoint = { readonly wallMs: number; readonly sensitivity: number };

export type EndOfLife =
  | { readonly kind: 'not-enough' }
  /** no fall that stands out of the scatter */
  | { readonly kind: 'steady' }
  | {
      readonly kind: 'forecast';
      readonly wallMs: number;
      readonly earliestMs: number;
      readonly latestMs: number | undefined;
      readonly perYear: number;
    }
  | { readonly kind: 'reached' };

const YEAR_MS = 365.25 * 86_400_000;

/**
 * When a cell's sensitivity will have fallen to `limit`, from a straight line through its earlier tests.
 * The interval holds the crossing of the 95 % band of the line; its end is open where the band never crosses.
 *
 * @param limit least sensitivity, as a part of the first (0.7: common practice)
 * @source inverse prediction from a regression line, textbook (from memory)
 */
export function endOfLife(points: readonly SpanPoint[], limit = 0.7): EndOfLife {
  const last = points.at(-1);
  if (last !== undefined && last.sensitivity <= limit) return { kind: 'reached' };
  if (points.length < 3 || last === undefined) return { kind: 'not-enough' };
  const years = points.map(({ wallMs }) => (wallMs - last.wallMs) / YEAR_MS);
  const pairs = points.map(({ sensitivity }, i) => [years[i] as number, sensitivity]);
  const { m: slope, b: offset } = linearRegression(pairs);
  const line = linearRegressionLine({ m: slope, b: offset });
  const n = points.length;
  const mean = years.reduce((sum, year) => sum + year, 0) / n;
  const sxx = years.reduce((sum, year) => sum + (year - mean) ** 2, 0);
  if (sxx === 0) return { kind: 'not-enough' };
  const residual = Math.sqrt(
    pairs.reduce((sum, [year, value]) => sum + ((value as number) - line(year as number)) ** 2, 0) / Math.max(1, n - 2),
  );
  const t = studentQuantile95(n - 2);
  const halfBand = (year: number): number => t * residual * Math.sqrt(1 / n + (year - mean) ** 2 / sxx);
  if (slope + (t * residual) / Math.sqrt(sxx) >= 0) return { kind: 'steady' };
  const crossing = (limit - offset) / slope;
  const firstBelow = (edge: (year: number) => number): number | undefined => {
    for (let year = 0; year <= 30; year += 1 / 52) if (edge(year) <= limit) return year;
    return undefined;
  };
  const earliest = firstBelow((year) => line(year) - halfBand(year)) ?? crossing;
  const latest = firstBelow((year) => line(year) + halfBand(year));
  const at = (year: number): number => last.wallMs + year * YEAR_MS;
  return {
    kind: 'forecast',
    wallMs: at(Math.max(0, crossing)),
    earliestMs: at(earliest),
    latestMs: latest === undefined ? undefined : at(latest),
    perYear: slope,
  };
}
