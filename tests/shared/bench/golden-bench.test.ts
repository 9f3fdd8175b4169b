/** Figures of the bench against published and worked values, and against a general statistics package (simple-statistics). The source stands beside each check. */
import { linearRegression, linearRegressionLine, sampleStandardDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { accept, readingBudget } from '../../../shared/bench/results/budget.ts';
import type { DoneStep } from '../../../shared/bench/bench-test.ts';
import { INLET_PRESSURE_PART } from '../../../shared/bench/results/evaluate.ts';
import { DRY_AIR_O2_PERCENT, freshAirO2Percent } from '../../../shared/bench/fresh-air.ts';
import { leastSquares, linearityOf } from '../../../shared/bench/results/linearity.ts';
import { roundResult } from '../../../shared/bench/results/test-result.ts';
import { practiceTest } from './run-plan.ts';

/** One plateau of a channel without noise. */
const plateau = (mean: number, sd = 0) => ({ mean, sd, n: 60, nEff: 60, u: sd / Math.sqrt(60), fromS: 0, toS: 60 });
const stepAt = (stepId: string, minute: number, co: number, more: Partial<DoneStep> = {}): DoneStep => ({
  stepId,
  end: 'reached',
  atMs: minute * 60_000,
  application: { fromMs: minute * 60_000 - 60_000, toMs: minute * 60_000, channels: { co: { plateau: plateau(co), resolution: 1 } } },
  ...more,
});
const coOf = (steps: DoneStep[], plan = practiceTest().plan) => {
  const test = { ...practiceTest(plan), rounds: [{ kind: 'as-found' as const, startedMs: 0, steps }] };
  return roundResult(test, test.rounds[0]!).evaluation.channels.find(({ channel }) => channel === 'co')!;
};

describe('uncertainty and decision (JCGM 100 worked by hand: gas 4.00 % U 2 %, step 0.1, s 0.03, n 5; limit 0.3)', () => {
  const budget = readingBudget({ gasExpanded: 0.08, resolution: 0.1, sd: 0.03, n: 5 });
  it('u_c 0.051, U 0.10, guarded limit 0.20', () => {
    // by hand: sqrt(0.0400^2 + 0.0289^2 + 0.0134^2) = 0.0511
    expect(budget.combined).toBeCloseTo(0.0511, 4);
    expect(budget.expanded).toBeCloseTo(0.1022, 4);
    const at425 = accept({ error: 0.25, expanded: budget.expanded, limit: 0.3, rule: 'guarded-acceptance' });
    expect(at425).toMatchObject({ verdict: 'conditional' });
    expect(at425.comparedWith).toBeCloseTo(0.198, 3);
  });
  it('the same reading passes simply, and passes leniently: the rule decides (JCGM 106, from memory)', () => {
    const verdict = (rule: 'simple' | 'guarded-rejection', error: number) =>
      accept({ error, expanded: budget.expanded, limit: 0.3, rule }).verdict;
    expect(verdict('simple', 0.25)).toBe('pass');
    expect(verdict('simple', 0.31)).toBe('fail');
    expect(verdict('guarded-rejection', 0.39)).toBe('pass');
    expect(verdict('guarded-rejection', 0.41)).toBe('fail');
  });
});

it('no reading passes where the uncertainty is wider than the limit (JCGM 106: the acceptance interval is empty, from memory)', () => {
  const judge = (error: number) => accept({ error, expanded: 0.6, limit: 0.5, rule: 'guarded-acceptance' }).verdict;
  expect([0, 0.4, 0.51].map(judge)).toEqual(['conditional', 'conditional', 'fail']);
});

describe('the budget of a row', () => {
  const steps = (lastAir: number) => [stepAt('s1', 2, 0), stepAt('s2', 5, 0), stepAt('s3', 9, 1000), stepAt('s6', 40, lastAir)];
  const partsOf = (lastAir: number, level: string) =>
    coOf(steps(lastAir))
      .errors.find((row) => row.level === level)!
      .budget.contributions.map(({ key, u }) => [key, Number(u.toFixed(2))]);
  it('bottle: certificate, display step, pressure at the inlet of at most 750 Pa (OIML R 144-2), rectangular', () => {
    expect(INLET_PRESSURE_PART).toBeCloseTo(0.0074, 4);
    // 10/2; 1/sqrt(12); 1000 * 0.0074/sqrt(3)
    expect(partsOf(0, 'high')).toEqual([
      ['gas', 5],
      ['resolution', 0.29],
      ['pressure', 4.27],
    ]);
    // fresh air comes at the pressure of the room
    expect(partsOf(0, 'air')).toEqual([
      ['gas', 0.5],
      ['resolution', 0.29],
    ]);
  });
  it('a zero that moved by 12 ppm counts with half of it, rectangular, at every gas', () => {
    expect(partsOf(12, 'high').find(([key]) => key === 'drift')).toEqual(['drift', 3.46]);
    expect(partsOf(12, 'air').find(([key]) => key === 'drift')).toEqual(['drift', 3.46]);
    // a change within the display's step is scatter, not drift
    expect(partsOf(0.5, 'high').some(([key]) => key === 'drift')).toBe(false);
  });
  it('a display that never changed has the step of the instrument sheet', () => {
    const still = steps(0).map((step) => ({
      ...step,
      application: { ...step.application!, channels: { co: { plateau: plateau(0), resolution: 0 } } },
    }));
    expect(coOf(still).errors[0]!.budget.contributions.find(({ key }) => key === 'resolution')?.u).toBeCloseTo(1 / Math.sqrt(12), 9);
  });
});

// O2 of moist fresh air: Dalton with a steam table, worked values of section 4.2 of the procedure. They take dry air as 20.95, the bench as 20.946:
// on the same dry air they agree to the last printed digit.
it.each([
  { airC: 20, relativeHumidityPercent: 50, o2: 20.71 },
  { airC: 25, relativeHumidityPercent: 60, o2: 20.56 },
  { airC: 30, relativeHumidityPercent: 80, o2: 20.25 },
])('fresh air of $airC °C and $relativeHumidityPercent % relative humidity holds $o2 % O2', ({ airC, relativeHumidityPercent, o2 }) => {
  const onSameDryAir = (freshAirO2Percent({ airC, relativeHumidityPercent }) * 20.95) / DRY_AIR_O2_PERCENT;
  expect(onSameDryAir.toFixed(2)).toBe(o2.toFixed(2));
});

describe('against a general statistics package', () => {
  const readings = [402, 401, 403, 402, 400, 402, 404, 401, 402, 403, 402, 401, 402, 400, 403, 402, 402, 401, 404, 402];
  it('repeatability of twenty readings has n - 1 below the line (OIML R 144-2 no. 1.4)', () => {
    const plan = {
      ...practiceTest().plan,
      steps: [{ id: 's1', purpose: 'repeatability' as const, slot: 'low' as const, holdS: 60, readings: 20 }],
    };
    const co = coOf([stepAt('s1', 4, 402, { readings: { co: readings } })], plan);
    expect(co.repeatability?.n).toBe(20);
    expect(co.repeatability?.value).toBeCloseTo(sampleStandardDeviation(readings), 12);
  });
  it('so has the scatter between applications of one gas', () => {
    const values = [998, 1004, 1001];
    const co = coOf(values.map((value, i) => stepAt('s3', 5 * (i + 1), value)));
    expect(co.repeatability?.value).toBeCloseTo(sampleStandardDeviation(values), 12);
  });
  const points = [
    { reference: 0, reading: 1.5 },
    { reference: 100, reading: 103.2 },
    { reference: 400, reading: 397.1 },
    { reference: 1000, reading: 1004.9 },
  ];
  it('residuals from the least-squares line', () => {
    const pairs = points.map(({ reference, reading }) => [reference, reading]);
    const line = linearRegressionLine(linearRegression(pairs));
    const own = leastSquares(points);
    own.residuals.forEach((residual, i) => expect(residual).toBeCloseTo(points[i]!.reading - line(points[i]!.reference), 9));
  });
  it('residuals from the line through zero and span, which the bench judges (US EPA CTM-030)', () => {
    // the package's line through just these two points
    const line = linearRegressionLine(
      linearRegression([
        [0, 1.5],
        [1000, 1004.9],
      ]),
    );
    const linearity = linearityOf(points)!;
    linearity.residuals.forEach((residual, i) => expect(residual).toBeCloseTo(points[i]!.reading - line(points[i]!.reference), 9));
    // by hand: 397.1 - 1.5 - 400 * 1.0034 = -5.76 ppm, of 1000 ppm span
    expect(linearity.worst).toBeCloseTo(-5.76, 9);
    expect(linearity.worstPercentOfSpan).toBeCloseTo(-0.576, 9);
  });
});
