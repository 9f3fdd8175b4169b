/** Least squares for heading + sum of A_k exp(-t/tau_k), one or two terms, by Levenberg-Marquardt in (heading, ln tau_k, A_k). */
export type Curve = { readonly heading: number; readonly logTau: readonly number[]; readonly amplitude: readonly number[] };
export type Fit = { readonly curve: Curve; readonly sse: number };

export function curveAt(curve: Curve, t: number): number {
  let y = curve.heading;
  for (let k = 0; k < curve.logTau.length; k++) y += curve.amplitude[k]! * Math.exp(-t / Math.exp(curve.logTau[k]!));
  return y;
}

function sumOfSquares(curve: Curve, t: readonly number[], y: readonly number[]): number {
  let sum = 0;
  for (let i = 0; i < t.length; i++) sum += (y[i]! - curveAt(curve, t[i]!)) ** 2;
  return sum;
}

/** Solves the symmetric system in place (Gauss with pivoting). @returns undefined when it is singular */
export function solve(matrix: readonly (readonly number[])[], right: readonly number[]): number[] | undefined {
  const n = right.length;
  const m = matrix.map((row, i) => [...row, right[i]!]);
  for (let c = 0; c < n; c++) {
    let pivot = c;
    for (let r = c + 1; r < n; r++) if (Math.abs(m[r]![c]!) > Math.abs(m[pivot]![c]!)) pivot = r;
    if (Math.abs(m[pivot]![c]!) < 1e-14) return undefined;
    [m[c], m[pivot]] = [m[pivot]!, m[c]!];
    for (let r = c + 1; r < n; r++) {
      const f = m[r]![c]! / m[c]![c]!;
      for (let k = c; k <= n; k++) m[r]![k]! -= f * m[c]![k]!;
    }
  }
  const x = new Array<number>(n).fill(0);
  for (let r = n - 1; r >= 0; r--) {
    let s = m[r]![n]!;
    for (let k = r + 1; k < n; k++) s -= m[r]![k]! * x[k]!;
    x[r] = s / m[r]![r]!;
  }
  return x;
}

/** J'J and J'r in the order heading, ln tau..., amplitude...; with `fixed` the heading stays where it is. */
export function normalEquations(
  curve: Curve,
  t: readonly number[],
  y: readonly number[],
  fixed: boolean,
): { jtj: number[][]; jtr: number[] } {
  const terms = curve.logTau.length;
  const size = (fixed ? 0 : 1) + 2 * terms;
  const jtj = Array.from({ length: size }, () => new Array<number>(size).fill(0));
  const jtr = new Array<number>(size).fill(0);
  const row = new Array<number>(size).fill(0);
  const at = fixed ? 0 : 1;
  const taus = curve.logTau.map((l) => Math.exp(l));
  for (let i = 0; i < t.length; i++) {
    let value = curve.heading;
    if (!fixed) row[0] = 1;
    for (let k = 0; k < terms; k++) {
      const x = t[i]! / taus[k]!;
      const e = Math.exp(-x);
      value += curve.amplitude[k]! * e;
      row[at + k] = curve.amplitude[k]! * e * x;
      row[at + terms + k] = e;
    }
    const residual = y[i]! - value;
    for (let a = 0; a < size; a++) {
      jtr[a]! += row[a]! * residual;
      for (let b = a; b < size; b++) jtj[a]![b]! += row[a]! * row[b]!;
    }
  }
  for (let a = 0; a < size; a++) for (let b = 0; b < a; b++) jtj[a]![b] = jtj[b]![a]!;
  return { jtj, jtr };
}

const STEPS = 20;

/** Improves a curve; with `fixed` at the given heading. `longest` bounds the time constants, s. */
export function improve(start: Curve, t: readonly number[], y: readonly number[], longest: number, fixed = false): Fit {
  let curve = start;
  let sse = sumOfSquares(curve, t, y);
  let damping = 1e-3;
  const terms = start.logTau.length;
  const at = fixed ? 0 : 1;
  for (let step = 0; step < STEPS; step++) {
    const { jtj, jtr } = normalEquations(curve, t, y, fixed);
    let better = false;
    for (let attempt = 0; attempt < 8 && !better; attempt++) {
      const damped = jtj.map((row, i) => row.map((v, k) => (i === k ? v * (1 + damping) + 1e-12 : v)));
      const move = solve(damped, jtr);
      if (!move) break;
      const next: Curve = {
        heading: fixed ? curve.heading : curve.heading + move[0]!,
        logTau: curve.logTau.map((l, k) => Math.min(Math.log(longest), Math.max(0, l + Math.max(-1, Math.min(1, move[at + k]!))))),
        amplitude: curve.amplitude.map((a, k) => a + move[at + terms + k]!),
      };
      const nextSse = sumOfSquares(next, t, y);
      if (nextSse < sse) {
        const gain = (sse - nextSse) / Math.max(sse, 1e-30);
        curve = next;
        sse = nextSse;
        damping = Math.max(1e-9, damping / 5);
        better = true;
        if (gain < 1e-5) return { curve, sse };
      } else damping *= 6;
    }
    if (!better) break;
  }
  return { curve, sse };
}

/** For given time constants the rest is linear. */
function linear(logTau: readonly number[], t: readonly number[], y: readonly number[]): Fit | undefined {
  const size = 1 + logTau.length;
  const m = Array.from({ length: size }, () => new Array<number>(size).fill(0));
  const right = new Array<number>(size).fill(0);
  for (let i = 0; i < t.length; i++) {
    const row = [1, ...logTau.map((l) => Math.exp(-t[i]! / Math.exp(l)))];
    for (let a = 0; a < size; a++) {
      right[a]! += row[a]! * y[i]!;
      for (let b = 0; b < size; b++) m[a]![b]! += row[a]! * row[b]!;
    }
  }
  const x = solve(m, right);
  if (!x) return undefined;
  const curve: Curve = { heading: x[0]!, logTau, amplitude: x.slice(1) };
  return { curve, sse: sumOfSquares(curve, t, y) };
}

/** Best curve with `terms` time constants between `shortest` and `longest`, s: a grid, then Levenberg-Marquardt. */
export function bestCurve(terms: 1 | 2, t: readonly number[], y: readonly number[], shortest: number, longest: number): Fit | undefined {
  const stride = Math.max(1, Math.floor(t.length / 40));
  const coarseT = t.filter((_, i) => i % stride === 0);
  const coarseY = y.filter((_, i) => i % stride === 0);
  const grid = Array.from({ length: 10 }, (_, i) => Math.log(shortest) + (Math.log(longest / shortest) * i) / 9);
  let best: Fit | undefined;
  for (let i = 0; i < grid.length; i++) {
    for (const second of terms === 1 ? [undefined] : grid.slice(i + 1)) {
      const fit = linear(second === undefined ? [grid[i]!] : [grid[i]!, second], coarseT, coarseY);
      if (fit && (!best || fit.sse < best.sse)) best = fit;
    }
  }
  return best && improve(best.curve, t, y, longest);
}
