import { describe, expect, it } from 'vitest';
import { GAS_CONSTANT_KJ_PER_KMOL_K } from '../../../shared/combustion/constants.ts';
import { enthalpy, heatCapacity, species, type Species } from '../../../shared/combustion/gas-properties.ts';
import { goldenJson } from './golden-table.ts';

type Published = { R: number; species: Record<string, { low: number[]; high: number[] }> };

it('has the coefficients of NASA TM-4513, every one', () => {
  const { R, species: table } = goldenJson<Published>('nasa7_gas.json');
  expect(GAS_CONSTANT_KJ_PER_KMOL_K).toBe(R);
  expect(Object.keys(table).length).toBe(7);
  for (const [name, { low, high }] of Object.entries(table)) {
    const ours = species[name.toLowerCase() as Species];
    expect(ours.low, name).toEqual(low);
    expect(ours.high, name).toEqual(high);
  }
});

describe('heat capacity, kJ/(kmol K): NIST-JANAF (from memory), 0.2 %', () => {
  it.each<[Species, number, number]>([
    ['co2', 400, 41.325],
    ['co2', 500, 44.627],
    ['n2', 400, 29.249],
    ['n2', 500, 29.58],
    ['n2', 600, 30.11],
    ['o2', 500, 31.091],
    ['o2', 600, 32.09],
    ['h2o', 400, 34.262],
    ['h2o', 500, 35.226],
    ['h2o', 600, 36.325],
    ['co', 400, 29.342],
    ['co', 500, 29.794],
    ['so2', 400, 43.493],
    ['so2', 600, 49.049],
    ['ar', 400, 20.786],
  ])('%s at %s K: %s', (gas, kelvin, expected) => {
    expect(Math.abs(heatCapacity(gas, kelvin) / expected - 1)).toBeLessThan(0.002);
  });
});

describe('enthalpy above 298.15 K, MJ/kmol: NIST-JANAF (from memory), 0.2 %', () => {
  it.each<[Species, number, number]>([
    ['co2', 400, 4.003],
    ['co2', 600, 12.907],
    ['n2', 400, 2.971],
    ['n2', 500, 5.911],
    ['o2', 400, 3.025],
    ['h2o', 500, 6.925],
    ['h2o', 600, 10.501],
    ['co', 500, 5.931],
    ['so2', 500, 8.758],
  ])('%s at %s K: %s', (gas, kelvin, expected) => {
    expect(Math.abs((enthalpy(gas, kelvin) - enthalpy(gas, 298.15)) / 1000 / expected - 1)).toBeLessThan(0.002);
  });
});

describe('NIST WebBook Shomate sets (from memory), where they are valid: 0.35 %', () => {
  // each set is within 0.15 % of the JANAF tables and ours within 0.2 %, so they are within the sum of each other
  // A, B, C, D, E, F, H; range K
  const shomate: [Species, number, number, readonly number[]][] = [
    ['n2', 100, 500, [28.98641, 1.853978, -9.647459, 16.63537, 0.000117, -8.671914, 0]],
    ['o2', 100, 700, [31.32234, -20.23531, 57.86644, -36.50624, -0.007374, -8.903471, 0]],
    ['co2', 298, 1200, [24.99735, 55.18696, -33.69137, 7.948387, -0.136638, -403.6075, -393.5224]],
    ['h2o', 500, 1700, [30.092, 6.832514, 6.793435, -2.53448, 0.082139, -250.881, -241.8264]],
    ['co', 298, 1300, [25.56759, 6.09613, 4.054656, -2.671301, 0.131021, -118.0089, -110.5271]],
    ['so2', 298, 1200, [21.43049, 74.35094, -57.75217, 16.35534, 0.086731, -305.7688, -296.8422]],
  ];
  it.each(shomate)('%s, %s-%s K', (gas, low, high, [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0, h = 0]) => {
    for (let kelvin = Math.max(low, 320); kelvin <= Math.min(high, 900); kelvin += 20) {
      const t = kelvin / 1000;
      const cp = a + b * t + c * t * t + d * t ** 3 + e / (t * t);
      expect(Math.abs(heatCapacity(gas, kelvin) / cp - 1), `cp at ${kelvin} K`).toBeLessThan(0.0035);
      if (kelvin < 400) continue; // close to the reference the quotient of two small numbers says nothing
      const rise = a * t + (b * t * t) / 2 + (c * t ** 3) / 3 + (d * t ** 4) / 4 - e / t + f - h;
      expect(Math.abs((enthalpy(gas, kelvin) - enthalpy(gas, 298.15)) / 1000 / rise - 1), `h at ${kelvin} K`).toBeLessThan(0.0035);
    }
  });
});

it('goes from the low to the high polynomials without a step worth naming', () => {
  for (const gas of Object.keys(species) as Species[]) {
    expect(Math.abs(heatCapacity(gas, 1000.001) / heatCapacity(gas, 1000) - 1), gas).toBeLessThan(2e-4);
    expect(Math.abs(enthalpy(gas, 1000.001) - enthalpy(gas, 1000)), gas).toBeLessThan(5);
  }
});

it('gives the heat of combustion of CO that the CO loss uses: 282.98 kJ/mol (CODATA, from memory), 0.1 %', () => {
  const heat = enthalpy('co', 298.15) + enthalpy('o2', 298.15) / 2 - enthalpy('co2', 298.15);
  expect(Math.abs(heat / 282_980 - 1)).toBeLessThan(0.001);
});
