import { describe, expect, it } from 'vitest';
import { cellHistory } from '../../../shared/bench/results/earlier-tests.ts';
import { BenchPlan, examplePlans, keepsGas, slotsOf } from '../../../shared/bench/plan.ts';
import { practiceGases } from '../../../shared/bench/practice.ts';
import { freshAirReference, outsideRange, referencesOf } from '../../../shared/bench/references.ts';
import { gasRows, headlineOf, roundResult } from '../../../shared/bench/results/test-result.ts';
import { testWith } from './made-test.ts';
import { practiceTest } from './run-plan.ts';

describe('fresh air as a reference', () => {
  // worked values: 20 °C and 50 % 20.71 %, 25 °C and 60 % 20.56 %, 30 °C and 80 % 20.25 % (Dalton with a steam table)
  it.each([
    [20, 50, 20.71],
    [25, 60, 20.56],
    [30, 80, 20.25],
  ])('%d °C and %d %% relative humidity: %d %%', (airC, relativeHumidityPercent, expected) => {
    const { value, expanded } = freshAirReference({ airC, relativeHumidityPercent, dried: false });
    expect(Math.abs(value - expected)).toBeLessThan(0.012);
    // ±5 % of humidity and ±1 K are worth some hundredths, not tenths
    expect(expanded).toBeGreaterThan(0.02);
    expect(expanded).toBeLessThan(0.2);
  });
  it('dried air is dry air, whatever the room; without a humidity the doubt is wide', () => {
    expect(freshAirReference({ airC: 30, relativeHumidityPercent: 80, dried: true }).value).toBeCloseTo(20.946, 3);
    const unknown = freshAirReference({ airC: 20, dried: false });
    expect(unknown.expanded).toBeGreaterThan(freshAirReference({ airC: 20, relativeHumidityPercent: 50, dried: false }).expanded * 2);
  });
});

describe('bottles', () => {
  it('a value outside the range of a cell is left out of the judgement, and said', () => {
    const test = practiceTest();
    const cells = test.instrument.cells.map((cell) => (cell.channel === 'co' ? { ...cell, rangeHigh: 500 } : cell));
    expect(outsideRange(cells, practiceGases.high)).toEqual(['co']);
    expect(outsideRange(cells, practiceGases.low)).toEqual([]);
    const high = referencesOf({ ...test, instrument: { ...test.instrument, cells } }).find(({ key }) => key === 'high');
    expect(high?.components.co).toBeUndefined();
    expect(high?.components.o2?.value).toBe(4);
  });
});

describe('the shipped plans', () => {
  it('fit their schema, begin in fresh air, and the full one has what OIML R 144-2 asks for', () => {
    for (const plan of examplePlans) {
      expect(BenchPlan.safeParse(plan).success).toBe(true);
      expect(plan.steps[0]?.slot).toBe('air');
      expect(new Set(plan.steps.map(({ id }) => id)).size).toBe(plan.steps.length);
    }
    const full = examplePlans[1]!;
    for (const slot of ['low', 'mid', 'high'] as const)
      expect(full.steps.filter((step) => step.slot === slot).length).toBeGreaterThanOrEqual(3);
    expect(full.steps.find(({ purpose }) => purpose === 'repeatability')?.readings).toBe(20);
    expect(slotsOf(full)).toEqual(['zero', 'high', 'low', 'mid', 'interferent']);
    expect(keepsGas(full.steps, 1)).toBe(true);
    expect(keepsGas(full.steps, 3)).toBe(false);
  });
});

const HALF_YEAR = 182.625 * 86_400_000;
const start = Date.UTC(2024, 0, 10);

describe('one instrument over its tests', () => {
  it('forecasts the end of a cell that loses 5 % each half year, adjusted every time', () => {
    // each test finds 95 % of what the adjustment before left at 100 %
    const tests = [0, 1, 2, 3].map((i) => testWith({ wallMs: start + i * HALF_YEAR, co: i === 0 ? 1000 : 950, left: 1000 }));
    const { sensitivity, forecast } = cellHistory(tests, 'co');
    expect(sensitivity.map(({ sensitivity: part }) => Number(part.toFixed(4)))).toEqual([1, 0.95, 0.9025, 0.8574]);
    expect(forecast.kind).toBe('forecast');
    // the line through these falls by 9.5 points a year and meets 0.7 about 1.65 years after the last test
    if (forecast.kind === 'forecast') {
      const years = (forecast.wallMs - tests[3]!.startedWallMs) / (2 * HALF_YEAR);
      expect(years).toBeGreaterThan(1.4);
      expect(years).toBeLessThan(1.9);
      expect(forecast.earliestMs).toBeLessThanOrEqual(forecast.wallMs);
    }
  });
  it('gives the errors at the span gas and the growth of T90 against the first test', () => {
    const tests = [testWith({ wallMs: start, co: 1000, t90S: 30 }), testWith({ wallMs: start + HALF_YEAR, co: 990, t90S: 48 })];
    const { spanErrors, t90Growth, forecast } = cellHistory([...tests].reverse(), 'co');
    expect(spanErrors.map(({ value }) => value)).toEqual([0, -10]);
    expect(t90Growth).toBeCloseTo(1.6, 6);
    expect(forecast.kind).toBe('not-enough');
  });
});

