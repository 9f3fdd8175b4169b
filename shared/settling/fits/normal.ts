/**
 * Upper tail of the standard normal distribution, P(Z > z).
 *
 * @returns probability, absolute error below 1e-7
 * @source Abramowitz & Stegun, Handbook of Mathematical Functions, 26.2.17
 */
export function upperTail(z: number): number {
  if (z < 0) return 1 - upperTail(-z);
  if (z > 8) return 0;
  const t = 1 / (1 + 0.2316419 * z);
  const poly = t * (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  return 0.3989422804014327 * Math.exp(-0.5 * z * z) * poly;
}
