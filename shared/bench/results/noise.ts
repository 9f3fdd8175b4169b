/** Averaging time against what averaging gains. */
export type AllanPoint = { readonly averagingS: number; readonly deviation: number; readonly pairs: number };

/**
 * Overlapping Allan deviation of an evenly spaced series.
 *
 *     sigma^2(m) = 1/2 mean((ybar_{k+m} - ybar_k)^2)
 *
 * White noise falls with the root of the averaging time, drift rises: the lowest point is the best averaging time.
 *
 * @param intervalS spacing of the values, s
 * @source IEEE Std 1139 (definition, from memory)
 */
export function allanDeviation(values: readonly number[], intervalS: number): AllanPoint[] {
  const sums = [0];
  for (const value of values) sums.push((sums.at(-1) as number) + value);
  const points: AllanPoint[] = [];
  for (let m = 1; m <= values.length / 3; m = Math.max(m + 1, Math.round(m * 1.5))) {
    let square = 0;
    let pairs = 0;
    for (let k = 0; k + 2 * m < sums.length; k++) {
      const first = ((sums[k + m] as number) - (sums[k] as number)) / m;
      const second = ((sums[k + 2 * m] as number) - (sums[k + m] as number)) / m;
      square += (second - first) ** 2;
      pairs++;
    }
    if (pairs > 0) points.push({ averagingS: m * intervalS, deviation: Math.sqrt(square / (2 * pairs)), pairs });
  }
  return points;
}

/** Averaging still helps at the longest time that was looked at: the step was too short to see drift take over. */
export const stillFalls = (points: readonly AllanPoint[], best: AllanPoint): boolean =>
  points.filter(({ pairs }) => pairs >= 8).at(-1) === best;

/** Where the deviation is lowest. */
export const bestAveraging = (points: readonly AllanPoint[]): AllanPoint | undefined =>
  points
    .filter(({ pairs }) => pairs >= 8)
    .reduce<AllanPoint | undefined>((best, point) => (best === undefined || point.deviation < best.deviation ? point : best), undefined);
