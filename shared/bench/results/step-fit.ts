/**
 * A first-order lag with dead time, fitted to the answer of a sensor to a step at its inlet:
 *
 *     y(t) = from                                   t < dead
 *     y(t) = to + (from - to) exp(-(t - dead)/tau)  t >= dead
 *
 * `from` and `to` enter linearly, so only (dead, tau) are searched (variable projection); the search is Gauss-Newton with a grid start.
 * Own code because the two linear parameters, the kink at `dead` and the covariance are wanted together; 100 lines.
 *
 * @source first-order response: any text on linear systems; variable projection: Golub and Pereyra, SIAM J. Numer. Anal. 10 (1973) 413 (from memory)
 */
export type StepPoint = { readonly t: number; readonly y: number };
export type Weights = readonly [dead: number, tau: number, from: number, to: number];
export type StepFit = {
  readonly from: number;
  readonly to: number;
  /** s after the step at the inlet */
  readonly dead: number;
  readonly tau: number;
  /** residual standard deviation */
  readonly sd: number;
  /**
   * Variance of a sum of [dead, tau, from, to] with these weights, per unit residual variance. A sum of squares, so it cannot come out below zero.
   * Absent: the points do not tell dead time and time constant apart, as when the answer comes between two lines.
   */
  readonly unitVariance: ((weights: Weights) => number) | undefined;
  readonly residuals: readonly number[];
};

const share = (t: number, dead: number, tau: number): number => (t < dead ? 0 : 1 - Math.exp(-(t - dead) / tau));

type Linear = { from: number; to: number; rss: number };

/** The share of each point in the answer, kept from the sums to the squares: half of the search is this exponential. */
let shares = new Float64Array(256);

/** Best `from` and `to` for given dead time and time constant. */
function project(points: readonly StepPoint[], dead: number, tau: number): Linear {
  const n = points.length;
  if (shares.length < n) shares = new Float64Array(2 * n);
  let s1 = 0;
  let s2 = 0;
  let y0 = 0;
  let y1 = 0;
  for (let i = 0; i < n; i++) {
    const { t, y } = points[i] as StepPoint;
    const g = share(t, dead, tau);
    shares[i] = g;
    s1 += g;
    s2 += g * g;
    y0 += y;
    y1 += y * g;
  }
  const det = n * s2 - s1 * s1;
  if (det <= 1e-12 * n * n) return { from: y0 / n, to: y0 / n, rss: Number.POSITIVE_INFINITY };
  const from = (s2 * y0 - s1 * y1) / det;
  const rise = (n * y1 - s1 * y0) / det;
  let rss = 0;
  for (let i = 0; i < n; i++) rss += ((points[i] as StepPoint).y - from - rise * (shares[i] as number)) ** 2;
  return { from, to: from + rise, rss };
}

/**
 * @param points times in s after the step, in order; some before the answer begins and some on the plateau
 * @param start where to begin the search; without it a grid over both is looked through first
 * @returns undefined with fewer than 8 points or when nothing moves
 */
export function fitStep(points: readonly StepPoint[], start?: { readonly dead: number; readonly tau: number }): StepFit | undefined {
  const n = points.length;
  const last = points.at(-1)?.t ?? 0;
  if (n < 8 || last <= 0) return undefined;
  const begin = start === undefined ? search(thin(points, 60), last) : { dead: start.dead, tau: start.tau };
  if (begin === undefined) return undefined;
  const best = refine(points, begin);
  const { dead, tau } = best;
  const { from, to, rss } = project(points, dead, tau);
  const unitVariance = varianceBy(normalMatrix(points, { dead, tau, from, to }));
  const residuals = points.map(({ t, y }) => y - from - (to - from) * share(t, dead, tau));
  return { from, to, dead, tau, sd: Math.sqrt(rss / (n - 4)), unitVariance, residuals };
}

/** A coarse grid over both keeps the descent out of side valleys. */
function search(points: readonly StepPoint[], last: number): { dead: number; tau: number } | undefined {
  let best = { dead: 0, tau: 1, rss: Number.POSITIVE_INFINITY };
  for (let i = 0; i <= 24; i++) {
    for (let j = 0; j < 16; j++) {
      const dead = (last * 0.6 * i) / 24;
      const tau = last * 0.004 * (0.5 / 0.004) ** (j / 15);
      const { rss } = project(points, dead, tau);
      if (rss < best.rss) best = { dead, tau, rss };
    }
  }
  return Number.isFinite(best.rss) ? best : undefined;
}

/** Means of neighbours: enough for the grid. */
function thin(points: readonly StepPoint[], most: number): StepPoint[] {
  const size = Math.ceil(points.length / most);
  const thinned: StepPoint[] = [];
  for (let i = 0; i < points.length; i += size) {
    const part = points.slice(i, i + size);
    thinned.push({ t: part.reduce((sum, { t }) => sum + t, 0) / part.length, y: part.reduce((sum, { y }) => sum + y, 0) / part.length });
  }
  return thinned;
}