/** the plan is what was measured: zero and span of CO */
const coTestWith = (what: Parameters<typeof testWith>[0]) => {
  const test = testWith(what);
  return {
    ...test,
    instrument: { ...test.instrument, cells: test.instrument.cells.filter(({ channel }) => channel === 'co') },
    plan: { ...test.plan, steps: test.plan.steps.filter(({ id }) => id === 's2' || id === 's3') },
  };
};

describe('the verdict at the top', () => {
  const evaluated = (co: number, rule: 'simple' | 'guarded-acceptance') => {
    const test = coTestWith({ wallMs: start, co });
    const limits = { ...test.limits!, decisionRule: rule };
    return { ...roundResult({ ...test, limits }, test.rounds[0]!), limits };
  };
  it('is fit, too close or not fit by the limit of 10 % of the value (OIML R 144-1, in service)', () => {
    const verdict = (co: number, rule: 'simple' | 'guarded-acceptance') => {
      const { evaluation, limits } = evaluated(co, rule);
      return headlineOf(evaluation, limits).kind;
    };
    expect(verdict(1000, 'guarded-acceptance')).toBe('fit');
    // U is about 10 ppm: 95 off is inside 100, but not by the guard band
    expect(verdict(905, 'guarded-acceptance')).toBe('conditional');
    expect(verdict(905, 'simple')).toBe('fit');
    expect(verdict(890, 'guarded-acceptance')).toBe('not-fit');
  });
  it('rows stand with fresh air first, then by value', () => {
    const { evaluation, limits } = evaluated(1000, 'simple');
    expect(gasRows(evaluation, limits).map(({ level }) => level)).toEqual(['zero', 'high']);
  });
});

describe('readings after the stated warm-up (OIML R 144-2, no. 1.19)', () => {
  const warmed = (...values: readonly Partial<Record<'o2' | 'co', number>>[]) => {
    const test = testWith({ wallMs: start, co: 1000 });
    const [zero, high] = test.rounds[0]!.steps;
    const round = {
      ...test.rounds[0]!,
      steps: [zero!, { ...high!, warmUp: values.map((one, at) => ({ afterMin: [0, 2, 5, 15][at]!, values: one })) }],
    };
    const { evaluation } = roundResult(test, round);
    return { verdict: evaluation.verdict, rows: evaluation.channels.find(({ channel }) => channel === 'co')?.warmUp };
  };
  // 10 % of 1000 ppm in service (OIML R 144-1): 1100 is inside, 1101 is not
  it('are all inside the limit, or the round fails', () => {
    const inside = warmed({ co: 900 }, { co: 1000 }, { co: 1100 });
    expect(inside.rows?.map(({ afterMin, value, limit, verdict }) => [afterMin, value, limit, verdict])).toEqual([
      [0, -100, 100, 'pass'],
      [2, 0, 100, 'pass'],
      [5, 100, 100, 'pass'],
    ]);
    expect(inside.verdict).not.toBe('fail');
    const outside = warmed({ co: 1000 }, { co: 1101 });
    expect(outside.rows?.map(({ verdict }) => verdict)).toEqual(['pass', 'fail']);
    expect(outside.verdict).toBe('fail');
  });
  it('that the instrument did not give are left out, and nothing is computed from them', () => {
    expect(warmed({ co: 1000 }, { o2: 4 }, { co: 990 }).rows?.map(({ afterMin }) => afterMin)).toEqual([0, 5]);
    expect(warmed({ o2: 4 }).rows).toBeUndefined();
  });
  it('of a gas that no bottle certifies for the channel are not judged', () => {
    const test = testWith({ wallMs: start, co: 1000 });
    const [zero, high] = test.rounds[0]!.steps;
    const gases = test.gases.map((use) =>
      use.slot === 'high' ? { ...use, gas: { ...use.gas, components: use.gas.components.filter(({ channel }) => channel === 'o2') } } : use,
    );
    const round = { ...test.rounds[0]!, steps: [zero!, { ...high!, warmUp: [{ afterMin: 0, values: { co: 1000 } }] }] };
    const { evaluation } = roundResult({ ...test, gases }, round);
    expect(evaluation.channels.find(({ channel }) => channel === 'co')?.warmUp).toBeUndefined();
  });
});

describe('the short verdict', () => {
  /** @param points certified value and reading, ppm CO; in service 5 ppm or 10 % (OIML R 144-1) */
  const headline = (...points: readonly [reference: number, reading: number][]) => {
    const test = coTestWith({ wallMs: start, co: 1000 });
    const { evaluation } = roundResult(test, test.rounds[0]!);
    const co = evaluation.channels.find(({ channel }) => channel === 'co')!;
    const errors = points.map(([reference, reading]) => ({ ...co.errors[0]!, level: `gas ${reference}`, reference, reading }));
    return headlineOf({ ...evaluation, channels: [{ ...co, errors }] }, test.limits);
  };
  it('says up to which gas an instrument that fails above it did pass', () => {
    expect(headline([0, 0], [100, 100], [500, 510], [1000, 1101])).toEqual({ kind: 'not-fit', channel: 'co', above: 500, others: [] });
    expect(headline([0, 0], [100, 111], [500, 510], [1000, 1000])).toMatchObject({ kind: 'not-fit', above: undefined });
  });
  it('gives no such gas where the zero itself fails, and none where all pass', () => {
    expect(headline([0, 6], [100, 100], [500, 510], [1000, 1101])).toMatchObject({ kind: 'not-fit', above: undefined });
    expect(headline([0, 0], [100, 100], [1000, 1000])).toEqual({ kind: 'fit', channels: ['co'] });
  });
});
