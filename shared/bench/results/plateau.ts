import type { StepPoint } from './step-fit.ts';

/** Mean of a steady stretch. Units of the channel; `u` counts autocorrelation and the display's rounding. */
export type Plateau = {
  readonly mean: number;
  readonly sd: number;
  readonly n: number;
  readonly nEff: number;
  readonly u: number;
  readonly fromS: number;
  readonly toS: number;
};

/**
 * Statistics of a stretch that is steady. The lag-1 autocorrelation shrinks the number of samples that count:
 *
 *     n_eff = n (1 - r)/(1 + r)
 *
 * @param resolution step of the display; its rounding (uniform) is added once, because it does not average out where the noise is smaller
 * @returns undefined with fewer than 5 samples
 * @source n_eff of an AR(1) series, textbook (from memory); rounding: JCGM 100:2008 F.2.2.1
 */
export function plateauOf(points: readonly StepPoint[], resolution = 0): Plateau | undefined {
  const n = points.length;
  const first = points[0];
  const last = points[n - 1];
  if (n < 5 || first === undefined || last === undefined) return undefined;
  const mean = points.reduce((sum, { y }) => sum + y, 0) / n;
  let square = 0;
  let product = 0;
  for (let i = 0; i < n; i++) {
    const d = (points[i] as StepPoint).y - mean;
    square += d * d;
    if (i > 0) product += d * ((points[i - 1] as StepPoint).y - mean);
  }
  const sd = Math.sqrt(square / (n - 1));
  const r = square === 0 ? 0 : Math.min(0.98, Math.max(0, product / square));
  const nEff = Math.max(1, (n * (1 - r)) / (1 + r));
  const rounding = sd > 0.5 * resolution ? 0 : resolution / Math.sqrt(12);
  return { mean, sd, n, nEff, u: Math.hypot(sd / Math.sqrt(nEff), rounding), fromS: first.t, toS: last.t };
}

/** Is the stretch steady: its drift over the whole stretch is within `band`, with the noise taken into account? */
export function isAtRest(points: readonly StepPoint[], band: number): boolean {
  const plateau = plateauOf(points);
  if (plateau === undefined) return false;
  const middle = (plateau.fromS + plateau.toS) / 2;
  let st = 0;
  let sty = 0;
  for (const { t, y } of points) {
    st += (t - middle) ** 2;
    sty += (t - middle) * (y - plateau.mean);
  }
  if (st === 0) return false;
  const drift = (sty / st) * (plateau.toS - plateau.fromS);
  return Math.abs(drift) <= band;
}
