import { describe, expect, it } from 'vitest';
import { derive } from '../../../shared/combustion/figures/derive.ts';
import { fuels, type FuelId } from '../../../shared/combustion/fuel.ts';
import { dryGasPerFuel1919, losses1919, lossesBs845 } from './second-opinions.ts';
import { siegertConstants } from '../../../shared/combustion/siegert.ts';
import { exampleCards } from '../../../shared/tuning/card/example-cards.ts';
import { celsiusFromFahrenheit, kelvinFromFahrenheitDifference } from '../../../shared/units/convert.ts';
import { goldenCsv } from './golden-table.ts';

describe('worked cases, term by term (independent program; +-0.05 on terms, +-0.10 on the efficiency)', () => {
  // fuel, O2, stack, air, w, CO | dry, latent, vapour, air moisture, CO, EA, efficiency HHV, loss LHV
  it.each<[string, FuelId, number, number, number, number, number, number, number, number, number, number, number, number, number]>([
    ['A', 'no2', 5, 200, 20, 0, 0, 7.445, 6.286, 0.875, 0, 0, 29.33, 85.395, 8.875],
    ['B', 'no2', 5, 200, 20, 0.01, 0, 7.445, 6.286, 0.875, 0.141, 0, 29.33, 85.254, 9.025],
    ['C', 'no2', 5, 200, 20, 0, 400, 7.437, 6.286, 0.875, 0, 0.153, 29.19, 85.25, 9.03],
    ['D', 'no2', 8, 260, 15, 0.006, 50, 12.46, 6.315, 1.199, 0.141, 0.024, 57.78, 79.86, 14.747],
    ['E', 'b20', 5, 200, 20, 0, 0, 7.397, 6.317, 0.879, 0, 0, 29.35, 85.407, 8.831],
    ['F', 'b100', 5, 200, 20, 0, 0, 7.189, 6.455, 0.898, 0, 0, 29.44, 85.458, 8.642],
    ['G', 'no1', 5, 200, 20, 0, 0, 7.379, 6.476, 0.901, 0, 0, 29.26, 85.244, 8.85],
    ['H', 'natural-gas', 5, 200, 20, 0, 0, 6.888, 9.789, 1.362, 0, 0, 28.18, 81.961, 9.141],
    ['I', 'propane', 5, 200, 20, 0, 0, 7.083, 7.969, 1.109, 0, 0, 28.73, 83.839, 8.897],
  ])('%s: %s', (_, id, o2, stackC, airC, humidityKgPerKg, coPpmDry, dry, latent, vapour, moisture, co, excess, efficiency, lossLhv) => {
    const { values: v } = derive({ timeMs: 0, fuel: fuels[id], o2PercentDry: o2, stackC, airC, humidityKgPerKg, coPpmDry });
    const near = (value: number | undefined, expected: number, tolerance: number): void =>
      expect(Math.abs((value ?? NaN) - expected)).toBeLessThanOrEqual(tolerance);
    near(v.lossDryGasPercent, dry, 0.05);
    near(v.lossLatentPercent, latent, 0.05);
    near(v.lossVapourPercent, vapour, 0.05);
    near(v.lossAirMoisturePercent, moisture, 0.005);
    near(v.lossCoPercent, co, 0.001);
    near(v.excessAirPercent, excess, 0.05);
    near(v.efficiencyHhvPercent, efficiency, 0.1);
    near(v.stackLossLhvPercent, lossLhv, 0.05);
  });
});

describe('No.2 oil grid, HHV, air 70 degF, dry air (independent program, +-0.10)', () => {
  it.each(goldenCsv('no2_oil_efficiency_computed.csv'))('O2 $o2_dry_pct %', (row) => {
    const airC = celsiusFromFahrenheit(70);
    let cells = 0;
    for (const [column, text] of Object.entries(row)) {
      const net = /^net_(\d+)F$/.exec(column)?.[1];
      if (net === undefined) continue;
      const stackC = airC + kelvinFromFahrenheitDifference(Number(net));
      const { values } = derive({ timeMs: 0, fuel: fuels.no2, o2PercentDry: Number(row['o2_dry_pct']), coPpmDry: 0, stackC, airC });
      expect(Math.abs((values.efficiencyHhvPercent ?? NaN) - Number(text)), column).toBeLessThanOrEqual(0.1);
      cells += 1;
    }
    expect(cells).toBe(10);
  });
});