/** Damped Gauss-Newton in (dead, tau), then a short pattern search, because the kink at `dead` spoils the derivatives near a sample. */
function refine(points: readonly StepPoint[], begin: { dead: number; tau: number }): { dead: number; tau: number; rss: number } {
  let best = { ...begin, rss: project(points, begin.dead, begin.tau).rss };
  let damping = 1e-3;
  for (let round = 0; round < 30 && damping < 1e6; round++) {
    const { from, to } = project(points, best.dead, best.tau);
    const parameters = { dead: best.dead, tau: best.tau, from, to };
    const normal = normalMatrix(points, parameters);
    const slope = [0, 0, 0, 0];
    for (const { t, y } of points) {
      const g = stepGradient(t, parameters);
      const residual = y - from - (to - from) * share(t, best.dead, best.tau);
      for (let i = 0; i < 4; i++) slope[i] = (slope[i] as number) + (g[i] as number) * residual;
    }
    const damped = invert(normal.map((row, i) => row.map((value, j) => (i === j ? value * (1 + damping) + 1e-12 : value))));
    if (damped === undefined) break;
    const move = (i: number): number => slope.reduce((sum, value, j) => sum + at(damped, i, j) * value, 0);
    const dead = Math.max(0, best.dead + move(0));
    const tau = Math.max(best.tau * 0.3, best.tau + move(1));
    const { rss } = project(points, dead, tau);
    if (rss < best.rss) {
      const gain = best.rss - rss;
      best = { dead, tau, rss };
      damping = Math.max(1e-6, damping / 5);
      if (gain < 1e-9 * rss) break;
    } else damping *= 6;
  }
  let step = { dead: 0.05 * best.tau, tau: 0.05 * best.tau };
  for (let round = 0; round < 14; round++) {
    let moved = false;
    for (const [d, k] of pattern) {
      const dead = Math.max(0, best.dead + d * step.dead);
      const tau = Math.max(1e-3, best.tau + k * step.tau);
      const { rss } = project(points, dead, tau);
      if (rss < best.rss) {
        best = { dead, tau, rss };
        moved = true;
        break;
      }
    }
    if (!moved) step = { dead: step.dead * 0.4, tau: step.tau * 0.4 };
  }
  return best;
}

const pattern = [
  [1, -1],
  [-1, 1],
  [1, 0],
  [-1, 0],
  [0, 1],
  [0, -1],
] as const;

type Parameters = { dead: number; tau: number; from: number; to: number };

/** dy/d[dead, tau, from, to] at one time. */
function stepGradient(t: number, { dead, tau, from, to }: Parameters): [number, number, number, number] {
  if (t < dead) return [0, 0, 1, 0];
  const e = Math.exp(-(t - dead) / tau);
  return [((from - to) * e) / tau, ((from - to) * e * (t - dead)) / (tau * tau), e, 1 - e];
}

function normalMatrix(points: readonly StepPoint[], parameters: Parameters): number[][] {
  const matrix = Array.from({ length: 4 }, () => [0, 0, 0, 0]);
  for (const { t } of points) {
    const g = stepGradient(t, parameters);
    for (let i = 0; i < 4; i++)
      for (let j = 0; j < 4; j++) (matrix[i] as number[])[j] = at(matrix, i, j) + (g[i] as number) * (g[j] as number);
  }
  return matrix;
}

const at = (matrix: readonly (readonly number[])[], i: number, j: number): number => matrix[i]?.[j] ?? 0;

/** Below this part of its size a pivot is what rounding left over. */
const LEAST_PIVOT = 1e-9;

/**
 * w' N^-1 w by the Cholesky factor of the normal matrix N, scaled to a unit diagonal: |L^-1 w|^2. From the inverse itself the same figure is a
 * difference of large terms, which came out below zero where the answer was quicker than the lines.
 *
 * @returns undefined where N is singular within rounding
 * @source Cholesky factorization: any text on numerical linear algebra
 */
function varianceBy(normal: readonly (readonly number[])[]): StepFit['unitVariance'] {
  const n = normal.length;
  const scale = normal.map((_, i) => Math.sqrt(at(normal, i, i)));
  if (!scale.every((one) => one > 0 && Number.isFinite(one))) return undefined;
  const lower = normal.map(() => Array.from({ length: n }, () => 0));
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = at(normal, i, j) / ((scale[i] as number) * (scale[j] as number));
      for (let k = 0; k < j; k++) sum -= at(lower, i, k) * at(lower, j, k);
      if (i === j && !(sum > LEAST_PIVOT)) return undefined;
      (lower[i] as number[])[j] = i === j ? Math.sqrt(sum) : sum / at(lower, j, j);
    }
  }
  return (weights) => {
    const solved: number[] = [];
    for (let i = 0; i < n; i++) {
      let sum = (weights[i] as number) / (scale[i] as number);
      for (let k = 0; k < i; k++) sum -= at(lower, i, k) * (solved[k] as number);
      solved.push(sum / at(lower, i, i));
    }
    return solved.reduce((sum, value) => sum + value * value, 0);
  };
}

/** Gauss-Jordan with pivoting; undefined when singular. */
function invert(matrix: readonly (readonly number[])[]): number[][] | undefined {
  const n = matrix.length;
  const work = matrix.map((row, i) => [...row, ...Array.from({ length: n }, (_, j) => (i === j ? 1 : 0))]);
  for (let column = 0; column < n; column++) {
    let pivot = column;
    for (let row = column + 1; row < n; row++) if (Math.abs(at(work, row, column)) > Math.abs(at(work, pivot, column))) pivot = row;
    const top = work[pivot];
    if (top === undefined || Math.abs(at(work, pivot, column)) < 1e-12) return undefined;
    [work[pivot], work[column]] = [work[column] as number[], top];
    const scale = at(work, column, column);
    work[column] = top.map((value) => value / scale);
    for (let row = 0; row < n; row++) {
      if (row === column) continue;
      const factor = at(work, row, column);
      work[row] = (work[row] as number[]).map((value, j) => value - factor * at(work, column, j));
    }
  }
  return work.map((row) => row.slice(n));
}
