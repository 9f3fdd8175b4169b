import psychrolib from 'psychrolib';
import { beforeAll, describe, expect, it } from 'vitest';
import { densityRatio, pressureRatio } from '../../../shared/combustion/atmosphere.ts';
import { derive } from '../../../shared/combustion/figures/derive.ts';
import { waterDewPoint } from '../../../shared/combustion/dew-point.ts';
import { fuels } from '../../../shared/combustion/fuel.ts';
import { humidityKgPerKg } from '../../../shared/combustion/humid-air.ts';

beforeAll(() => psychrolib.SetUnitSystem(psychrolib.SI));

describe('humid air against the library psychrolib (ASHRAE 2017 formulas)', () => {
  it.each([
    [25, 50],
    [0, 80],
    [10, 30],
    [20, 100],
    [35, 60],
    [40, 20],
  ])('%s degC, %s %% -> humidity ratio within 0.6 %', (airC, relativePercent) => {
    for (const pressurePa of [101_325, 84_307]) {
      // the library leaves out the enhancement factor as well
      const theirs = psychrolib.GetHumRatioFromRelHum(airC, relativePercent / 100, pressurePa);
      expect(Math.abs((humidityKgPerKg({ airC, relativePercent, pressurePa }) ?? NaN) / theirs - 1)).toBeLessThan(0.001);
    }
  });

  it('25 degC, 50 % -> 0.00988 kg/kg, which costs 0.14 points', () => {
    const humidity = humidityKgPerKg({ airC: 25, relativePercent: 50 }) ?? NaN;
    expect(humidity).toBeCloseTo(0.00988, 5);
    const at = (humidityValue: number): number =>
      derive({ timeMs: 0, fuel: fuels.no2, o2PercentDry: 5, coPpmDry: 0, stackC: 200, airC: 20, humidityKgPerKg: humidityValue }).values
        .efficiencyHhvPercent ?? NaN;
    expect(at(0) - at(humidity)).toBeCloseTo(0.14, 2);
  });

  it.each([2000, 5000, 9628, 12_000, 19_000])('dew point of %s Pa vapour within 0.05 K', (vapourPa) => {
    expect(Math.abs((waterDewPoint(vapourPa)?.celsius ?? NaN) - psychrolib.GetTDewPointFromVapPres(60, vapourPa))).toBeLessThan(0.05);
  });

  it.each([305, 610, 1524, 2438])('standard pressure at %s m within 0.01 %', (altitudeM) => {
    expect(Math.abs((pressureRatio(altitudeM) * 101_325) / psychrolib.GetStandardAtmPressure(altitudeM) - 1)).toBeLessThan(1e-4);
  });

  it('is not defined where vapour alone would be more than the barometer', () => {
    expect(humidityKgPerKg({ airC: 100, relativePercent: 100, pressurePa: 101_325 })).toBeUndefined();
    expect(humidityKgPerKg({ airC: 20, relativePercent: -1 })).toBeUndefined();
  });
});

describe('altitude: US Standard Atmosphere 1976 (from memory)', () => {
  it.each([
    [1000, 0.9644, 0.9711],
    [2000, 0.9298, 0.9428],
    [5000, 0.8321, 0.8617],
    [8000, 0.7428, 0.786],
  ])('%s ft: pressure %s, density %s', (feet, pressure, density) => {
    expect(Math.abs(pressureRatio(feet * 0.3048) - pressure)).toBeLessThan(1e-4);
    expect(Math.abs(densityRatio(feet * 0.3048) - density)).toBeLessThan(1e-4);
  });

  it('lowers the dew point with the pressure', () => {
    const at = (pressurePa: number): number =>
      derive({ timeMs: 0, fuel: fuels.no2, o2PercentDry: 5, pressurePa }).values.waterDewPointC ?? NaN;
    expect(at(84_307)).toBeLessThan(at(101_325) - 3);
    const x = (derive({ timeMs: 0, fuel: fuels.no2, o2PercentDry: 5 }).values.h2oWetPercent ?? NaN) / 100;
    expect(Math.abs(at(84_307) - psychrolib.GetTDewPointFromVapPres(60, x * 84_307))).toBeLessThan(0.05);
  });
});
