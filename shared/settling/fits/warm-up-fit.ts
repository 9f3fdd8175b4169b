import type { Interval } from '../../measurement/state.ts';
import { studentQuantile95 } from '../../units/student.ts';
import { bestCurve, curveAt, improve, normalEquations, solve, type Curve, type Fit } from './exponential-fit.ts';

export type WarmUpPoint = { readonly timeS: number; readonly value: number };
export type WarmUpFit = {
  readonly constants: 1 | 2;
  /** what the curve is heading for, 95 %; an end may be infinite when the record cannot say */
  readonly heading: Interval;
  /** s, quick one first, 95 % */
  readonly timeConstantsS: readonly Interval[];
  /** what each term still had to give at the first fitted point */
  readonly amplitudes: readonly number[];
  /** s from the first point until the rise began (where the curve meets the starting value) */
  readonly deadTimeS: number;
  /** first point that was fitted, s */
  readonly fromS: number;
  readonly residualSd: number;
  /** the first two thirds of the record predict the last third within 2 degC: only then a forecast is usable */
  readonly usable: boolean;
  /** largest miss in the last third, foretold from the first two thirds */
  readonly honestyMiss: number;
  /** value at a time, s on the clock of the points */
  readonly at: (timeS: number) => number;
  /** time at which the change still to come is down to `band`, s on the clock of the points */
  readonly steadyAtS: (band: number) => number;
};

const MOST_POINTS = 120;
const FEWEST_POINTS = 12;
export const HONEST_WITHIN_C = 2;
/** A second constant has to earn its place: AICc better by this, apart by this factor. */
const AICC_MARGIN = 6;
const APART = 1.6;

/** Thins to at most MOST_POINTS by means over equal counts, so that the cost is bounded and no point is thrown away. */
function thin(points: readonly WarmUpPoint[]): { t: number[]; y: number[] } {
  const per = Math.ceil(points.length / MOST_POINTS);
  const t: number[] = [];
  const y: number[] = [];
  for (let i = 0; i + per <= points.length; i += per) {
    let st = 0;
    let sy = 0;
    for (let k = i; k < i + per; k++) {
      st += points[k]!.timeS;
      sy += points[k]!.value;
    }
    t.push(st / per);
    y.push(sy / per);
  }
  return { t, y };
}

/** How many independent points the residuals are worth: n (1 - rho)/(1 + rho). */
function effectiveCount(curve: Curve, t: readonly number[], y: readonly number[]): number {
  let zero = 0;
  let one = 0;
  let before = 0;
  for (let i = 0; i < t.length; i++) {
    const r = y[i]! - curveAt(curve, t[i]!);
    zero += r * r;
    if (i > 0) one += r * before;
    before = r;
  }
  const rho = zero > 0 ? Math.max(0, Math.min(0.95, one / zero - 2 / Math.sqrt(t.length) / 4)) : 0;
  return (t.length * (1 - rho)) / (1 + rho);
}

const aicc = (fit: Fit, n: number, parameters: number): number => {
  const k = parameters + 1;
  return n * Math.log(Math.max(fit.sse, 1e-12) / n) + 2 * k + (2 * k * (k + 1)) / Math.max(1, n - k - 1);
};

const SEGMENTS = 8;
/** Mean of chi squared with 8 - 3 degrees of freedom is 5: at or below 7 a second constant could not earn its place. */
const LACK_LIMIT = 7;

/** Do the residuals of the one-constant fit run in long waves? Chi squared of their means over segments. */
function lacksFit(fit: Fit, t: readonly number[], y: readonly number[]): boolean {
  const variance = fit.sse / Math.max(1, t.length - 3);
  let chi = 0;
  for (let s = 0; s < SEGMENTS; s++) {
    const from = Math.floor((s * t.length) / SEGMENTS);
    const to = Math.floor(((s + 1) * t.length) / SEGMENTS);
    let sum = 0;
    for (let i = from; i < to; i++) sum += y[i]! - curveAt(fit.curve, t[i]!);
    chi += (sum * sum) / Math.max(1, to - from) / Math.max(variance, 1e-12);
  }
  return chi > LACK_LIMIT;
}

/** Chooses between one and two constants. */
function choose(t: readonly number[], y: readonly number[]): { fit: Fit; count: number } | undefined {
  const span = t.at(-1)! - t[0]!;
  const shortest = Math.max(3, span / 150);
  const one = bestCurve(1, t, y, shortest, 3 * span);
  if (!one) return undefined;
  const countOne = effectiveCount(one.curve, t, y);
  if (!lacksFit(one, t, y)) return { fit: one, count: countOne };
  const two = bestCurve(2, t, y, shortest, 3 * span);
  if (!two) return { fit: one, count: countOne };
  const count = effectiveCount(two.curve, t, y);
  const [quick, slow] = [...two.curve.logTau].sort((a, b) => a - b);
  const apart = slow! - quick! > Math.log(APART);
  // the same count for both, the one that the better model leaves: a poor model makes its own residuals look dependent
  const scale = count / t.length;
  const better =
    aicc({ curve: one.curve, sse: one.sse * scale }, count, 3) - aicc({ curve: two.curve, sse: two.sse * scale }, count, 5) > AICC_MARGIN;
  return apart && better ? { fit: two, count } : { fit: one, count: countOne };
}

