import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { budgets, combined } from '../../../shared/combustion/figures/budget.ts';
import { derive } from '../../../shared/combustion/figures/derive.ts';
import { makeFuel, fuels, type Fuel } from '../../../shared/combustion/fuel.ts';
import { fromHalfWidth, roundToUncertainty } from '../../../shared/combustion/figures/uncertainty.ts';
import { derivedKeys, type DerivedKey } from '../../../shared/measurement/derived.ts';
import type { DeriveInput } from '../../../shared/combustion/figures/figures.ts';

const caseA: DeriveInput = { timeMs: 0, fuel: fuels.no2, o2PercentDry: 5, stackC: 200, airC: 20, coPpmDry: 0 };
const sensorsOnly = { o2: 0.3, stackK: 2, airK: 1, coPpm: 0, fuelPoints: 0 };
const slopesOf = (input: DeriveInput, key: DerivedKey): Record<string, number> =>
  Object.fromEntries((budgets(input).get(key)?.parts ?? []).map(({ name, slope }) => [name, slope]));

describe('worked example, No.2, O2 5.0 +- 0.3, 200 +- 2, 20 +- 1 (JCGM 100:2008; independent program)', () => {
  it('sensitivities within 2 %', () => {
    const slopes = slopesOf(caseA, 'efficiencyHhvPercent');
    expect(Math.abs((slopes['O2'] ?? NaN) / -0.448 - 1)).toBeLessThan(0.02);
    expect(Math.abs((slopes['stack temperature'] ?? NaN) / -0.0472 - 1)).toBeLessThan(0.02);
    expect(Math.abs((slopes['air temperature'] ?? NaN) / 0.0513 - 1)).toBeLessThan(0.02);
  });

  it('u_c 0.0994, U 0.20', () => {
    const { expanded } = derive({ ...caseA, tolerances: sensorsOnly });
    expect(Math.abs((expanded.efficiencyHhvPercent ?? NaN) / 2 - 0.0994)).toBeLessThan(0.0005);
  });

  it('with the unknown oil (+-0.25 points): u_c 0.18, U 0.35', () => {
    expect(derive(caseA).expanded.efficiencyHhvPercent).toBeCloseTo(0.35, 2);
  });

  it('excess air 29.3 +- 2.7 %, 7.71 per % O2', () => {
    const { values, expanded } = derive({ ...caseA, tolerances: sensorsOnly });
    expect(values.excessAirPercent).toBeCloseTo(29.3, 1);
    expect(expanded.excessAirPercent).toBeCloseTo(2.67, 2);
    expect(slopesOf(caseA, 'excessAirPercent')['O2']).toBeCloseTo(7.71, 2);
  });

  it('rules of thumb: +1 % O2 costs 0.48, +10 K stack 0.47, +40 degF stack 1.05 points', () => {
    const at = (change: Partial<DeriveInput>): number => derive({ ...caseA, ...change }).values.efficiencyHhvPercent ?? NaN;
    expect(at({}) - at({ o2PercentDry: 6 })).toBeCloseTo(0.48, 2);
    expect(at({}) - at({ stackC: 210 })).toBeCloseTo(0.47, 2);
    expect(at({}) - at({ stackC: 200 + 40 / 1.8 })).toBeCloseTo(1.05, 2);
  });
});

describe('CO2 that is measured beside O2', () => {
  const { values } = derive(caseA);
  const fromO2 = values.co2Percent ?? NaN;
  const beside = (co2PercentDry: number, more: Partial<DeriveInput> = {}) => derive({ ...caseA, co2PercentDry, ...more });
  it('says by how much the two differ, and U of the difference: both instruments and the fuel', () => {
    const { co2Measured, values: same } = beside(fromO2 - 1.5);
    expect(same).toEqual(values);
    expect(co2Measured?.percent).toBeCloseTo(fromO2 - 1.5, 9);
    expect(co2Measured?.difference).toBeCloseTo(-1.5, 9);
    const own = derive(caseA).expanded.co2Percent ?? NaN;
    // a half-width of 0.3 % is 2 x 0.3 / sqrt 3 = 0.346 at k = 2 (JCGM 100, 4.3.7)
    expect(co2Measured?.expanded).toBeCloseTo(Math.hypot(own, 0.3464), 3);
    expect(Math.abs(co2Measured!.difference)).toBeGreaterThan(co2Measured!.expanded);
    const near = beside(fromO2 + 0.2).co2Measured!;
    expect(Math.abs(near.difference)).toBeLessThan(near.expanded);
  });
  it('is not said where only one of them is there', () => {
    expect(derive(caseA).co2Measured).toBeUndefined();
    expect(derive({ ...caseA, o2PercentDry: undefined, co2PercentDry: 11 }).co2Measured).toBeUndefined();
    for (const none of [NaN, Infinity, -4, 40]) expect(beside(none).co2Measured).toBeUndefined();
  });
});

