import { describe, expect, it } from 'vitest';
import { checkAnalysis, estimatedHhvKjPerKg, fuelFromSpecificGravity } from '../../../shared/combustion/analysis.ts';
import { fuels } from '../../../shared/combustion/fuel.ts';

const check = (massPercent: [number, number, number, number, number, number], hhvKjPerKg: number, densityKgPerL?: number) =>
  checkAnalysis({ massPercent, hhvKjPerKg, densityKgPerL });

describe('own ultimate analysis', () => {
  it('of No.2 oil gives No.2 oil', () => {
    const result = check([87, 13, 0, 0, 0, 0], 45_357, 0.85);
    if (!result.ok) throw new Error(result.error.detail);
    expect(result.value.notes).toEqual([]);
    expect(result.value.fuel.lhvKjPerKg).toBeCloseTo(fuels.no2.lhvKjPerKg, 6);
    expect(Math.abs(result.value.fuel.stoichiometry.airFuelKgPerKg - 14.4753)).toBeLessThan(1e-4);
    expect(result.value.fuel.phase).toBe('liquid');
  });

  it('is understood as fractions, too', () => {
    const percent = check([86.2, 12.7, 0.2, 0.2, 0.7, 0], 44_900);
    const fraction = check([0.862, 0.127, 0.002, 0.002, 0.007, 0], 44_900);
    if (!percent.ok || !fraction.ok) throw new Error('refused');
    expect(fraction.value.fuel.stoichiometry.dryGas).toBeCloseTo(percent.value.fuel.stoichiometry.dryGas, 12);
  });

  it.each([
    { name: 'methane', parts: [74.87, 25.13, 0, 0, 0, 0], hhv: 55_512 },
    { name: 'propane', parts: [81.71, 18.29, 0, 0, 0, 0], hhv: 50_325 },
    { name: 'hydrogen', parts: [0, 100, 0, 0, 0, 0], hhv: 141_780 },
    { name: 'methanol', parts: [37.48, 12.58, 49.94, 0, 0, 0], hhv: 22_660 },
    { name: 'ethanol', parts: [52.14, 13.13, 34.73, 0, 0, 0], hhv: 29_670 },
    { name: 'carbon monoxide', parts: [42.88, 0, 57.12, 0, 0, 0], hhv: 10_103 },
    { name: 'residual oil', parts: [86.5, 10.9, 0.4, 0.4, 1.8, 0], hhv: 43_000 },
    { name: 'wet emulsion', parts: [78.3, 11.7, 0, 0, 0, 10], hhv: 40_820 },
    { name: 'a bituminous coal', parts: [81, 5.6, 8, 1.5, 1, 2.9], hhv: 33_087 },
  ] as const)('takes $name (heats of combustion from memory)', ({ parts, hhv }) => {
    const result = check([...parts] as [number, number, number, number, number, number], hhv);
    expect(result.ok ? 'taken' : result.error.detail).toBe('taken');
  });

  it.each([
    { why: '99.4 %', parts: [86.4, 13, 0, 0, 0, 0], hhv: 45_357, words: /add up to 99.4/ },
    { why: '100.6 %', parts: [87.6, 13, 0, 0, 0, 0], hhv: 45_357, words: /add up to 100.6/ },
    { why: 'a negative part', parts: [90, 13, -3, 0, 0, 0], hhv: 45_357, words: /negative/ },
    { why: 'MJ/kg', parts: [87, 13, 0, 0, 0, 0], hhv: 45.36, words: /MJ\/kg/ },
    { why: 'Btu/lb', parts: [87, 13, 0, 0, 0, 0], hhv: 19_500, words: /Btu\/lb/ },
    { why: 'kcal/kg', parts: [87, 13, 0, 0, 0, 0], hhv: 10_833, words: /kcal\/kg/ },
    { why: 'zero', parts: [87, 13, 0, 0, 0, 0], hhv: 0, words: /not possible/ },
    { why: 'water', parts: [0, 0, 0, 0, 0, 100], hhv: 100, words: /does not burn/ },
    { why: 'carbon dioxide', parts: [27.3, 0, 72.7, 0, 0, 0], hhv: 100, words: /does not burn/ },
    { why: 'NaN', parts: [NaN, 13, 0, 0, 0, 0], hhv: 45_357, words: /not a number/ },
  ])('refuses $why in words', ({ parts, hhv, words }) => {
    const result = check(parts as [number, number, number, number, number, number], hhv);
    expect(result.ok ? '' : result.error.code).toBe('fuel-analysis');
    expect(result.ok ? '' : result.error.detail).toMatch(words);
  });

  it('takes 99.5 and 100.5 %: the limits belong to it', () => {
    expect(check([86.5, 13, 0, 0, 0, 0], 45_357).ok).toBe(true);
    expect(check([87.5, 13, 0, 0, 0, 0], 45_357).ok).toBe(true);
  });

  it('says when the lower heating value was given by mistake', () => {
    const result = check([87, 13, 0, 0, 0, 0], 42_519);
    expect(result.ok && result.value.notes.join(' ')).toMatch(/lower heating value/);
  });

  it('estimates what is known within 3 % (Channiwala and Parikh 2002, from memory)', () => {
    for (const id of ['no2', 'no1', 'b20', 'b100', 'natural-gas', 'methane', 'propane'] as const) {
      const { c, h, o, n, s } = fuels[id].analysis;
      expect(Math.abs(estimatedHhvKjPerKg(100 * c, 100 * h, 100 * o, 100 * n, 100 * s) / fuels[id].hhvKjPerKg - 1), id).toBeLessThan(0.03);
    }
  });
});

describe("Cragoe's relation (NBS Misc. Publ. 97, from memory)", () => {
  it('d 0.855: H 13.18 %, 19 557 Btu/lb, A/F 14.515, CO2max 15.43 %', () => {
    const result = fuelFromSpecificGravity(0.855);
    if (!result.ok) throw new Error(result.error.detail);
    const { analysis, hhvKjPerKg, stoichiometry: st } = result.value;
    expect(100 * analysis.h).toBeCloseTo(13.175, 9);
    expect(Math.abs(hhvKjPerKg / 2.326 - 19_557)).toBeLessThan(1);
    expect(Math.abs(st.airFuelKgPerKg - 14.515)).toBeLessThan(0.005);
    expect(Math.abs(st.co2MaxPercent - 15.43)).toBeLessThan(0.005);
  });

  it.each([0.5, 1.2, 850, NaN])('refuses %s', (gravity) => expect(fuelFromSpecificGravity(gravity).ok).toBe(false));
});