describe('US DOE Steam Tip Sheet 4 (Jan 2006), gas; +-0.9 because the table uses another specific heat, and nothing is tuned to it', () => {
  it.each(goldenCsv('doe_steam_tip_04_examples.csv'))('O2 $o2_pct_dry %, net $net_stack_F degF -> $efficiency_hhv_pct %', (row) => {
    const n = (name: string): number => Number(row[name]);
    const airC = celsiusFromFahrenheit(70);
    const stackC = airC + kelvinFromFahrenheitDifference(n('net_stack_F'));
    for (const id of ['methane', 'natural-gas'] as const) {
      const { values } = derive({ timeMs: 0, fuel: fuels[id], o2PercentDry: n('o2_pct_dry'), coPpmDry: 0, stackC, airC });
      expect(Math.abs((values.efficiencyHhvPercent ?? NaN) - n('efficiency_hhv_pct'))).toBeLessThanOrEqual(0.9);
      // the sheet's own excess-air column
      expect(Math.abs((values.excessAirPercent ?? NaN) - n('excess_air_pct'))).toBeLessThanOrEqual(0.6);
      // and the independent program's methane
      if (id === 'methane') expect(Math.abs((values.efficiencyHhvPercent ?? NaN) - n('computed_CH4_Ta70F'))).toBeLessThanOrEqual(0.02);
    }
  });
});

describe('Siegert: 1. BImSchV of 26 Jan 2010, Annex 2 No. 3.4.1', () => {
  it('has the constants of the statute', () => {
    // in the same table; no fuel here uses it
    const cokeOvenGas = { a: 0.6, b: 0.011 };
    const rows = goldenCsv('bimschv_siegert_coefficients.csv').map((row) => ({ a: Number(row['A_o2_form']), b: Number(row['B']) }));
    expect(rows).toEqual([siegertConstants.oil, siegertConstants.gas, cokeOvenGas, siegertConstants.lpg]);
  });

  it.each([
    { id: 'no2', group: 'oil' },
    { id: 'no2-2000s', group: 'oil' },
    { id: 'b5', group: 'oil' },
    { id: 'b20', group: 'oil' },
    { id: 'b100', group: 'oil' },
    { id: 'natural-gas', group: 'gas' },
    { id: 'propane', group: 'lpg' },
    { id: 'no1', group: undefined },
    { id: 'methane', group: undefined },
  ] as const)('$id -> $group', ({ id, group }) => expect(fuels[id].siegertGroup).toBe(group));

  it('stays within 0.09 points of the balance for oil, 120-280 degC, O2 2-8 % (independent program), 0.2 up to 300 degC', () => {
    for (let stackC = 100; stackC <= 300; stackC += 20) {
      for (let o2 = 1; o2 <= 11; o2 += 1) {
        const { values: v } = derive({ timeMs: 0, fuel: fuels.no2, o2PercentDry: o2, stackC, airC: 20, coPpmDry: 0 });
        const residual = (v.siegertLossPercent ?? NaN) - (v.stackLossLhvPercent ?? NaN);
        expect(Math.abs(residual)).toBeLessThan(0.2);
        if (stackC >= 120 && stackC <= 280 && o2 >= 2 && o2 <= 8) expect(Math.abs(residual)).toBeLessThan(0.095);
      }
    }
  });

  it('allows 11 % up to 25 kW, 10 % up to 50 kW, 9 % above, as the example cards say (section 10)', () => {
    const limits = exampleCards.flatMap(({ lines }) =>
      lines.filter(({ quantity }) => quantity === 'siegertLossPercent').map(({ high }) => high),
    );
    expect(limits).toEqual([11, 10, 9]);
  });
});

