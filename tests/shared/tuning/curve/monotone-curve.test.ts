import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { monotoneCurve, monotoneKnots, placeOf, valueAt } from '../../../../shared/tuning/curve/monotone-curve.ts';

describe('shape-preserving curve', () => {
  it('goes through its knots and gives nothing outside them', () => {
    const curve = monotoneCurve([0, 1, 3], [0, 2, 3]);
    expect([0, 1, 3].map((x) => valueAt(curve, x))).toEqual([0, 2, 3]);
    expect(valueAt(curve, -0.01)).toBeUndefined();
    expect(valueAt(curve, 3.01)).toBeUndefined();
  });
  it('takes the harmonic mean of equal-width chords: chords 1 and 3 give 1.5 (by hand)', () => {
    expect(monotoneCurve([0, 1, 2, 3], [0, 1, 4, 9]).slope[1]).toBeCloseTo(1.5, 12);
  });
  it('is the straight line between two knots', () => {
    const curve = monotoneCurve([2, 6], [1, 3]);
    expect(valueAt(curve, 3)).toBeCloseTo(1.5, 12);
    expect(placeOf(curve, 2.5)).toBeCloseTo(5, 9);
  });
  it('never overshoots, and placeOf undoes valueAt', () => {
    const steps = fc.array(
      fc.record({ dx: fc.double({ min: 0.1, max: 3, noNaN: true }), dy: fc.double({ min: 0.01, max: 4, noNaN: true }) }),
      { minLength: 1, maxLength: 7 },
    );
    fc.assert(
      fc.property(steps, fc.double({ min: 0, max: 1, noNaN: true }), fc.boolean(), (moves, share, falls) => {
        const [x, y] = [[0], [0]];
        for (const { dx, dy } of moves) {
          x.push(x.at(-1)! + dx);
          y.push(y.at(-1)! + (falls ? -dy : dy));
        }
        const curve = monotoneCurve(x, y);
        const at = share * x.at(-1)!;
        const value = valueAt(curve, at)!;
        const right = x.findIndex((knot, index) => index > 0 && at <= knot);
        expect(value).toBeGreaterThanOrEqual(Math.min(y[right - 1]!, y[right]!) - 1e-9);
        expect(value).toBeLessThanOrEqual(Math.max(y[right - 1]!, y[right]!) + 1e-9);
        const place = placeOf(curve, value);
        expect(valueAt(curve, place!)).toBeCloseTo(value, 6);
      }),
    );
  });
  it('averages repeats and pools what goes the wrong way', () => {
    expect(
      monotoneKnots(
        [
          { x: 2, y: 5 },
          { x: 1, y: 2 },
          { x: 2, y: 7 },
          { x: 3, y: 4.5 },
        ],
        true,
      ),
    ).toEqual({ x: [1, 2, 3], y: [2, 5.5, 5.5] });
  });
});
