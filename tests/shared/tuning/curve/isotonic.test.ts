import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { antitonicFit, isotonicFit, valleyFit } from '../../../../shared/tuning/curve/isotonic.ts';

describe('isotonic regression', () => {
  it.each([
    {
      name: 'R stats::isoreg, example in its help page (from memory): pools 1,0 and 4,3,3,5,4,2,0',
      y: [1, 0, 4, 3, 3, 5, 4, 2, 0],
      fit: [0.5, 0.5, 3, 3, 3, 3, 3, 3, 3],
    },
    { name: 'by hand: 7,5 -> 6,6 and 9,8,7 -> 8,8,8', y: [3, 7, 5, 9, 8, 7, 10], fit: [3, 6, 6, 8, 8, 8, 10] },
    { name: 'by hand: already in order', y: [0, 1, 1, 2], fit: [0, 1, 1, 2] },
    { name: 'by hand: all against the order becomes the mean', y: [4, 2, 0], fit: [2, 2, 2] },
  ])('$name', ({ y, fit }) => {
    isotonicFit(y).forEach((value, index) => expect(value).toBeCloseTo(fit[index]!, 12));
  });

  it('weighs: 6 (weight 1) before 3 (weight 2) pools to (6 + 2 x 3)/3 = 4', () => {
    expect(isotonicFit([6, 3], [1, 2])).toEqual([4, 4]);
  });

  const values = fc.array(fc.double({ min: -10, max: 10, noNaN: true }), { minLength: 1, maxLength: 12 });
  const squares = (a: readonly number[], b: readonly number[]): number =>
    a.reduce((sum, value, index) => sum + (value - b[index]!) ** 2, 0);

  it('never goes down, keeps the sum, and fitting twice changes nothing', () => {
    fc.assert(
      fc.property(values, (y) => {
        const fit = isotonicFit(y);
        fit.slice(1).forEach((value, index) => expect(value).toBeGreaterThanOrEqual(fit[index]! - 1e-9));
        expect(fit.reduce((a, b) => a + b, 0)).toBeCloseTo(
          y.reduce((a, b) => a + b, 0),
          6,
        );
        isotonicFit(fit).forEach((value, index) => expect(value).toBeCloseTo(fit[index]!, 9));
      }),
    );
  });

  it('lies nearer to the data than any other sequence that never goes down', () => {
    fc.assert(
      fc.property(values, values, (y, other) => {
        const rival = y.map((_, index) => other[index % other.length]!).sort((a, b) => a - b);
        expect(squares(y, isotonicFit(y))).toBeLessThanOrEqual(squares(y, rival) + 1e-9);
      }),
    );
  });

  it('going down is the mirror image', () => {
    expect(antitonicFit([3, 4, 1])).toEqual([3.5, 3.5, 1]);
  });
});

describe('valley', () => {
  it('finds both arms and leaves a clean valley as it is', () => {
    const { fit, lowest } = valleyFit([90, 20, 8, 9, 30, 80]);
    expect(fit).toEqual([90, 20, 8, 9, 30, 80]);
    expect(lowest).toBe(2);
  });
  it('pools a bump inside an arm', () => {
    // by hand: 20, 26 on the falling arm become 23, 23
    expect(valleyFit([90, 20, 26, 5, 40]).fit).toEqual([90, 23, 23, 5, 40]);
  });
});
