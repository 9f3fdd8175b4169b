import { describe, expect, it } from 'vitest';
import { derive } from '../../../shared/combustion/figures/derive.ts';
import { fuels } from '../../../shared/combustion/fuel.ts';
import { airVolumeM3PerKg, firing, nozzleFlow } from '../../../shared/combustion/nozzle.ts';
import { co2SavedKg, fuelSavedPercent, savingWithUncertainty } from '../../../shared/combustion/saving.ts';
import { PA_PER_PSI } from '../../../shared/units/convert.ts';
import type { DeriveInput } from '../../../shared/combustion/figures/figures.ts';

describe('nozzle', () => {
  it.each([
    [0.85, 140, 1.0057],
    [1, 150, 1.2247],
    [0.65, 125, 0.7267],
    [0.5, 200, 0.7071],
  ])('%s gph at %s psi -> %s gph (square-root law)', (rated, psi, flow) => {
    expect(nozzleFlow({ rated, pressurePa: psi * PA_PER_PSI })).toBeCloseTo(flow, 4);
  });

  it('1.0057 gph of No.2: 3.236 kg/h, and about 40.7 kW (0.138 MMBtu/gal gives 40.68: 40 CFR 98 Table C-1)', () => {
    const flow = firing({ fuel: fuels.no2, ratedGph: 0.85, pressurePa: 140 * PA_PER_PSI });
    expect(flow?.flowKgPerH).toBeCloseTo(3.236, 3);
    expect(Math.abs((flow?.inputHhvKw ?? NaN) / 40.68 - 1)).toBeLessThan(0.003);
    expect(flow?.inputHhvBtuPerH).toBeCloseTo((flow?.flowGph ?? NaN) * 0.85 * 3.785411784 * (45_357 / 1.05505585262), 3);
    expect((flow?.inputLhvKw ?? NaN) / (flow?.inputHhvKw ?? NaN)).toBeCloseTo(0.9374, 4);
  });

  it('stoichiometric air: 102.7 lb/gal, about 1371 ft3/gal at 70 degF', () => {
    const flow = firing({ fuel: fuels.no2, ratedGph: 1, pressurePa: 100 * PA_PER_PSI });
    const kgPerGallon = (flow?.airKgPerH ?? NaN) / 1;
    expect(kgPerGallon / 0.45359237).toBeCloseTo(102.7, 1);
    expect(Math.abs((kgPerGallon * airVolumeM3PerKg({ airC: 21.11 })) / 0.0283168466 / 1371 - 1)).toBeLessThan(0.003);
  });

  it('is nothing for a gas', () => expect(firing({ fuel: fuels.methane, ratedGph: 1, pressurePa: 7e5 })).toBeUndefined());
});

describe('saving', () => {
  it('80 -> 85 % saves 5.882 %; 900 gal/yr: 52.94 gal and 540.5 kg CO2 (40 CFR 98 Table C-1)', () => {
    const saved = fuelSavedPercent({ beforePercent: 80, afterPercent: 85 });
    if (!saved.ok) throw new Error('refused');
    expect(saved.value).toBeCloseTo(5.882, 3);
    const gallons = (900 * saved.value) / 100;
    expect(gallons).toBeCloseTo(52.94, 2);
    expect(Math.abs((co2SavedKg(fuels.no2, gallons)?.total ?? NaN) - 540.5)).toBeLessThan(0.1);
  });

  it('is not the difference of the efficiencies, and is negative when it got worse', () => {
    const worse = fuelSavedPercent({ beforePercent: 85, afterPercent: 80 });
    expect(worse.ok && worse.value).toBeCloseTo(-6.25, 9);
  });

  it.each([
    [0, 85],
    [-5, 85],
    [80, 0],
    [80, 101],
    [850, 85],
    [NaN, 85],
    [80, Infinity],
  ])('refuses %s -> %s %%', (beforePercent, afterPercent) => {
    const result = fuelSavedPercent({ beforePercent, afterPercent });
    expect(result.ok ? '' : result.error.code).toBe('value-out-of-range');
  });

  it('has no CO2 figure for gases', () => {
    for (const id of ['natural-gas', 'methane', 'propane'] as const) expect(co2SavedKg(fuels[id], 10)).toBeUndefined();
  });

  it('counts biodiesel as biogenic', () => {
    expect(co2SavedKg(fuels.b100, 10)?.biogenic).toBeCloseTo(94.5, 9);
    const b20 = co2SavedKg(fuels.b20, 10);
    expect(b20?.total).toBeCloseTo(0.8 * 102.1 + 0.2 * 94.5, 9);
    expect(b20?.biogenic).toBeCloseTo(0.2 * 94.5, 9);
    expect(co2SavedKg(fuels.no2, 10)?.biogenic).toBe(0);
  });
});

describe('the uncertainty of a saving', () => {
  const before: DeriveInput = { timeMs: 0, fuel: fuels.no2, o2PercentDry: 9, coPpmDry: 20, stackC: 280, airC: 20 };
  const after: DeriveInput = { ...before, o2PercentDry: 5, stackC: 240 };

  it('is zero between two readings that are the same, as long as nothing scatters', () => {
    const same = savingWithUncertainty(before, before);
    expect(same?.savedPercent).toBe(0);
    expect(same?.expandedPercent).toBeCloseTo(0, 12);
    expect(same?.expandedIfIndependentPercent).toBeGreaterThan(0.3);
  });

  it('is smaller than that of two unrelated figures, because offsets and the oil cancel', () => {
    const saving = savingWithUncertainty(before, after);
    expect(saving?.expandedPercent).toBeLessThan(0.5 * (saving?.expandedIfIndependentPercent ?? 0));
    const e = (input: DeriveInput): number => derive(input).values.efficiencyHhvPercent ?? NaN;
    expect(saving?.savedPercent).toBeCloseTo(100 * (1 - e(before) / e(after)), 9);
    expect(saving?.text).toMatch(/cancel/);
  });

  it('is what shifting both readings together gives: worst case of one offset', () => {
    const only = { o2: 0.3, stackK: 0, airK: 0, coPpm: 0, fuelPoints: 0 };
    const saved = (shift: number): number => {
      const e = (input: DeriveInput): number =>
        derive({ ...input, o2PercentDry: (input.o2PercentDry ?? 0) + shift }).values.efficiencyHhvPercent ?? NaN;
      return 100 * (1 - e(before) / e(after));
    };
    const half = Math.abs(saved(0.3) - saved(-0.3)) / 2;
    const expanded = savingWithUncertainty({ ...before, tolerances: only }, { ...after, tolerances: only })?.expandedPercent ?? NaN;
    expect(Math.abs(expanded / ((2 * half) / Math.sqrt(3)) - 1)).toBeLessThan(0.02);
  });

  it('keeps the scatter of each reading in full', () => {
    const nothing = { o2: 0, stackK: 0, airK: 0, coPpm: 0, fuelPoints: 0 };
    const spreads = { stackK: 1 };
    const saving = savingWithUncertainty({ ...before, tolerances: nothing, spreads }, { ...after, tolerances: nothing, spreads });
    expect(saving?.expandedPercent).toBeGreaterThan(0.1);
    expect(saving?.expandedPercent).toBeCloseTo(saving?.expandedIfIndependentPercent ?? NaN, 12);
  });
});
