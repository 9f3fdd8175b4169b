/** A first-order answer with a dead time, found again from its own formula (any text on linear systems). */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { linearRegression } from 'simple-statistics';
import { fitStep, type StepPoint } from '../../../shared/bench/results/step-fit.ts';
import { seededRandom } from '../../../shared/tuning/training/random.ts';

type Step = { from: number; to: number; dead: number; tau: number };
const answer = ({ from, to, dead, tau }: Step, lengthS: number, everyS: number): StepPoint[] =>
  Array.from({ length: Math.round(lengthS / everyS) + 1 }, (_, i) => {
    const t = i * everyS;
    return { t, y: t < dead ? from : to + (from - to) * Math.exp(-(t - dead) / tau) };
  });

describe('the fit of a step', () => {
  it('finds levels, dead time and time constant again, up and down, with few lines and with many', () => {
    fc.assert(
      fc.property(
        fc.record({
          from: fc.integer({ min: 0, max: 2000 }),
          rise: fc.integer({ min: 50, max: 1000 }),
          dead: fc.integer({ min: 2, max: 15 }),
          tau: fc.integer({ min: 4, max: 25 }),
          up: fc.boolean(),
          everyS: fc.constantFrom(0.5, 1, 2),
        }),
        ({ from, rise, dead, tau, up, everyS }) => {
          const made = { from, to: up ? from + rise : from - rise, dead, tau };
          const fit = fitStep(answer(made, dead + 8 * tau, everyS));
          expect(Math.abs(fit!.from - made.from)).toBeLessThan(0.002 * rise);
          expect(Math.abs(fit!.to - made.to)).toBeLessThan(0.002 * rise);
          expect(Math.abs(fit!.dead - dead)).toBeLessThan(0.05);
          expect(Math.abs(fit!.tau - tau)).toBeLessThan(0.05);
          expect(fit!.sd).toBeLessThan(0.002 * rise);
        },
      ),
      { numRuns: 30, seed: 17 },
    );
  });
  it('says by how much the points miss it', () => {
    const points = answer({ from: 0, to: 100, dead: 5, tau: 10 }, 90, 1).map(({ t, y }, i) => ({ t, y: y + (i % 2 === 0 ? 0.5 : -0.5) }));
    const fit = fitStep(points)!;
    expect(fit.residuals).toHaveLength(points.length);
    // 0.5 up and down has a standard deviation of 0.5
    expect(Math.abs(fit.sd - 0.5)).toBeLessThan(0.03);
    expect(Math.abs(Math.sqrt(fit.residuals.reduce((sum, r) => sum + r * r, 0) / points.length) - 0.5)).toBeLessThan(0.03);
  });
  it('is the least squares of these points: no dead time or time constant beside it misses them by less', () => {
    const noise = seededRandom(5);
    const points = answer({ from: 20, to: 400, dead: 6.3, tau: 11.7 }, 100, 1).map(({ t, y }) => ({ t, y: y + 8 * (noise() - 0.5) }));
    const fit = fitStep(points)!;
    /** sum of squares with the best levels: a straight line through (share of the answer, reading) */
    const squares = (dead: number, tau: number): number => {
      const xy = points.map(({ t, y }) => [t < dead ? 0 : 1 - Math.exp(-(t - dead) / tau), y] as const);
      const line = linearRegression(xy.map(([x, y]) => [x, y]));
      return xy.reduce((sum, [x, y]) => sum + (y - line.b - line.m * x) ** 2, 0);
    };
    const least = squares(fit.dead, fit.tau);
    for (const [d, k] of [
      [0.02, 0],
      [-0.02, 0],
      [0, 0.02],
      [0, -0.02],
      [0.02, -0.02],
      [-0.02, 0.02],
    ] as const)
      expect(squares(fit.dead + d, fit.tau + k)).toBeGreaterThan(least);
    // four figures were fitted
    expect(fit.sd).toBeCloseTo(Math.sqrt(least / (points.length - 4)), 9);
    expect(fit.residuals.reduce((sum, r) => sum + r * r, 0)).toBeCloseTo(least, 6);
    const again = fitStep(points, { dead: 5, tau: 14 })!;
    expect(again.dead).toBeCloseTo(fit.dead, 2);
    expect(again.tau).toBeCloseTo(fit.tau, 2);
  });
  it('is none of fewer than eight points, of points before the step, or of a reading that stays', () => {
    const points = answer({ from: 0, to: 100, dead: 2, tau: 2 }, 7, 1);
    expect(fitStep(points)).toBeDefined();
    expect(fitStep(points.slice(0, 7))).toBeUndefined();
    expect(fitStep(points.map(({ t, y }) => ({ t: t - 100, y })))).toBeUndefined();
  });
});
