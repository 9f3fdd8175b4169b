/** One point of a linearity test: what the gas holds and the mean of what was read. */
export type LinearPoint = { readonly reference: number; readonly reading: number };
export type Linearity = {
  readonly slope: number;
  readonly offset: number;
  /** residuals from the line through zero and span, in the order of the points */
  readonly residuals: readonly number[];
  readonly worst: number;
  /** worst residual, % of the span gas */
  readonly worstPercentOfSpan: number;
  /** least-squares line through all points, for comparison */
  readonly fitted: { readonly slope: number; readonly offset: number; readonly residuals: readonly number[] };
};

/**
 * Departures from the straight line between the lowest and the highest point, as the bench prints them.
 *
 * @returns undefined with fewer than three different references
 * @source zero, middle and span against the line: US EPA CTM-030 (linearity at most 2.5 % of the span gas); three points or more: OIML R 144-2
 */
export function linearityOf(points: readonly LinearPoint[]): Linearity | undefined {
  if (new Set(points.map(({ reference }) => reference)).size < 3) return undefined;
  const sorted = [...points].sort((a, b) => a.reference - b.reference);
  const low = meanAt(sorted, sorted[0]?.reference ?? 0);
  const high = meanAt(sorted, sorted.at(-1)?.reference ?? 0);
  const span = high.reference - low.reference;
  const slope = (high.reading - low.reading) / span;
  const offset = low.reading - slope * low.reference;
  const residuals = points.map(({ reference, reading }) => reading - offset - slope * reference);
  const worst = residuals.reduce((most, residual) => (Math.abs(residual) > Math.abs(most) ? residual : most), 0);
  return { slope, offset, residuals, worst, worstPercentOfSpan: (100 * worst) / high.reference, fitted: leastSquares(points) };
}

/** Ordinary least squares of reading on reference. */
export function leastSquares(points: readonly LinearPoint[]): Linearity['fitted'] {
  const n = points.length;
  const mx = points.reduce((sum, { reference }) => sum + reference, 0) / n;
  const my = points.reduce((sum, { reading }) => sum + reading, 0) / n;
  const sxx = points.reduce((sum, { reference }) => sum + (reference - mx) ** 2, 0);
  const sxy = points.reduce((sum, { reference, reading }) => sum + (reference - mx) * (reading - my), 0);
  const slope = sxx === 0 ? 0 : sxy / sxx;
  const offset = my - slope * mx;
  return { slope, offset, residuals: points.map(({ reference, reading }) => reading - offset - slope * reference) };
}

function meanAt(points: readonly LinearPoint[], reference: number): LinearPoint {
  const same = points.filter((point) => point.reference === reference);
  return { reference, reading: same.reduce((sum, { reading }) => sum + reading, 0) / same.length };
}
