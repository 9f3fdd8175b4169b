import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeReport } from '../../shared/report/make-report.ts';
import { FIRST_RESERVE_CO2_POINTS } from '../../shared/report/stage-facts.ts';
import { inputOf, smallVisit } from '../shared/report/small-visit.ts';

type Tolerances = NonNullable<NonNullable<Parameters<typeof smallVisit>[0]>['tolerances']>;
const whole = smallVisit({ unitPreset: 'metric' });
/** The report as it is printed; with the as-left trial alone where many are made. */
const textOf = (tolerances?: Tolerances, visit = whole): string =>
  JSON.stringify(makeReport(inputOf({ ...visit, ...(tolerances === undefined ? {} : { tolerances }) })));
const [stage] = whole.stages;
const leftOnly = {
  ...whole,
  trials: whole.trials.filter(({ id }) => id === stage!.asLeftTrialId),
  stages: [{ ...stage!, asFoundTrialId: undefined }],
};

describe('law 10: no figure is printed that a setting contradicts', () => {
  it('the sentence about the half-widths names those of the visit', () => {
    let tried = 0;
    const hundredth = (min: number, max: number) => fc.integer({ min: min * 100, max: max * 100 }).map((value) => value / 100);
    fc.assert(
      fc.property(
        fc.record({
          o2Percent: hundredth(0.05, 2),
          coPpm: fc.integer({ min: 1, max: 200 }),
          coShare: fc.integer({ min: 1, max: 50 }).map((percent) => percent / 100),
          stackK: fc.integer({ min: 1, max: 20 }),
          airK: fc.integer({ min: 1, max: 10 }),
          fuelPoints: hundredth(0, 2),
        }),
        (one) => {
          tried++;
          const text = textOf(one, tried % 100 === 0 ? whole : leftOnly);
          expect(text).toContain(
            `O2 ${one.o2Percent}\u2009%, stack ${one.stackK}\u2009K, air ${one.airK}\u2009K, fuel ${one.fuelPoints} points`,
          );
          expect(text).toContain(`CO the larger of ${one.coPpm} ppm and ${Math.round(100 * one.coShare)} %`);
        },
      ),
      { numRuns: 2000, seed: 10 },
    );
    expect(tried).toBeGreaterThanOrEqual(2000);
  });
  it('without tolerances of its own, those that were computed with', () => {
    expect(textOf()).toContain(
      'O2 0.3\u2009%, stack 2\u2009K, air 1\u2009K, fuel 0.25 points (rectangular), CO the larger of 20 ppm and 5 %',
    );
  });
  it('the reserve of air is the one that was chosen; only where none was, the usual one', () => {
    const saidOf = (reserveCo2Points?: number): string | undefined => {
      const stages = [{ name: '1', asFoundTrialId: 'a', asLeftTrialId: 'd', ...(reserveCo2Points !== undefined && { reserveCo2Points }) }];
      return /Reserve chosen: ([\d.]+) points of CO2/.exec(textOf(undefined, { ...whole, stages }))?.[1];
    };
    for (const points of [0.5, 1, 1.5, 2.2]) expect(saidOf(points)).toBe(points.toFixed(1));
    expect(saidOf()).toBe(FIRST_RESERVE_CO2_POINTS.toFixed(1));
  });
  it('a US visit has no kelvin in its sentences', () => {
    const us = JSON.stringify(makeReport(inputOf(smallVisit())));
    expect(us).not.toMatch(/\d\u2009K\b|K\/min/);
  });
});
