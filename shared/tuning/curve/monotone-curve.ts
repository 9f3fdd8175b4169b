import { isotonicFit } from './isotonic.ts';

/** A non-decreasing or non-increasing curve through knots: never overshoots, never turns. */
export type MonotoneCurve = { x: readonly number[]; y: readonly number[]; slope: readonly number[] };

/**
 * Shape-preserving cubic through monotone knots.
 *
 * @param x increasing, at least two
 * @source Fritsch & Carlson, SIAM J. Numer. Anal. 17 (1980) 238-246, with the harmonic-mean slopes of Fritsch & Butland (1984) (from memory)
 */
export function monotoneCurve(x: readonly number[], y: readonly number[]): MonotoneCurve {
  const last = x.length - 1;
  if (last < 1) throw new RangeError('a curve needs two knots');
  const widths = x.slice(1).map((right, index) => right - x[index]!);
  const chords = widths.map((width, index) => (y[index + 1]! - y[index]!) / width);
  const slope = x.map((_, index) => {
    if (index === 0) return endSlope(widths[0]!, widths[1] ?? widths[0]!, chords[0]!, chords[1] ?? chords[0]!);
    if (index === last)
      return endSlope(widths[last - 1]!, widths[last - 2] ?? widths[last - 1]!, chords[last - 1]!, chords[last - 2] ?? chords[last - 1]!);
    const [before, after] = [chords[index - 1]!, chords[index]!];
    if (before * after <= 0) return 0;
    const [left, right] = [2 * widths[index]! + widths[index - 1]!, widths[index]! + 2 * widths[index - 1]!];
    return (left + right) / (left / before + right / after);
  });
  return { x, y, slope };
}

function endSlope(near: number, far: number, nearChord: number, farChord: number): number {
  const slope = ((2 * near + far) * nearChord - near * farChord) / (near + far);
  if (slope * nearChord <= 0) return 0;
  return Math.abs(slope) > 3 * Math.abs(nearChord) && nearChord * farChord <= 0
    ? 3 * nearChord
    : Math.abs(slope) > 3 * Math.abs(nearChord)
      ? 3 * nearChord
      : slope;
}

/** @returns the value at a place inside the knots; undefined outside, where nothing is known */
export function valueAt({ x, y, slope }: MonotoneCurve, at: number): number | undefined {
  const right = x.findIndex((knot, index) => index > 0 && at <= knot);
  if (right < 0 || at < x[0]!) return undefined;
  const left = right - 1;
  const width = x[right]! - x[left]!;
  const share = (at - x[left]!) / width;
  const [a, b] = [share * share * (3 - 2 * share), share * (1 - share)];
  return y[left]! * (1 - a) + y[right]! * a + b * width * (slope[left]! * (1 - share) - slope[right]! * share);
}

/** @returns the place where the curve takes this value, by bisection; undefined when it never does */
export function placeOf(curve: MonotoneCurve, value: number): number | undefined {
  const { x, y } = curve;
  let [low, high] = [x[0]!, x[x.length - 1]!];
  const rising = y[y.length - 1]! >= y[0]!;
  const [least, most] = rising ? [y[0]!, y[y.length - 1]!] : [y[y.length - 1]!, y[0]!];
  if (value < least || value > most || least === most) return undefined;
  for (let halving = 0; halving < 60; halving++) {
    const middle = (low + high) / 2;
    if (valueAt(curve, middle)! < value === rising) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Points with errors -> knots: one per place (mean), pooled until monotone in the direction of the data. */
export function monotoneKnots(points: readonly { x: number; y: number }[], rising: boolean): { x: number[]; y: number[] } {
  const places = [...new Set(points.map((point) => point.x))].sort((a, b) => a - b);
  const at = places.map((place) => points.filter((point) => point.x === place).map((point) => point.y));
  const means = at.map((values) => values.reduce((sum, value) => sum + value, 0) / values.length);
  const weights = at.map((values) => values.length);
  const fit = isotonicFit(rising ? means : means.map((value) => -value), weights);
  return { x: places, y: rising ? fit : fit.map((value) => -value) };
}
