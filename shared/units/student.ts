/**
 * Two-sided 95 % point of Student's t.
 *
 *     t = 1.95996 + 2.37227/v + 2.82/v^2 + 2.56/v^3 + 1.6/v^4 ...   (Cornish-Fisher in 1/v)
 *
 * Good to 0.001 from 4 degrees of freedom up; below that the table's values stand.
 *
 * @source Abramowitz and Stegun 26.7.5 (series) and table 26.10 (1 to 3), from memory; checked against table G.2 of JCGM 100:2008 in the tests
 */
export function studentQuantile95(degreesOfFreedom: number): number {
  const v = Math.max(1, Math.floor(degreesOfFreedom));
  if (v === 1) return 12.706;
  if (v === 2) return 4.303;
  if (v === 3) return 3.182;
  const x = 1.959964;
  const g1 = (x ** 3 + x) / 4;
  const g2 = (5 * x ** 5 + 16 * x ** 3 + 3 * x) / 96;
  const g3 = (3 * x ** 7 + 19 * x ** 5 + 17 * x ** 3 - 15 * x) / 384;
  const g4 = (79 * x ** 9 + 776 * x ** 7 + 1482 * x ** 5 - 1920 * x ** 3 - 945 * x) / 92160;
  return x + g1 / v + g2 / v ** 2 + g3 / v ** 3 + g4 / v ** 4;
}
