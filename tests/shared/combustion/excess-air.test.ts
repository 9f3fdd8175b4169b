import { describe, expect, it } from 'vitest';
import { derive } from '../../../shared/combustion/figures/derive.ts';
import {
  co2FromO2Percent,
  excessAirMethod3bPercent,
  excessAirPercent,
  excessAirSimplePercent,
  o2FromCo2Percent,
} from '../../../shared/combustion/excess-air.ts';
import { flueGas } from '../../../shared/combustion/flue-gas.ts';
import { fuels } from '../../../shared/combustion/fuel.ts';
import { MOLAR_MASS_AIR, NM3_PER_KMOL } from '../../../shared/combustion/constants.ts';
import { stoichiometry } from '../../../shared/combustion/stoichiometry.ts';
import { goldenCsv } from './golden-table.ts';
import { excessAirFromCo2Percent } from './second-opinions.ts';

const no2 = fuels.no2.stoichiometry;

describe('No.2 oil against O2 (recomputed by an independent program)', () => {
  it.each(goldenCsv('no2_oil_o2_relations_computed.csv'))('O2 $o2_dry_pct %', (row) => {
    const n = (name: string): number => Number(row[name]);
    const o2 = n('o2_dry_pct');
    const { values } = derive({ timeMs: 0, fuel: fuels.no2, o2PercentDry: o2, coPpmDry: 0 });
    expect(Math.abs((values.excessAirPercent ?? NaN) - n('excess_air_pct_exact'))).toBeLessThan(0.006);
    expect(Math.abs(excessAirSimplePercent(o2) - n('excess_air_pct_simple_20.9'))).toBeLessThan(0.006);
    expect(Math.abs((values.co2Percent ?? NaN) - n('co2_dry_pct'))).toBeLessThan(0.0006);
    expect(Math.abs((values.lambda ?? NaN) - n('lambda'))).toBeLessThan(0.00006);
    expect(Math.abs((values.h2oWetPercent ?? NaN) - n('h2o_wet_pct'))).toBeLessThan(0.0006);
    expect(Math.abs((values.waterDewPointC ?? NaN) - n('dew_C'))).toBeLessThan(0.02);
    const gas = flueGas(no2, o2, 0, 0);
    expect(Math.abs((100 * gas.o2) / (gas.dry + gas.h2o) - n('o2_wet_pct'))).toBeLessThan(0.0006);
  });
});

describe('excess air', () => {
  it('takes the oxygen off that CO has not used: No.2, O2 5 %, CO 1000 ppm -> 28.97 % (independent program)', () => {
    expect(excessAirPercent(no2, { o2PercentDry: 5, coPpmDry: 1000 })).toBeCloseTo(28.97, 2);
    expect(excessAirPercent(no2, { o2PercentDry: 5 })).toBeCloseTo(29.33, 2);
  });

  it.each([
    { o2: 6.2, co: 0, method3b: 39.53, exact: 39.33 },
    { o2: 4, co: 200, method3b: 22.12, exact: 22.02 },
  ])(
    'by Method 3B is near the exact one: O2 $o2 %, CO $co ppm -> $method3b % (40 CFR 60 App. A-2, from memory)',
    ({ o2, co, method3b, exact }) => {
      const { values } = derive({ timeMs: 0, fuel: fuels.no2, o2PercentDry: o2, coPpmDry: co });
      const co2 = values.co2Percent ?? NaN;
      expect(Math.abs(excessAirMethod3bPercent({ o2PercentDry: o2, co2PercentDry: co2, coPpmDry: co }) - method3b)).toBeLessThan(0.02);
      expect(Math.abs((values.excessAirPercent ?? NaN) - exact)).toBeLessThan(0.01);
    },
  );

  it('from CO2 is the same as from the O2 that belongs to it', () => {
    const co2 = co2FromO2Percent(no2, 5);
    expect(excessAirFromCo2Percent(no2, co2)).toBeCloseTo(excessAirPercent(no2, { o2PercentDry: 5 }), 9);
  });

  it('keeps the three oxygen constants apart: O2 6 %, No.2 -> 37.55 %, not 37.67 or 37.42', () => {
    expect(excessAirPercent(no2, { o2PercentDry: 6 })).toBeCloseTo(37.55, 2);
    expect(co2FromO2Percent(no2, 6)).toBeCloseTo(11.056, 3);
  });

  it('is negative when CO holds more oxygen back than is there', () => {
    expect(excessAirPercent(no2, { o2PercentDry: 0.1, coPpmDry: 20_000 })).toBeLessThan(0);
  });
});

describe('CO2 at excess air: ASHRAE Fundamentals, combustion chapter (from memory); the fuels differ, hence 0.5', () => {
  it.each([
    { id: 'no2', co2: [15.0, 12.3, 10.5, 9.1] },
    { id: 'no1', co2: [15.0, 12.3, 10.5, 9.1] },
    { id: 'natural-gas', co2: [12.1, 9.9, 8.4, 7.3] },
    { id: 'propane', co2: [13.9, 11.4, 9.6, 8.4] },
  ] as const)('$id', ({ id, co2 }) => {
    const st = fuels[id].stoichiometry;
    for (const [index, expected] of co2.entries()) {
      const excess = index * 0.2;
      const ours = (100 * st.carbon) / (st.dryGas + excess * st.air);
      expect(Math.abs(ours - expected)).toBeLessThan(0.5);
    }
  });
});

it.each([
  { oil: 'no2', a: 0.0667, b: 14.34, co2: 12 },
  { oil: 'no2', a: 0.0667, b: 14.34, co2: 10 },
  { oil: 'no1', a: 0.0679, b: 14.22, co2: 12 },
] as const)('air ratio A + B/CO2 of $oil at $co2 % CO2 within 1 %: 10 CFR 430 App. O (from memory)', ({ oil, a, b, co2 }) => {
  const ours = 1 + excessAirFromCo2Percent(fuels[oil].stoichiometry, co2) / 100;
  expect(Math.abs(ours / (a + b / co2) - 1)).toBeLessThan(0.01);
});

describe('wet exhaust density at 0 degC: IMO NOx Technical Code, Appendix 6, Table 1', () => {
  it.each([
    { name: 'diesel', analysis: { c: 0.862, h: 0.136, o: 0, n: 0, s: 0.0017, w: 0 }, lambda: 1, density: 1.294 },
    { name: 'diesel', analysis: { c: 0.862, h: 0.136, o: 0, n: 0, s: 0.0017, w: 0 }, lambda: 3.5, density: 1.292 },
    { name: 'rape methyl ester', analysis: { c: 0.772, h: 0.12, o: 0.108, n: 0, s: 0, w: 0 }, lambda: 1.35, density: 1.295 },
  ])('$name, lambda $lambda -> $density kg/m3', ({ analysis, lambda, density }) => {
    const st = stoichiometry(analysis);
    const volume = (st.wetGas + (lambda - 1) * st.air) * NM3_PER_KMOL;
    expect(Math.abs((1 + lambda * st.air * MOLAR_MASS_AIR) / volume - density)).toBeLessThan(0.002);
  });
});

describe('O2 from CO2', () => {
  it('counts the carbon in CO: the whole analysis comes back', () => {
    const { values } = derive({ timeMs: 0, fuel: fuels.no2, o2PercentDry: 4.2, coPpmDry: 3000 });
    expect(o2FromCo2Percent(no2, values.co2Percent ?? NaN, 3000)).toBeCloseTo(4.2, 9);
  });
  it('is below zero when CO2 is more than the fuel can give', () => {
    expect(o2FromCo2Percent(no2, 16)).toBeLessThan(0);
  });
});
