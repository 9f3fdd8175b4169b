/**
 * How every figure reads in both presets. What 1 in w.c., 1 psi, 1 gph and 1 °F are is in units/convert.test.ts; as many digits as
 * instruments of the trade give (our choice).
 */
import { describe, expect, it } from 'vitest';
import { formatDifference, formatWithUnit, flowText, draftBoth } from '../../../shared/format/quantity.ts';
import { quantities, type Quantity, type QuantityId } from '../../../shared/units/quantities.ts';

/** inner value, in metric, in US; thin spaces written as plain ones */
const rows: Readonly<Record<QuantityId, [inner: number, metric: string, us: string]>> = {
  o2: [4.56, '4.6 %', '4.6 %'],
  co: [123.4, '123 ppm', '123 ppm'],
  co2: [11.94, '11.9 %', '11.9 %'],
  stackTemperature: [204.6, '205 °C', '400 °F'],
  airTemperature: [21.4, '21 °C', '71 °F'],
  no: [62.6, '63 ppm', '63 ppm'],
  no2: [3.4, '3 ppm', '3 ppm'],
  so2: [8.6, '9 ppm', '9 ppm'],
  // 0.02 in w.c., the usual draft over the fire
  draft: [-4.98, '−5.0 Pa', '−0.020 in w.c.'],
  // 100 psi and 6.9 bar, the usual pump pressure of one-pipe burners
  pumpPressure: [689_476, '6.9 bar', '100 psi'],
  ambientCo: [8.6, '9 ppm', '9 ppm'],
  aux1: [1.234, '1.23', '1.23'],
  aux2: [1.234, '1.23', '1.23'],
  aux3: [1.234, '1.23', '1.23'],
  aux4: [1.234, '1.23', '1.23'],
  netStackC: [180.4, '180 °C', '325 °F'],
  co2Percent: [11.94, '11.9 %', '11.9 %'],
  co2MaxPercent: [15.43, '15.4 %', '15.4 %'],
  excessAirPercent: [27.6, '28 %', '28 %'],
  lambda: [1.276, '1.28', '1.28'],
  coAirFreePpm: [99.6, '100 ppm', '100 ppm'],
  coAt3PercentO2Ppm: [85.4, '85 ppm', '85 ppm'],
  coMgPerKwh: [33.6, '34 mg/kWh', '34 mg/kWh'],
  lossDryGasPercent: [7.84, '7.8 %', '7.8 %'],
  lossLatentPercent: [6.26, '6.3 %', '6.3 %'],
  lossVapourPercent: [0.84, '0.8 %', '0.8 %'],
  lossAirMoisturePercent: [0.16, '0.2 %', '0.2 %'],
  lossCoPercent: [0.036, '0.04 %', '0.04 %'],
  stackLossPercent: [15.04, '15.0 %', '15.0 %'],
  stackLossLhvPercent: [9.16, '9.2 %', '9.2 %'],
  efficiencyHhvPercent: [84.96, '85.0 %', '85.0 %'],
  efficiencyLhvPercent: [90.84, '90.8 %', '90.8 %'],
  siegertLossPercent: [9.04, '9.0 %', '9.0 %'],
  h2oWetPercent: [10.36, '10.4 %', '10.4 %'],
  waterDewPointC: [46.4, '46 °C', '116 °F'],
  waterDewPointMarginK: [100.4, '100 K', '181 °F'],
  acidDewPointC: [121.1, '121 °C', '250 °F'],
  acidDewPointOkkesC: [121.1, '121 °C', '250 °F'],
  acidDewPointMarginK: [50.4, '50 K', '91 °F'],
  // 0.85 gph
  nozzleFlow: [3.2176, '3.22 L/h', '0.85 gph'],
};
const plain = (text: string): string => text.replaceAll('\u2009', ' ');

describe('every quantity, as it reads', () => {
  it.each(Object.entries(rows) as [QuantityId, [number, string, string]][])('%s', (id, [inner, metric, us]) => {
    expect(plain(formatWithUnit(id, inner, 'metric'))).toBe(metric);
    expect(plain(formatWithUnit(id, inner, 'us'))).toBe(us);
  });

  it('differences know no 32, flows keep their hundredths, and draft is said in both', () => {
    expect(plain(formatDifference('stackTemperature', -10, 'us'))).toBe('18 °F');
    expect(plain(formatDifference('stackTemperature', -10, 'metric'))).toBe('10 K');
    expect(plain(formatDifference('o2', 0.01, 'metric'))).toBe('0.1 %');
    expect([plain(flowText(3.7854, 'us')), plain(flowText(3.7854, 'metric'))]).toEqual(['1.00 gph', '3.79 L/h']);
    expect([plain(draftBoth(-5, 'metric')), plain(draftBoth(-5, 'us'))]).toEqual(['−5.0 Pa (−0.050 mbar)', '−0.020 in w.c.']);
  });
});

/** What a sound instrument shows somewhere between a cold cellar and a hot stack must not be called impossible; what no gas or cell can be must. */
const inRange: Partial<Record<QuantityId, readonly number[]>> = {
  // a cell reads a little beside zero and beside 20.9 %
  o2: [-0.3, 0, 20.9, 21.3],
  co: [-10, 0, 4000, 30_000],
  co2: [-0.2, 0, 15.4],
  stackTemperature: [-30, 0, 200, 1000],
  airTemperature: [-30, 20, 60],
  draft: [-300, 0, 300],
  pumpPressure: [-50_000, 0, 689_476, 2_500_000],
  ambientCo: [-10, 0, 35, 2000],
};
const outOfRange: Partial<Record<QuantityId, readonly number[]>> = {
  o2: [-1, 22],
  co: [-50, 100_000],
  co2: [-1, 21],
  // below the coldest winter of a cellar, above what bare thermocouples of the trade are made for
  stackTemperature: [-60, 1400],
  airTemperature: [-60, 100],
  draft: [-2000, 2000],
  pumpPressure: [-150_000, 5_000_000],
  ambientCo: [-50, 10_000],
};
describe('what is possible', () => {
  it.each(Object.keys(inRange) as QuantityId[])('%s', (id) => {
    const [low, high] = (quantities[id] as Quantity).possible ?? [NaN, NaN];
    for (const value of inRange[id] ?? []) expect(value >= low && value <= high, `${value}`).toBe(true);
    for (const value of outOfRange[id] ?? []) expect(value < low || value > high, `${value}`).toBe(true);
  });
});
