import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { derive } from '../../../shared/combustion/figures/derive.ts';
import {
  ACID_DEW_POINT_EXPANDED_K,
  acidDewPointOkkesC,
  acidDewPointVerhoffBancheroC,
  waterDewPoint,
  waterSaturationPa,
} from '../../../shared/combustion/dew-point.ts';
import { fuels, withSulfur } from '../../../shared/combustion/fuel.ts';
import { goldenCsv } from './golden-table.ts';
import { waterSaturationBuckPa } from './second-opinions.ts';

const MMHG = 101_325 / 760;

describe('water', () => {
  it.each([
    [20, 2339.2, 2338.3],
    [40, 7385.1, 7382.4],
    [50, 12_352.5, 12_349.4],
    [60, 19_947.4, 19_945.1],
    [100, 101_418, 101_308],
  ])('%s degC: %s Pa (IAPWS 1992), %s Pa (Buck 1996, from memory)', (celsius, iapws, buck) => {
    expect(Math.abs(waterSaturationPa(celsius) / iapws - 1)).toBeLessThan(1e-5);
    expect(Math.abs(waterSaturationBuckPa(celsius) / buck - 1)).toBeLessThan(1e-4);
  });

  it('saturates at 50 degC at 12 351.3 Pa by the industrial formulation IF97 (python3-iapws 1.5.3), 0.02 %', () => {
    expect(Math.abs(waterSaturationPa(50) / 12_351.3 - 1)).toBeLessThan(2e-4);
  });

  it('dew point and saturation pressure undo each other', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.1, max: 370, noNaN: true }), (celsius) => {
        const dew = waterDewPoint(waterSaturationPa(celsius));
        expect(dew?.celsius).toBeCloseTo(celsius, 5);
      }),
    );
  });

  it('its slope is the difference quotient', () => {
    for (const pa of [2000, 9628, 15_000, 101_325]) {
      const step = pa * 1e-4;
      const quotient = ((waterDewPoint(pa + step)?.celsius ?? NaN) - (waterDewPoint(pa - step)?.celsius ?? NaN)) / (2 * step);
      expect(Math.abs((waterDewPoint(pa)?.slopeKPerPa ?? NaN) / quotient - 1)).toBeLessThan(1e-4);
    }
  });

  it('is not defined where there would be frost, or nothing', () => {
    for (const pa of [0, -5, 500, 3e7, NaN]) expect(waterDewPoint(pa)).toBeUndefined();
  });
});

describe('sulphuric acid', () => {
  it('worked example: 93.44 mmHg H2O, 0.0024917 mmHg SO3 -> 402 K (public, Verhoff and Banchero); Okkes 126.7 degC', () => {
    const at = { waterPa: 93.44 * MMHG, so3Pa: 0.0024917 * MMHG };
    expect(Math.abs((acidDewPointVerhoffBancheroC(at) ?? NaN) + 273.15 - 402)).toBeLessThan(0.3);
    expect(Math.abs((acidDewPointOkkesC(at) ?? NaN) - 126.7)).toBeLessThan(0.1);
  });

  it('10 % H2O, 10 ppm SO3 -> 137.3 and 133.3 degC (independent program)', () => {
    const at = { waterPa: 10_132.5, so3Pa: 1.01325 };
    expect(acidDewPointVerhoffBancheroC(at)).toBeCloseTo(137.3, 1);
    expect(acidDewPointOkkesC(at)).toBeCloseTo(133.3, 1);
  });

  it('is not defined at or below 1e-8 atm of SO3', () => {
    expect(acidDewPointOkkesC({ waterPa: 9000, so3Pa: 1e-8 * 101_325 })).toBeUndefined();
    expect(acidDewPointVerhoffBancheroC({ waterPa: 9000, so3Pa: 1e-8 * 101_325 })).toBeUndefined();
    expect(acidDewPointVerhoffBancheroC({ waterPa: 9000, so3Pa: 1.001e-8 * 101_325 })).toBeDefined();
  });
});

describe('No.2 oil by sulphur and excess air (independent program)', () => {
  it.each(goldenCsv('dew_points_no2_oil_computed.csv'))('S $fuel_S_ppm ppm, excess air $excess_air_pct %', (row) => {
    const n = (name: string): number => Number(row[name]);
    const st = withSulfur(fuels.no2, n('fuel_S_ppm')).stoichiometry;
    // the O2 that belongs to this excess air
    const excess = n('excess_air_pct') / 100;
    const o2PercentDry = (100 * 0.20946 * excess * st.air) / (st.dryGas + excess * st.air);
    const { values, blank } = derive({
      timeMs: 0,
      fuel: fuels.no2,
      o2PercentDry,
      coPpmDry: 0,
      stackC: 200,
      airC: 20,
      sulfurPpm: n('fuel_S_ppm'),
    });
    expect(values.excessAirPercent).toBeCloseTo(n('excess_air_pct'), 9);
    expect(Math.abs((values.h2oWetPercent ?? NaN) - n('H2O_wet_pct'))).toBeLessThan(0.002);
    expect(Math.abs((values.waterDewPointC ?? NaN) - n('water_dew_C'))).toBeLessThan(0.05);
    if (n('fuel_S_ppm') === 15) {
      expect(blank.acidDewPointC).toBe('outside-correlation');
      expect(blank.acidDewPointOkkesC).toBe('outside-correlation');
      expect(blank.acidDewPointMarginK).toBe('outside-correlation');
    } else {
      expect(Math.abs((values.acidDewPointC ?? NaN) - n('acid_VB_C'))).toBeLessThan(0.06);
      expect(Math.abs((values.acidDewPointOkkesC ?? NaN) - n('acid_Okkes_C'))).toBeLessThan(0.06);
      expect(values.acidDewPointMarginK).toBeCloseTo(200 - (values.acidDewPointC ?? NaN), 9);
    }
  });
});

it('the doubt of an acid dew point is never less than that of its correlation; a water dew point has none of it', () => {
  const { expanded } = derive({ timeMs: 0, fuel: fuels.no2, o2PercentDry: 5, coPpmDry: 0, stackC: 200, airC: 20, sulfurPpm: 1000 });
  for (const key of ['acidDewPointC', 'acidDewPointOkkesC', 'acidDewPointMarginK'] as const)
    expect(expanded[key], key).toBeGreaterThanOrEqual(ACID_DEW_POINT_EXPANDED_K);
  // the margin has the doubt of the stack besides
  expect(expanded.acidDewPointMarginK).toBeGreaterThan(expanded.acidDewPointC ?? NaN);
  expect(expanded.waterDewPointC).toBeLessThan(1);
  expect(expanded.efficiencyHhvPercent).toBeLessThan(2);
});
