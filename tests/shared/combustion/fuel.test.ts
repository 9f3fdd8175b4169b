import { describe, expect, it } from 'vitest';
import { blendByVolume, findFuel, fuelIds, fuels, withSulfur, type FuelId } from '../../../shared/combustion/fuel.ts';
import { NM3_PER_KMOL } from '../../../shared/combustion/constants.ts';
import { stoichiometry } from '../../../shared/combustion/stoichiometry.ts';
import { goldenCsv, goldenJson } from './golden-table.ts';
import { airFuelHandbook1919 } from './second-opinions.ts';

type FuelRow = {
  id: FuelId;
  C: number;
  H: number;
  O: number;
  N: number;
  S: number;
  hhv_kJkg: number;
  lhv_kJkg: number;
  rho_kgL: number | null;
  air_Nm3kg: number;
  af_kgkg: number;
  dry0_Nm3kg: number;
  wet0_Nm3kg: number;
  co2max_pct: number;
  dry_air_ratio: number;
};
const { source, fuels: rows } = goldenJson<{ source: string; fuels: FuelRow[] }>('fuels.json');

describe(`fuels: ${source.slice(0, 60)}`, () => {
  it('covers every fuel', () => expect(rows.map(({ id }) => id).sort()).toEqual([...fuelIds].sort()));

  it.each(rows)('$id: composition, heating values, air and gas volumes', (row) => {
    const fuel = fuels[row.id];
    const st = fuel.stoichiometry;
    // half of the last digit that the table prints
    expect(Math.abs(fuel.analysis.c - row.C)).toBeLessThan(1e-6);
    expect(Math.abs(fuel.analysis.h - row.H)).toBeLessThan(1e-6);
    expect(Math.abs(fuel.analysis.o - row.O)).toBeLessThan(1e-6);
    expect(Math.abs(fuel.analysis.n - row.N)).toBeLessThan(1e-6);
    expect(Math.abs(fuel.analysis.s - row.S)).toBeLessThan(1e-9);
    expect(Math.abs(fuel.hhvKjPerKg - row.hhv_kJkg)).toBeLessThan(0.06);
    expect(Math.abs(fuel.lhvKjPerKg - row.lhv_kJkg)).toBeLessThan(0.11);
    if (row.rho_kgL === null) expect(fuel.densityKgPerL).toBeUndefined();
    else expect(Math.abs((fuel.densityKgPerL ?? 0) - row.rho_kgL)).toBeLessThan(1e-5);
    expect(Math.abs(st.air * NM3_PER_KMOL - row.air_Nm3kg)).toBeLessThan(1e-4);
    expect(Math.abs(st.airFuelKgPerKg - row.af_kgkg)).toBeLessThan(1e-4);
    expect(Math.abs(st.dryGas * NM3_PER_KMOL - row.dry0_Nm3kg)).toBeLessThan(1e-4);
    expect(Math.abs(st.wetGas * NM3_PER_KMOL - row.wet0_Nm3kg)).toBeLessThan(1e-4);
    expect(Math.abs(st.co2MaxPercent - row.co2max_pct)).toBeLessThan(1e-3);
    expect(Math.abs(st.dryGasAirRatio - row.dry_air_ratio)).toBeLessThan(1e-5);
  });

  it.each([
    { id: 'no2', ratio: 0.937, source: 'UK SAP: oil (from memory)' },
    { id: 'natural-gas', ratio: 0.901, source: 'UK SAP: natural gas (from memory)' },
    { id: 'propane', ratio: 0.921, source: 'UK SAP: LPG (from memory)' },
  ] as const)('$id LHV/HHV $ratio: $source', ({ id, ratio }) => {
    expect(Math.abs(fuels[id].lhvKjPerKg / fuels[id].hhvKjPerKg - ratio)).toBeLessThan(0.002);
  });

  it.each([
    { id: 'no2', af: 14.49, source: '10 CFR 430 Subpart B App. O (from memory)' },
    { id: 'no1', af: 14.56, source: '10 CFR 430 Subpart B App. O (from memory)' },
  ] as const)('$id air/fuel $af within 0.4 %: $source', ({ id, af }) => {
    expect(Math.abs(fuels[id].stoichiometry.airFuelKgPerKg / af - 1)).toBeLessThan(0.004);
  });

  it('agrees with the handbook form of the air demand within 0.4 % (Steam, Its Generation and Use, 1919, formula 10)', () => {
    const handbook = airFuelHandbook1919(fuels.no2.analysis);
    expect(handbook).toBeCloseTo(14.515, 3);
    expect(Math.abs(handbook / fuels.no2.stoichiometry.airFuelKgPerKg - 1)).toBeLessThan(0.004);
  });
});

