import { describe, expect, it } from 'vitest';
import { checkGasConsistency, fFactors, fFactorsFromBalance } from '../../../shared/combustion/f-factors.ts';
import { co2FromO2Percent } from '../../../shared/combustion/excess-air.ts';
import { fuels, makeFuel, type Fuel } from '../../../shared/combustion/fuel.ts';
import { goldenCsv } from './golden-table.ts';

const byName: Record<string, Fuel> = {
  'No.2 heating oil (15 ppm S)': fuels.no2,
  'Natural gas (typical)': fuels['natural-gas'],
  Propane: fuels.propane,
};
const pick = (factors: ReturnType<typeof fFactors>, quantity: string): number =>
  ({ Fd: factors.fdDscfPerMmbtu, Fw: factors.fwWscfPerMmbtu, Fc: factors.fcScfPerMmbtu, Fo: factors.fo ?? NaN })[quantity] ?? NaN;
/** Allowed deviation from the averages of table 19-2, which stand for all oils and gases */
const allowedPercent: Record<string, number> = { Fd: 2, Fw: 3, Fc: 2, Fo: 2 };

describe('F-factors', () => {
  it.each(goldenCsv('method19_f_factors.csv'))('$fuel $quantity: 40 CFR 60 App. A-7, Method 19 (from memory)', (row) => {
    const fuel = byName[row['fuel'] ?? ''];
    const quantity = row['quantity'] ?? '';
    if (fuel === undefined) throw new Error('unknown row');
    const ours = pick(fFactors(fuel), quantity);
    const digits = quantity === 'Fo' ? 0.00006 : 0.6;
    expect(Math.abs(ours - Number(row['computed_M19_coeffs']))).toBeLessThan(digits);
    expect(Math.abs(pick(fFactorsFromBalance(fuel), quantity) - Number(row['computed_exact']))).toBeLessThan(digits);
    expect(Math.abs(ours / Number(row['table_19_2']) - 1) * 100).toBeLessThan(allowedPercent[quantity] ?? 0);
  });

  it.each([
    { id: 'no2', range: [1.26, 1.413] },
    { id: 'natural-gas', range: [1.6, 1.836] },
    { id: 'methane', range: [1.6, 1.836] },
    { id: 'propane', range: [1.434, 1.586] },
  ] as const)("$id: Fo inside Method 3B's range (from memory)", ({ id, range: [low, high] }) => {
    const { fo = NaN } = fFactors(fuels[id]);
    expect(fo).toBeGreaterThan(low);
    expect(fo).toBeLessThan(high);
  });

  it('have no Fo for a fuel without carbon', () => {
    const hydrogen = makeFuel({
      id: 'h2',
      name: 'hydrogen',
      phase: 'gas',
      analysis: { c: 0, h: 1, o: 0, n: 0, s: 0, w: 0 },
      hhvKjPerKg: 141_800,
      hydrogenHalfWidth: 0,
      source: 'test',
    });
    expect(fFactors(hydrogen).fo).toBeUndefined();
    expect(checkGasConsistency(hydrogen, 3, 1)).toBeUndefined();
  });
});

describe('a measured O2 with a measured CO2', () => {
  it('flags O2 3.8 %, CO2 14.3 % on oil: Fo 1.196, CO2max 17.5 % (boiler test of 1919, Steam, Its Generation and Use)', () => {
    const check = checkGasConsistency(fuels.no2, 3.8, 14.3);
    expect(check?.isConsistent).toBe(false);
    expect(check?.fo).toBeCloseTo(1.196, 3);
    expect(check?.impliedCo2MaxPercent).toBeCloseTo(17.5, 1);
    expect(check?.text).toMatch(/inconsistent analysis/);
    expect(check?.text).toMatch(/too high/);
  });

  it('accepts what the balance gives, for every fuel and every O2', () => {
    for (const fuel of Object.values(fuels)) {
      for (const o2 of [0, 2, 5, 8, 12, 15]) {
        expect(checkGasConsistency(fuel, o2, co2FromO2Percent(fuel.stoichiometry, o2))?.isConsistent, `${fuel.id} ${o2}`).toBe(true);
      }
    }
  });

  it('flags an air leak in the CO2 line as too little CO2', () => {
    const check = checkGasConsistency(fuels.no2, 5, 9);
    expect(check?.isConsistent).toBe(false);
    expect(check?.text).toMatch(/too low/);
  });
});