describe('Steam, Its Generation and Use, 1919 edition', () => {
  const coal = { c: 0.7857, h: 0.056 };
  const gas = { co2: 14.33, o2: 4.54, co: 0.11, n2: 81.02 };

  it('worked example: 13.7 lb of dry gas, losses 1311, 618 and 61 Btu, within 1 %', () => {
    expect(Math.abs(dryGasPerFuel1919(coal.c, gas) / 13.7 - 1)).toBeLessThan(0.01);
    // the text goes on with its rounded 13.7
    const losses = losses1919({ analysis: coal, gas, gasF: 480, airF: 81, dryGasPerFuel: 13.7 });
    expect(Math.abs(losses.dryBtu / 1311 - 1)).toBeLessThan(0.01);
    expect(Math.abs(losses.hydrogenBtu / 618 - 1)).toBeLessThan(0.01);
    expect(Math.abs(losses.coBtu / 61 - 1)).toBeLessThan(0.01);
  });

  it.each([
    { o2: 5, stackF: 392, airF: 68, hand: 85.43 },
    { o2: 6, stackF: 470, airF: 70, hand: 82.91 },
  ])('its formulas on No.2 oil agree within 0.15 points: O2 $o2 %, $stackF/$airF degF', ({ o2, stackF, airF, hand }) => {
    const input = {
      timeMs: 0,
      fuel: fuels.no2,
      o2PercentDry: o2,
      coPpmDry: 0,
      stackC: celsiusFromFahrenheit(stackF),
      airC: celsiusFromFahrenheit(airF),
    };
    const { values } = derive(input);
    const co2 = values.co2Percent ?? NaN;
    const { dryBtu, hydrogenBtu } = losses1919({
      analysis: fuels.no2.analysis,
      gas: { co2, o2, co: 0, n2: 100 - co2 - o2 },
      gasF: stackF,
      airF,
    });
    const byHand = 100 - (100 * (dryBtu + hydrogenBtu)) / 19_500;
    expect(Math.abs(byHand - hand)).toBeLessThan(0.02);
    expect(Math.abs((values.efficiencyHhvPercent ?? NaN) - byHand)).toBeLessThan(0.15);
  });

  it('CO loss agrees to 0.4 %: 100, 400, 1000 ppm at O2 5 %', () => {
    for (const coPpmDry of [100, 400, 1000]) {
      const { values } = derive({ timeMs: 0, fuel: fuels.no2, o2PercentDry: 5, coPpmDry, stackC: 200, airC: 20 });
      const co = coPpmDry * 1e-4;
      const { coBtu } = losses1919({
        analysis: fuels.no2.analysis,
        gas: { co2: values.co2Percent ?? NaN, o2: 5, co, n2: 0 },
        gasF: 392,
        airF: 68,
      });
      expect(Math.abs((values.lossCoPercent ?? NaN) / ((100 * coBtu) / 19_500) - 1)).toBeLessThan(0.0045);
    }
  });
});

it('agrees with the BS 845-1 form (from memory) within 0.25 points for oil, 140-300 degC, O2 2-8 %', () => {
  for (const stackC of [140, 180, 220, 260, 300]) {
    for (const o2 of [2, 4, 6, 8]) {
      const { values } = derive({ timeMs: 0, fuel: fuels.no2, o2PercentDry: o2, coPpmDry: 0, stackC, airC: 20 });
      const { dryPercent, waterPercent } = lossesBs845({ ...fuels.no2, stackC, airC: 20, co2Percent: values.co2Percent ?? NaN });
      expect(Math.abs((values.efficiencyHhvPercent ?? NaN) - (100 - dryPercent - waterPercent))).toBeLessThan(0.25);
    }
  }
});

it.each([
  { id: 'no2', latent: 6.5 },
  { id: 'no1', latent: 6.55 },
  { id: 'natural-gas', latent: 9.55 },
  { id: 'propane', latent: 7.99 },
] as const)('latent loss of $id near $latent %: 10 CFR 430 App. O, ASHRAE 103 (from memory), within 0.3 points', ({ id, latent }) => {
  const { values } = derive({ timeMs: 0, fuel: fuels[id], o2PercentDry: 5, coPpmDry: 0, stackC: 200, airC: 25 });
  expect(Math.abs((values.lossLatentPercent ?? NaN) - latent)).toBeLessThan(0.3);
});