describe('blends', () => {
  it('are their parts at 0 and 100 %', () => {
    const none = blendByVolume(fuels.no2, fuels.b100, 0, 'x', 'x');
    const all = blendByVolume(fuels.no2, fuels.b100, 1, 'x', 'x');
    expect(none.hhvKjPerKg).toBeCloseTo(fuels.no2.hhvKjPerKg, 9);
    expect(none.stoichiometry.co2MaxPercent).toBeCloseTo(fuels.no2.stoichiometry.co2MaxPercent, 9);
    expect(all.analysis.o).toBeCloseTo(fuels.b100.analysis.o, 12);
    expect(all.densityKgPerL).toBeCloseTo(fuels.b100.densityKgPerL ?? 0, 12);
  });

  it('keep the mass of every element in a litre', () => {
    const blend = blendByVolume(fuels.no2, fuels.b100, 0.3, 'x', 'x');
    for (const element of ['c', 'h', 'o', 's'] as const) {
      const apart =
        0.7 * (fuels.no2.densityKgPerL ?? 0) * fuels.no2.analysis[element] +
        0.3 * (fuels.b100.densityKgPerL ?? 0) * fuels.b100.analysis[element];
      expect((blend.densityKgPerL ?? 0) * blend.analysis[element]).toBeCloseTo(apart, 12);
    }
  });

  it('are found by name, and nothing else is', () => {
    expect(findFuel('b5')).toBe(fuels.b5);
    expect(findFuel('b30')?.name).toMatch(/30 %/);
    for (const id of ['b0', 'b101', 'no3', '', 'toString', '__proto__', 'B5 ']) expect(findFuel(id)).toBeUndefined();
  });

  it('refuse a gas, which has no volume share here', () => {
    expect(() => blendByVolume(fuels.no2, fuels.methane, 0.5, 'x', 'x')).toThrow(RangeError);
  });
});

describe('emission factors of the built-in fuels', () => {
  const table = new Map(goldenCsv('co2_emission_factors.csv').map((row) => [row['fuel'] ?? '', row]));
  it.each([
    { id: 'no2', row: 'Distillate fuel oil No. 2', source: '40 CFR 98 Table C-1' },
    { id: 'no1', row: 'Distillate fuel oil No. 1', source: '40 CFR 98 Table C-1' },
    { id: 'b100', row: 'Biodiesel (100 %), biogenic', source: '40 CFR 98 Table C-1 (from memory)' },
  ] as const)('$id: $source, as printed to the cent', ({ id, row }) => {
    const perGallon = Number(table.get(row)?.['kg_co2_per_gal']);
    expect(perGallon).toBeGreaterThan(9);
    expect(fuels[id].emission?.kgPerGallon).toBeCloseTo(perGallon, 2);
  });

  it('agree with the carbon in the oil within 1.4 % (C x 44.009/12.011 x kg/gal)', () => {
    const carbon = fuels.no2.analysis.c * (44.009 / 12.011) * 0.85 * 3.785411784;
    expect(carbon).toBeCloseTo(10.257, 2);
    expect(Math.abs((fuels.no2.emission?.kgPerGallon ?? 0) / carbon - 1)).toBeLessThan(0.014);
  });
});

it('takes other sulphur out of the carbon, so that the parts still add up', () => {
  const { analysis } = withSulfur(fuels.no2, 2000);
  expect(analysis.s).toBeCloseTo(0.002, 12);
  expect(analysis.c + analysis.s).toBeCloseTo(fuels.no2.analysis.c + fuels.no2.analysis.s, 12);
});

it('throws on a composition that needs no oxygen: a bug in the caller', () => {
  expect(() => stoichiometry({ c: 0, h: 0, o: 1, n: 0, s: 0, w: 0 })).toThrow(RangeError);
});