/** Same fuel with some of its carbon replaced by hydrogen: what the hydrogen slope stands for. */
const shifted = (fuel: Fuel, hydrogen: number): Fuel =>
  makeFuel({ ...fuel, analysis: { ...fuel.analysis, h: fuel.analysis.h + hydrogen, c: fuel.analysis.c - hydrogen } });

describe('analytic slopes are the difference quotients, for every figure and any input', () => {
  const anyInput = fc.record({
    fuel: fc.constantFrom(fuels.no2, fuels['no2-2000s'], fuels.b20, fuels.b100, fuels['natural-gas'], fuels.propane),
    o2PercentDry: fc.double({ min: 0.5, max: 14, noNaN: true }),
    coPpmDry: fc.double({ min: 0, max: 5000, noNaN: true }),
    stackC: fc.double({ min: 90, max: 580, noNaN: true }),
    airC: fc.double({ min: -20, max: 45, noNaN: true }),
    humidityKgPerKg: fc.double({ min: 0, max: 0.02, noNaN: true }),
  });
  const changes = {
    O2: { step: 1e-4, move: (input: DeriveInput, by: number) => ({ ...input, o2PercentDry: (input.o2PercentDry ?? 0) + by }) },
    CO2: { step: 1e-4, move: (input: DeriveInput, by: number) => ({ ...input, co2PercentDry: (input.co2PercentDry ?? 0) + by }) },
    CO: { step: 0.1, move: (input: DeriveInput, by: number) => ({ ...input, coPpmDry: (input.coPpmDry ?? 0) + by }) },
    'stack temperature': { step: 1e-2, move: (input: DeriveInput, by: number) => ({ ...input, stackC: (input.stackC ?? 0) + by }) },
    'air temperature': { step: 1e-2, move: (input: DeriveInput, by: number) => ({ ...input, airC: (input.airC ?? 0) + by }) },
    'fuel composition': { step: 1e-6, move: (input: DeriveInput, by: number) => ({ ...input, fuel: shifted(input.fuel, by) }) },
  };
  const totals: DerivedKey[] = ['stackLossPercent', 'stackLossLhvPercent', 'efficiencyHhvPercent', 'efficiencyLhvPercent'];

  const checkAll = (input: DeriveInput): void => {
    for (const [key, { value, parts }] of budgets(input)) {
      if (key.startsWith('acid')) continue; // carried by the correlation's own +-5 K
      for (const { name, slope } of parts) {
        if (name === 'correlation' || (name === 'fuel composition' && (totals.includes(key) || key === 'siegertLossPercent'))) continue;
        const { step, move } = changes[name];
        const quotient = ((derive(move(input, step)).values[key] ?? NaN) - (derive(move(input, -step)).values[key] ?? NaN)) / (2 * step);
        const scale = Math.max(Math.abs(quotient), (Math.abs(value) * 1e-7) / step, 1e-6);
        expect(Math.abs(slope - quotient) / scale, `${key} by ${name}: ${slope} against ${quotient}`).toBeLessThan(2e-3);
      }
    }
  };

  it('when O2 is measured', () => {
    fc.assert(
      fc.property(anyInput, (any) => checkAll({ timeMs: 0, ...any, coPpmDry: any.coPpmDry + 1 })),
      { numRuns: 60 },
    );
  });

  it('when CO2 is measured', () => {
    fc.assert(
      fc.property(anyInput, (any) => {
        const { o2PercentDry, ...rest } = any;
        const coPpmDry = any.coPpmDry + 1;
        const { values } = derive({ timeMs: 0, ...rest, coPpmDry, o2PercentDry });
        checkAll({ timeMs: 0, ...rest, coPpmDry, co2PercentDry: values.co2Percent });
      }),
      { numRuns: 40 },
    );
  });
});