/** Profile interval of the heading: where the best fit with the heading held there is significantly worse. */
function headingInterval(best: Fit, t: readonly number[], y: readonly number[], count: number, guess: number): Interval {
  const parameters = 1 + 2 * best.curve.logTau.length;
  const freedom = Math.max(1, count - parameters);
  const limit = best.sse * (1 + studentQuantile95(freedom) ** 2 / freedom);
  const span = t.at(-1)! - t[0]!;
  const end = (side: 1 | -1): number => {
    let inner = 0;
    let curve = best.curve;
    let step = Number.isFinite(guess) && guess > 0 ? 1.2 * guess : 1;
    let outer = Infinity;
    const worse = (by: number): boolean => {
      const fit = improve({ ...curve, heading: best.curve.heading + side * by }, t, y, 30 * span, true);
      if (fit.sse > limit) return true;
      curve = fit.curve;
      return false;
    };
    for (let i = 0; i < 16 && outer === Infinity; i++) {
      if (worse(inner + step)) outer = inner + step;
      else {
        inner += step;
        step *= 1.6;
      }
    }
    if (outer === Infinity) return side * Infinity;
    for (let i = 0; i < 6; i++) {
      const middle: number = (inner + outer) / 2;
      if (worse(middle)) outer = middle;
      else inner = middle;
    }
    return best.curve.heading + (side * (inner + outer)) / 2;
  };
  return { value: best.curve.heading, low: end(-1), high: end(1) };
}

/** Index of the first point of the rise: before it the values stand where they started. */
function riseBegins(points: readonly WarmUpPoint[]): number {
  const startValue = points.slice(0, 3).reduce((s, p) => s + p.value, 0) / 3;
  const range = Math.max(...points.map((p) => Math.abs(p.value - startValue)));
  const limit = Math.max(0.03 * range, 0.5);
  let i = 0;
  while (i < points.length - 1 && Math.abs(points[i]!.value - startValue) < limit) i++;
  return i;
}

/**
 * Fits a warm-up with one or two time constants, whichever the record supports, and says whether its forecast can be used.
 * `sensorSeconds`: so much after the rise began is left out, because there the sensor's own lag still shows (only when the record
 * begins before the rise).
 *
 * @returns undefined when there are too few points or nothing moves
 */
export function fitWarmUp(
  points: readonly WarmUpPoint[],
  { sensorSeconds = 20 }: { readonly sensorSeconds?: number } = {},
): WarmUpFit | undefined {
  if (points.length < FEWEST_POINTS) return undefined;
  const rise = riseBegins(points);
  const riseS = points[rise]!.timeS;
  const waits = riseS - points[0]!.timeS > 2 && rise > 2;
  const fitted = waits ? points.filter((p) => p.timeS >= riseS + sensorSeconds) : points;
  if (fitted.length < FEWEST_POINTS) return undefined;
  const originS = fitted[0]!.timeS;
  const { t, y } = thin(fitted.map((p) => ({ timeS: p.timeS - originS, value: p.value })));
  const chosen = choose(t, y);
  if (!chosen) return undefined;
  const { fit, count } = chosen;
  const { curve } = fit;
  const terms = curve.logTau.length;
  const order = curve.logTau.map((_, k) => k).sort((a, b) => curve.logTau[a]! - curve.logTau[b]!);
  const freedom = Math.max(1, count - 1 - 2 * terms);
  const variance = fit.sse / Math.max(1, t.length - 1 - 2 * terms);
  const { jtj } = normalEquations(curve, t, y, false);
  const standardError = (index: number): number => {
    const column = solve(
      jtj,
      jtj.map((_, i) => (i === index ? 1 : 0)),
    );
    return column ? Math.sqrt(Math.max(0, column[index]! * variance * (t.length / count))) : Infinity;
  };
  const spread = order.map((k) => standardError(1 + k));

  // honesty: would the first two thirds have foretold the rest?
  const two = Math.floor((2 * t.length) / 3);
  const early = t.length >= 18 ? choose(t.slice(0, two), y.slice(0, two)) : undefined;
  let miss = Infinity;
  if (early) {
    miss = 0;
    const part = Math.max(1, Math.floor((t.length - two) / 5));
    for (let i = two; i + part <= t.length; i += part) {
      let off = 0;
      for (let k = i; k < i + part; k++) off += y[k]! - curveAt(early.fit.curve, t[k]!);
      miss = Math.max(miss, Math.abs(off / part));
    }
  }

  const startValue = points.slice(0, 3).reduce((s, p) => s + p.value, 0) / Math.min(3, points.length);
  let deadTimeS = 0;
  if (waits) {
    let low = points[0]!.timeS - originS;
    let high = 0;
    const below = Math.sign(curveAt(curve, high) - startValue);
    for (let i = 0; i < 50; i++) {
      const middle = (low + high) / 2;
      if (Math.sign(curveAt(curve, middle) - startValue) === below) high = middle;
      else low = middle;
    }
    deadTimeS = Math.max(0, (low + high) / 2 + originS - points[0]!.timeS);
  }
  const stillToCome = (timeS: number): number => Math.abs(curveAt(curve, timeS) - curve.heading);
  return {
    constants: terms === 1 ? 1 : 2,
    heading: headingInterval(fit, t, y, count, studentQuantile95(freedom) * standardError(0)),
    timeConstantsS: order.map((k, i) => {
      const half = studentQuantile95(freedom) * spread[i]!;
      const tau = Math.exp(curve.logTau[k]!);
      return { value: tau, low: tau * Math.exp(-half), high: tau * Math.exp(half) };
    }),
    amplitudes: order.map((k) => curve.amplitude[k]!),
    deadTimeS,
    fromS: originS,
    residualSd: Math.sqrt(variance),
    usable: miss <= HONEST_WITHIN_C,
    honestyMiss: miss,
    at: (timeS) => curveAt(curve, timeS - originS),
    steadyAtS(band) {
      let high = 1;
      while (high < 1e6 && stillToCome(high) > band) high *= 2;
      let low = 0;
      for (let i = 0; i < 50; i++) {
        const middle = (low + high) / 2;
        if (stillToCome(middle) > band) low = middle;
        else high = middle;
      }
      return originS + high;
    },
  };
}
