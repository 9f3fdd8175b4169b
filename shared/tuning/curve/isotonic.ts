/**
 * Isotonic regression by pooling adjacent violators: the non-decreasing sequence nearest to the data in weighted least squares.
 *
 * @param values in order of the independent variable
 * @param weights positive; all equal when left out
 * @returns the fitted value at each point
 * @source Barlow, Bartholomew, Bremner & Brunk, Statistical Inference under Order Restrictions, 1972 (from memory)
 */
export function isotonicFit(values: readonly number[], weights?: readonly number[]): number[] {
  const blocks: { sum: number; weight: number; count: number }[] = [];
  values.forEach((value, index) => {
    const weight = weights?.[index] ?? 1;
    blocks.push({ sum: value * weight, weight, count: 1 });
    for (
      let last = blocks.at(-1)!, before = blocks.at(-2);
      before && before.sum / before.weight >= last.sum / last.weight;
      before = blocks.at(-2)
    ) {
      blocks.pop();
      before.sum += last.sum;
      before.weight += last.weight;
      before.count += last.count;
      last = before;
    }
  });
  return blocks.flatMap(({ sum, weight, count }) => Array.from({ length: count }, () => sum / weight));
}

/** The same, non-increasing. */
export const antitonicFit = (values: readonly number[], weights?: readonly number[]): number[] =>
  isotonicFit(
    values.map((value) => -value),
    weights,
  ).map((value) => -value);

/**
 * Valley-shaped fit: non-increasing up to some point, non-decreasing after it; the turning point is the one with the least squares left.
 *
 * @returns the fit and the index of the lowest point (the middle one of equals)
 */
export function valleyFit(values: readonly number[], weights?: readonly number[]): { fit: number[]; lowest: number } {
  let best: { fit: number[]; left: number } | undefined;
  for (let turn = 0; turn <= values.length; turn++) {
    const fit = [...antitonicFit(values.slice(0, turn), weights?.slice(0, turn)), ...isotonicFit(values.slice(turn), weights?.slice(turn))];
    const left = fit.reduce((sum, fitted, index) => sum + (weights?.[index] ?? 1) * (fitted - values[index]!) ** 2, 0);
    if (!best || left < best.left - 1e-12) best = { fit, left };
  }
  const fit = best?.fit ?? [];
  const least = Math.min(...fit);
  const lowestOnes = fit.flatMap((fitted, index) => (fitted <= least + 1e-9 ? [index] : []));
  return { fit, lowest: lowestOnes[Math.floor((lowestOnes.length - 1) / 2)] ?? 0 };
}