describe('Monte Carlo agrees (JCGM 101): seeded, 20 000 draws', () => {
  it('for every figure that has a sensor behind it', () => {
    const input: DeriveInput = {
      ...caseA,
      fuel: fuels['no2-2000s'],
      coPpmDry: 120,
      humidityKgPerKg: 0.008,
      tolerances: { ...sensorsOnly, coPpm: 20 },
    };
    const random = seeded(20_240_817);
    const between = (half: number): number => (2 * random() - 1) * half;
    const keys = derivedKeys.filter((key) => !key.startsWith('acid'));
    const sums = new Map(keys.map((key) => [key, { sum: 0, squares: 0 }]));
    const draws = 20_000;
    for (let draw = 0; draw < draws; draw += 1) {
      const { values } = derive({
        ...input,
        o2PercentDry: 5 + between(0.3),
        stackC: 200 + between(2),
        airC: 20 + between(1),
        coPpmDry: 120 + between(20),
      });
      for (const [key, entry] of sums) {
        const value = values[key] ?? NaN;
        entry.sum += value;
        entry.squares += value * value;
      }
    }
    const { values, expanded } = derive(input);
    for (const [key, { sum, squares }] of sums) {
      const mean = sum / draws;
      const sd = Math.sqrt(Math.max(0, squares / draws - mean * mean));
      const u = (expanded[key] ?? NaN) / 2;
      if (u < 1e-9) {
        expect(sd, key).toBeLessThan(1e-6);
        continue;
      }
      // 20 000 draws know the spread to 0.5 %, the linear model adds its own: 2 %
      expect(Math.abs(sd / u - 1), key).toBeLessThan(0.02);
      expect(Math.abs(mean - (values[key] ?? NaN)), key).toBeLessThan(0.1 * u);
    }
    expect(values.efficiencyHhvPercent).toBeDefined();
  });

  it('reproduces the published run: mean 85.394, sd 0.0994, 95 % in [85.20, 85.58]', () => {
    const random = seeded(7);
    const draws = Array.from({ length: 20_000 }, () => {
      const between = (half: number): number => (2 * random() - 1) * half;
      return (
        derive({ ...caseA, o2PercentDry: 5 + between(0.3), stackC: 200 + between(2), airC: 20 + between(1) }).values.efficiencyHhvPercent ??
        NaN
      );
    }).sort((a, b) => a - b);
    const mean = draws.reduce((a, b) => a + b, 0) / draws.length;
    const sd = Math.sqrt(draws.reduce((a, b) => a + (b - mean) ** 2, 0) / (draws.length - 1));
    expect(Math.abs(mean - 85.394)).toBeLessThan(0.005);
    expect(Math.abs(sd - 0.0994)).toBeLessThan(0.002);
    expect(Math.abs((draws[500] ?? NaN) - 85.2)).toBeLessThan(0.02);
    expect(Math.abs((draws[19_500] ?? NaN) - 85.58)).toBeLessThan(0.02);
  });
});

/** A small generator with a seed (mulberry32). */
function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
}

describe('how uncertainties come together', () => {
  it('rectangular half-width a -> a/sqrt 3 (JCGM 100:2008, 4.3.7)', () => expect(fromHalfWidth(Math.sqrt(3))).toBeCloseTo(1, 12));

  it('the spread of the reading comes on top in quadrature (5.1.2)', () => {
    const without = (derive({ ...caseA, tolerances: sensorsOnly }).expanded.netStackC ?? NaN) / 2;
    const withSpread = (derive({ ...caseA, tolerances: sensorsOnly, spreads: { stackK: 1.5 } }).expanded.netStackC ?? NaN) / 2;
    expect(withSpread).toBeCloseTo(Math.hypot(without, 1.5), 9);
  });

  it('the budget adds up to what `derive` says, for every figure', () => {
    const input = { ...caseA, fuel: fuels['no2-2000s'], coPpmDry: 55, spreads: { o2: 0.05, coPpm: 3, stackK: 0.4, airK: 0.2 } };
    const { expanded } = derive(input);
    for (const [key, { parts }] of budgets(input)) expect(2 * combined(parts), key).toBeCloseTo(expanded[key] ?? NaN, 9);
    expect(budgets(input).size).toBe(derivedKeys.length);
  });

  it.each([
    [85.3946, 0.3505, '85.4 ± 0.4'],
    [29.33, 2.67, '29.3 ± 2.7'],
    [15.494, 0.165, '15.49 ± 0.17'],
    [130.4, 30.4, '130 ± 30'],
    [130.4, 32, '130 ± 40'],
    [9.6, 0.2999, '9.6 ± 0.3'],
    [1.2933, 0.0267, '1.293 ± 0.027'],
    [100, 1.04, '100.0 ± 1.0'],
    [4.98, 0.212, '4.98 ± 0.21'],
    [-0.04, 0.3, '0.0 ± 0.3'],
    [1234, 96, '1230 ± 100'],
    [5, 1e-161, '5'],
  ])('%s with U %s is written %s', (value, uncertainty, text) => expect(roundToUncertainty(value, uncertainty).text).toBe(text));
});
