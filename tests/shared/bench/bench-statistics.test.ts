import { linearRegression, sampleStandardDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { endOfLife } from '../../../shared/bench/results/ageing.ts';
import { accept, budgetOf, readingBudget } from '../../../shared/bench/results/budget.ts';
import { freshAirO2Percent } from '../../../shared/bench/fresh-air.ts';
import { gasFlaws, ReferenceGas } from '../../../shared/bench/instrument.ts';
import { leastSquares, linearityOf } from '../../../shared/bench/results/linearity.ts';
import { allanDeviation, bestAveraging } from '../../../shared/bench/results/noise.ts';
import { plateauOf } from '../../../shared/bench/results/plateau.ts';

function seeded(seed: number): () => number {
  let a = seed >>> 0;
  return () => {
    a = (a + 0x6d2b79f5) >>> 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}
const normal = (random: () => number): number => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());

describe('uncertainty budget: O2 4.00 % gas, U 2 %, resolution 0.1, s 0.03, n 5, limit 0.3 (worked by hand from JCGM 100)', () => {
  const budget = readingBudget({ gasExpanded: 0.08, resolution: 0.1, sd: 0.03, n: 5 });
  it('contributions 0.04, 0.029, 0.013 give u_c 0.051 and U 0.10', () => {
    expect(budget.contributions.map(({ key, u }) => [key, Number(u.toFixed(3))])).toEqual([
      ['gas', 0.04],
      ['resolution', 0.029],
      ['repeatability', 0.013],
    ]);
    expect(budget.combined).toBeCloseTo(0.051, 3);
    expect(budget.expanded).toBeCloseTo(0.1, 2);
  });
  it('guarded acceptance compares with 0.20: a reading of 4.25 is conditional, 4.19 passes, 4.31 fails', () => {
    const judge = (reading: number) => accept({ error: reading - 4, expanded: budget.expanded, limit: 0.3, rule: 'guarded-acceptance' });
    expect(judge(4.25).comparedWith).toBeCloseTo(0.2, 2);
    expect([4.19, 4.25, 4.31].map((reading) => judge(reading).verdict)).toEqual(['pass', 'conditional', 'fail']);
  });
  it('enforcement subtracts the uncertainty: fails only beyond L + U (1. BImSchV Annex 2 no. 2.3)', () => {
    const judge = (error: number) => accept({ error, expanded: 0.1, limit: 0.3, rule: 'guarded-rejection' }).verdict;
    expect([0.39, 0.41].map(judge)).toEqual(['pass', 'fail']);
  });
  it('simple acceptance says when it is not fair', () => {
    expect(accept({ error: 0.2, expanded: 0.11, limit: 0.3, rule: 'simple' })).toMatchObject({ verdict: 'pass', fair: false });
    expect(accept({ error: 0.2, expanded: 0.1, limit: 0.3, rule: 'simple' }).fair).toBe(true);
  });
  it('refuses values that cannot be', () => expect(() => budgetOf([{ key: 'gas', u: Number.NaN }])).toThrow(RangeError));
});

it.each([
  [20, 50, 20.71],
  [25, 60, 20.56],
  [30, 80, 20.25],
])(
  'fresh air at %s degC and %s percent humidity holds %s percent O2 (Dalton, saturation by IAPWS)',
  (airC, relativeHumidityPercent, o2) => {
    expect(freshAirO2Percent({ airC, relativeHumidityPercent })).toBeCloseTo(o2, 1.7);
  },
);
it('dry air is 20.946 %, and humidity out of range is refused', () => {
  expect(freshAirO2Percent({ airC: 20, relativeHumidityPercent: 0 })).toBe(20.946);
  expect(() => freshAirO2Percent({ airC: 20, relativeHumidityPercent: 101 })).toThrow(RangeError);
});

describe('linearity', () => {
  const points = [
    { reference: 0, reading: 1 },
    { reference: 100, reading: 103 },
    { reference: 200, reading: 207 },
    { reference: 400, reading: 401 },
  ];
  it('takes residuals from the line through zero and span', () => {
    // by hand: slope (401 - 1)/400 = 1, offset 1
    expect(linearityOf(points)).toMatchObject({ slope: 1, offset: 1, residuals: [0, 2, 6, 0], worst: 6, worstPercentOfSpan: 1.5 });
  });
  it('agrees with a general statistics package on the least-squares line', () => {
    const { m, b } = linearRegression(points.map(({ reference, reading }) => [reference, reading]));
    const own = leastSquares(points);
    expect(own.slope).toBeCloseTo(m, 12);
    expect(own.offset).toBeCloseTo(b, 12);
  });
  it('needs three levels', () => expect(linearityOf(points.slice(0, 2))).toBeUndefined());
});

describe('plateaus', () => {
  it('has the standard deviation of a general statistics package', () => {
    const values = [4, 4.1, 3.9, 4.2, 4, 3.8, 4.1];
    const plateau = plateauOf(values.map((y, t) => ({ t, y })));
    expect(plateau?.sd).toBeCloseTo(sampleStandardDeviation(values), 12);
  });
  it('its mean lies within 2u of the truth in about 95 of 100 series with memory (AR(1), r 0.6, seeds 1-400)', () => {
    let inside = 0;
    for (let seed = 1; seed <= 400; seed++) {
      const random = seeded(seed);
      let drift = 0;
      const points = Array.from({ length: 120 }, (_, t) => {
        drift = 0.6 * drift + normal(random);
        return { t, y: 100 + drift };
      });
      const plateau = plateauOf(points);
      if (plateau !== undefined && Math.abs(plateau.mean - 100) <= 2 * plateau.u) inside++;
    }
    expect(inside).toBeGreaterThan(400 * 0.91);
    expect(inside).toBeLessThan(400 * 0.985);
  });
  it('does not average the rounding of a still display away', () => {
    const plateau = plateauOf(
      Array.from({ length: 60 }, (_, t) => ({ t, y: 4.1 })),
      0.1,
    );
    expect(plateau?.u).toBeCloseTo(0.1 / Math.sqrt(12), 6);
  });
});

describe('noise and averaging time', () => {
  it('falls with the root of the time for white noise', () => {
    const random = seeded(7);
    const points = allanDeviation(
      Array.from({ length: 4000 }, () => normal(random)),
      1,
    );
    const at = (s: number) => points.find(({ averagingS }) => averagingS >= s)!;
    expect(at(1).deviation).toBeCloseTo(1, 1);
    expect(at(20).deviation * Math.sqrt(at(20).averagingS)).toBeCloseTo(1, 0.7);
  });
  it('finds the averaging time where drift takes over', () => {
    const random = seeded(8);
    const best = bestAveraging(
      allanDeviation(
        Array.from({ length: 4000 }, (_, i) => normal(random) + 0.02 * i),
        1,
      ),
    );
    // white sigma/sqrt(m) against drift d m/sqrt(2): m = (sigma sqrt 2/(2 d))^(2/3) = 11
    expect(best?.averagingS).toBeGreaterThan(5);
    expect(best?.averagingS).toBeLessThan(22);
  });
});

describe('ageing', () => {
  const year = 365.25 * 86_400_000;
  const falling = (slope: number, noise: number, seed: number) => {
    const random = seeded(seed);
    return Array.from({ length: 6 }, (_, i) => ({ wallMs: (i / 2) * year, sensitivity: 1 + (slope * i) / 2 + noise * normal(random) }));
  };
  it('forecasts when a falling cell reaches its limit, with an interval', () => {
    const forecast = endOfLife(falling(-0.06, 0.005, 1));
    if (forecast.kind !== 'forecast') throw new Error(forecast.kind);
    expect(forecast.wallMs / year).toBeGreaterThan(4);
    expect(forecast.wallMs / year).toBeLessThan(6.2);
    expect(forecast.earliestMs).toBeLessThan(forecast.wallMs);
    expect(forecast.latestMs ?? Infinity).toBeGreaterThan(forecast.wallMs);
  });
  it('finds no trend where the tests only scatter', () => expect(endOfLife(falling(0, 0.01, 3)).kind).toBe('steady'));
  it('gives no trend from two tests', () => expect(endOfLife(falling(-0.06, 0, 1).slice(0, 2)).kind).toBe('not-enough'));
  it('says when it has been reached', () =>
    expect(
      endOfLife([
        { wallMs: 0, sensitivity: 1 },
        { wallMs: year, sensitivity: 0.65 },
      ]).kind,
    ).toBe('reached'));
});

it('finds what speaks against a cylinder', () => {
  const gas = ReferenceGas.parse({
    format: 1,
    name: 'O2 4 % in nitrogen',
    balance: 'nitrogen',
    components: [{ channel: 'o2', value: 4, expanded: 0.08 }],
    expires: '2026-11-24',
    pressureBar: 8,
  });
  expect(gasFlaws(gas, '2026-11-25')).toEqual(['expired', 'nearly-empty']);
  expect(gasFlaws({ ...gas, expires: '2027-01-01', pressureBar: 100 }, '2026-11-25')).toEqual([]);
});
