import { describe, expect, it } from 'vitest';
import { coAirFreePpm } from '../../../shared/combustion/carbon-monoxide.ts';
import { pressureRatio } from '../../../shared/combustion/atmosphere.ts';
import { derive } from '../../../shared/combustion/figures/derive.ts';
import { acidDewPointVerhoffBancheroC, waterDewPoint, waterSaturationPa } from '../../../shared/combustion/dew-point.ts';
import { co2FromO2Percent, excessAirPercent } from '../../../shared/combustion/excess-air.ts';
import { fuels, type Fuel, type FuelId } from '../../../shared/combustion/fuel.ts';
import { heatCapacity, type Species } from '../../../shared/combustion/gas-properties.ts';
import { nozzleFlow } from '../../../shared/combustion/nozzle.ts';
import { fuelSavedPercent } from '../../../shared/combustion/saving.ts';
import { siegertConstants } from '../../../shared/combustion/siegert.ts';
import { PA_PER_IN_WC, celsiusFromFahrenheit, kelvinFromFahrenheitDifference, PA_PER_PSI } from '../../../shared/units/convert.ts';
import { goldenJson } from './golden-table.ts';
import { coAtReferenceO2Ppm, siegertLossPercent } from './second-opinions.ts';

type Row = {
  id: string;
  quantity: string;
  inputs: Record<string, number | string>;
  expected: number;
  unit: string;
  tolerance: { abs?: number; rel?: number };
  source: string;
};
const { cases } = goldenJson<{ cases: Row[] }>('example-checks.json');

const fuelNames: Record<string, FuelId> = {
  No2: 'no2',
  heating_oil_EL: 'no2',
  No1_kerosene: 'no1',
  B20: 'b20',
  B100: 'b100',
  natural_gas: 'natural-gas',
  natural_gas_typical: 'natural-gas',
  propane: 'propane',
  lpg: 'propane',
};

describe('worked examples, all rows', () => {
  it('has every row of the table', () => expect(cases.length).toBe(74));

  it.each(cases)('$id $quantity = $expected $unit: $source', ({ quantity, inputs, expected, tolerance }) => {
    const got = compute(quantity, inputs);
    const allowed = tolerance.abs ?? (tolerance.rel ?? 0) * Math.abs(expected);
    expect(allowed).toBeGreaterThan(0);
    expect(Math.abs(got - expected)).toBeLessThanOrEqual(allowed);
  });
});

function compute(quantity: string, inputs: Row['inputs']): number {
  const n = (name: string): number => {
    const value = inputs[name];
    if (typeof value !== 'number') throw new Error(`row lacks ${name}`);
    return value;
  };
  const fuel = (): Fuel => fuels[fuelNames[String(inputs['fuel'])] ?? 'methane'];
  switch (quantity) {
    case 'combustion_efficiency_hhv': {
      const isNet = 'net_stack_F' in inputs;
      const airC = isNet ? celsiusFromFahrenheit(n('air_F')) : n('t_air_C');
      const stackC = isNet ? airC + kelvinFromFahrenheitDifference(n('net_stack_F')) : n('t_stack_C');
      const humidityKgPerKg = isNet ? n('air_humidity') : n('air_humidity_kgkg');
      const coPpmDry = isNet ? 0 : n('co_ppm_dry');
      const { values } = derive({ timeMs: 0, fuel: fuel(), o2PercentDry: n('o2_dry_pct'), stackC, airC, humidityKgPerKg, coPpmDry });
      return values.efficiencyHhvPercent ?? NaN;
    }
    case 'excess_air':
      return excessAirPercent(fuel().stoichiometry, { o2PercentDry: n('o2_dry_pct') });
    case 'co2_dry':
      return co2FromO2Percent(fuel().stoichiometry, n('o2_dry_pct'));
    case 'flue_loss_siegert_o2':
      return siegertLossPercent(siegertConstants[fuel().siegertGroup ?? 'gas'], n('t_flue_C') - n('t_air_C'), n('o2_dry_pct'));
    case 'cp_molar':
      return heatCapacity(String(inputs['species']).toLowerCase() as Species, n('T_K'));
    case 'water_saturation_pressure':
      return waterSaturationPa(n('t_C'));
    case 'water_dew_point':
      return waterDewPoint(n('h2o_mole_fraction') * n('p_kPa') * 1000)?.celsius ?? NaN;
    case 'sulphuric_acid_dew_point_VB': {
      const pa = 101_325 / 760;
      return acidDewPointVerhoffBancheroC({ waterPa: n('pH2O_mmHg') * pa, so3Pa: n('pSO3_mmHg') * pa }) ?? NaN;
    }
    case 'co_air_free':
      return coAirFreePpm(n('co_ppm'), n('o2_dry_pct'));
    case 'co_at_3pct_o2':
      return coAtReferenceO2Ppm(n('co_ppm'), n('o2_dry_pct'), 3);
    case 'nozzle_flow':
      return nozzleFlow({ rated: n('rated_gph_at_100psig'), pressurePa: n('pressure_psig') * PA_PER_PSI });
    case 'pressure_ratio_altitude':
      return pressureRatio(n('altitude_ft') * 0.3048);
    case 'draft_convert':
      return n('inH2O') * PA_PER_IN_WC;
    case 'fuel_saving_fraction': {
      const saved = fuelSavedPercent({ beforePercent: n('eff_before'), afterPercent: n('eff_after') });
      return saved.ok ? saved.value / 100 : NaN;
    }
    case 'combined_standard_uncertainty_eff': {
      const tolerances = { o2: n('o2_half_width'), stackK: n('t_stack_half_width'), airK: n('t_air_half_width'), fuelPoints: 0 };
      const { expanded } = derive({
        timeMs: 0,
        fuel: fuel(),
        o2PercentDry: n('o2_dry_pct'),
        stackC: n('t_stack_C'),
        airC: n('t_air_C'),
        tolerances,
      });
      return (expanded.efficiencyHhvPercent ?? NaN) / 2;
    }
    default:
      throw new Error(`no check for ${quantity}`);
  }
}
