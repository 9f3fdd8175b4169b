/** CO2max as a person sets it: what it changes, what it does not, and what no such fuel has. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { changedFuel, co2MaxDoubt, co2MaxOfAnalysis, co2MaxRefusal, withCo2Max } from '../../../shared/combustion/co2-max.ts';
import { derive } from '../../../shared/combustion/figures/derive.ts';
import { explainOne } from '../../../shared/combustion/figures/explain.ts';
import { findFuel, fuels, oilFuelIds, withSulfur } from '../../../shared/combustion/fuel.ts';
import type { DerivedKey } from '../../../shared/measurement/derived.ts';

const at = (o2: number, max?: number, coPpm = 0) =>
  derive({ timeMs: 0, fuel: withCo2Max(fuels.no2, max), o2PercentDry: o2, coPpmDry: coPpm, stackC: 200, airC: 20 });

describe('CO2 from O2 with a CO2max that was set', () => {
  // Siegert's relation, CO2 = CO2max (1 - O2/20.95). The published constants of the statute, A = 0.68 with O2 and A1 = 0.50 with CO2 (1. BImSchV 2010, Annex 2
  // No. 3.4.1; the CO2 form of its 1988/1997 editions from memory), give CO2max = 21 A1/A = 15.4 for heating oil.
  it.each([2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 15])('O2 %d %: Siegert’s relation with 15.4 %', (o2) => {
    expect(Math.abs((at(o2, 15.4).values.co2Percent ?? NaN) - 15.4 * (1 - o2 / 20.95))).toBeLessThan(0.003);
  });

  // procedure.md, 1.9, computed for a CO2max of 15.4
  it.each([
    [2, 13.9],
    [4, 12.5],
    [6, 11.0],
    [8, 9.5],
    [10, 8.1],
  ])('O2 %d %: %d %, the teaching table', (o2, co2) => {
    expect(Math.abs((at(o2, 15.4).values.co2Percent ?? NaN) - co2)).toBeLessThan(0.055);
  });

  it('is the balance itself when what is set is what the analysis gives, CO included', () => {
    const own = co2MaxOfAnalysis(fuels.no2);
    fc.assert(
      fc.property(fc.double({ min: 0.5, max: 17.5, noNaN: true }), fc.double({ min: 0, max: 5000, noNaN: true }), (o2, coPpm) => {
        const [set, balance] = [at(o2, own, coPpm), at(o2, undefined, coPpm)];
        expect(set.values.co2Percent).toBeCloseTo(balance.values.co2Percent ?? NaN, 9);
        expect(set.expanded.co2Percent).toBeCloseTo(balance.expanded.co2Percent ?? NaN, 6);
      }),
    );
  });

  it('leaves everything else as it was when O2 was measured: losses are by O2 and the analysis', () => {
    const changed = (Object.keys(at(4, 15.2, 30).values) as DerivedKey[]).filter(
      (key) => at(4, 15.2, 30).values[key] !== at(4, undefined, 30).values[key],
    );
    expect(changed.sort()).toEqual(['co2MaxPercent', 'co2Percent']);
  });

  it('moves O2, and with it the losses, when only CO2 is measured; CO2 stays what was measured', () => {
    const from = (max?: number) =>
      derive({ timeMs: 0, fuel: withCo2Max(fuels.no2, max), co2PercentDry: 12, coPpmDry: 30, stackC: 200, airC: 20 }).values;
    expect(from(15.2).co2Percent).toBeCloseTo(12, 9);
    // O2 = 20.946 (1 - 12/15.2) = 4.41 against 4.72 with 15.494: less air, less loss
    expect(from(15.2).excessAirPercent ?? NaN).toBeLessThan((from().excessAirPercent ?? NaN) - 1);
    expect(from(15.2).efficiencyHhvPercent ?? NaN).toBeGreaterThan((from().efficiencyHhvPercent ?? NaN) + 0.1);
  });

  it('is explained with its numbers and where it came from', () => {
    const input = { timeMs: 0, fuel: withCo2Max(fuels.no2, 15.2), o2PercentDry: 4, coPpmDry: 0 };
    expect(explainOne(input, 'co2Percent')?.withNumbers).toMatch(/15\.2 × \(1 - 4\/20\.946\)/);
    expect(explainOne(input, 'co2MaxPercent')?.withNumbers).toMatch(/^set \(the analysis: 15\.49/);
  });

  it('stays with another sulphur content, and goes with another fuel', () => {
    const set = withCo2Max(fuels.no2, 15.2);
    expect(withSulfur(set, 1500).stoichiometry.co2MaxPercent).toBe(15.2);
    expect(changedFuel(set, { fuelId: 'no2' })).toBe(set);
    expect(changedFuel(set, { fuelId: 'no1' })).toBe(fuels.no1);
    expect(changedFuel(set, { fuelId: 'no1', co2MaxPercent: 15 }).stoichiometry.co2MaxPercent).toBe(15);
    expect(changedFuel(set, { co2MaxPercent: null }).stoichiometry).toEqual(fuels.no2.stoichiometry);
  });
});

describe('a CO2max that is typed', () => {
  it.each(oilFuelIds)('of %s: its own passes, a gas is refused, and what is seldom is said', (id) => {
    const fuel = findFuel(id)!;
    const own = co2MaxOfAnalysis(fuel);
    expect([co2MaxRefusal(fuel, own), co2MaxDoubt(fuel, own)]).toEqual([undefined, undefined]);
    // natural gas, 11.8 %, typed at an oil
    expect(co2MaxRefusal(fuel, 11.8)).toMatch(/Check the fuel/);
    expect(co2MaxRefusal(fuel, NaN)).toBeDefined();
    expect([co2MaxRefusal(fuel, own + 1), co2MaxDoubt(fuel, own + 1)]).toEqual([undefined, expect.stringMatching(/outside the usual/)]);
  });

  it('15.4 % for heating oil (the statute’s constants) and 15.2 % are usual', () => {
    expect([15.2, 15.4, 15.6].map((percent) => co2MaxDoubt(fuels.no2, percent))).toEqual([undefined, undefined, undefined]);
  });
});
