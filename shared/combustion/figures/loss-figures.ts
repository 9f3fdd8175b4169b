/**
 * Losses by the heat-loss method, in % of the higher heating value, referred to the combustion air; not condensing.
 *
 *     dry    = sum n_i [h_i(T2) - h_i(T1)]                   vapour = nW [hH2O(T2) - hH2O(T1)]
 *     latent = nW [44004 - 41.71 (T1 - 298.15)]              CO     = nCO 282 980
 *     air moisture = (1 + EA) Air 28.9657/18.015 w [hH2O(T2) - hH2O(T1)]            all x 100/HHV
 *
 * nW is the fuel's water, T1 the air, T2 the stack, K.
 *
 * @source heat-loss method with NASA-7 enthalpies, FORMULAS.md#losses
 */
import type { BlankReason, DerivedKey } from '../../measurement/derived.ts';
import {
  AIR,
  CO_HEATING_VALUE_KJ_PER_KMOL,
  O2_IN_AIR_GERMAN_PERCENT,
  WATER_LATENT_25C_KJ_PER_KMOL,
  WATER_LATENT_SLOPE_KJ_PER_KMOL_K,
} from '../constants.ts';
import { AIR_MOISTURE_KMOL, type FlueGas } from '../flue-gas.ts';
import { enthalpy, heatCapacity, type Species } from '../gas-properties.ts';
import { siegertConstants } from '../siegert.ts';
import type { FigureParts } from './figure-parts.ts';

const totalKeys = [
  'stackLossPercent',
  'stackLossLhvPercent',
  'efficiencyHhvPercent',
  'efficiencyLhvPercent',
] as const satisfies readonly DerivedKey[];
export const lossKeys = [
  'lossDryGasPercent',
  'lossLatentPercent',
  'lossVapourPercent',
  'lossAirMoisturePercent',
  'lossCoPercent',
  'siegertLossPercent',
  ...totalKeys,
] as const satisfies readonly DerivedKey[];

export function lossFigures(parts: FigureParts, waterDewPointC: number | undefined): void {
  const { stackC, airC } = parts;
  const reason = whyNoLoss(parts, waterDewPointC);
  if (reason !== undefined || stackC === undefined || airC === undefined) {
    for (const key of lossKeys) parts.blank(key, reason ?? 'no-stack-temperature');
    return;
  }
  siegertFigure(parts, stackC - airC);
  balanceFigures(parts, stackC + 273.15, airC + 273.15);
}

function whyNoLoss({ stackC, airC, missing }: FigureParts, waterDewPointC: number | undefined): BlankReason | undefined {
  if (stackC === undefined) return missing?.stack ?? 'no-stack-temperature';
  if (airC === undefined) return missing?.air ?? 'no-air-temperature';
  if (stackC <= airC) return 'stack-not-above-air';
  return waterDewPointC !== undefined && stackC <= waterDewPointC ? 'condensing' : undefined;
}

/** The statutory formula with its own constants and its own 21; no fuel term, because the constants are the law's whatever was delivered. */
function siegertFigure({ fuel, o2, put, blank }: FigureParts, netStackK: number): void {
  if (fuel.siegertGroup === undefined) return blank('siegertLossPercent', 'no-constants-for-fuel');
  const { a, b } = siegertConstants[fuel.siegertGroup];
  const left = O2_IN_AIR_GERMAN_PERCENT - o2;
  const perKelvin = a / left + b;
  put('siegertLossPercent', netStackK * perKelvin, (netStackK * a) / (left * left), 0, perKelvin, -perKelvin, 0);
}

function balanceFigures({ fuel, gas, slopes, hasCo, humidityKgPerKg, missing, put, blank }: FigureParts, T2: number, T1: number): void {
  const { stoichiometry: st, slope } = fuel;
  const perHhv = 100 / fuel.hhvKjPerKg;
  const rise = (species: Species): number => enthalpy(species, T2) - enthalpy(species, T1);
  const hCo2 = rise('co2');
  const hN2 = rise('n2');
  const hO2 = rise('o2');
  const hAr = rise('ar');
  const hCo = rise('co');
  const hH2o = rise('h2o');
  /** what one more kmol of air carries away, and what one kmol of CO instead of CO2 changes */
  const airInert = AIR.n2 * hN2 + AIR.ar * hAr + AIR.co2 * hCo2;
  const airRise = airInert + AIR.o2 * hO2;
  const coSwap = hCo - hCo2 + hO2 / 2;

  const dryHeat = gas.co2 * hCo2 + gas.n2 * hN2 + gas.o2 * hO2 + gas.ar * hAr + gas.so2 * rise('so2') + gas.co * hCo;
  const dryO2 = (slopes.excess.o2 * airRise + slopes.co.o2 * coSwap) * perHhv;
  const dryCo = (slopes.excess.co * airRise + slopes.co.co * coSwap) * perHhv;
  const dryHydrogen =
    (slope.carbon * hCo2 + slope.air * airInert + slopes.excess.hydrogen * airRise + slopes.co.hydrogen * coSwap) * perHhv;
  const dryStack = dryHeatCapacity(gas, T2) * perHhv;
  const dryAir = -dryHeatCapacity(gas, T1) * perHhv;
  const lossDry = dryHeat * perHhv;
  put('lossDryGasPercent', lossDry, dryO2, dryCo, dryStack, dryAir, dryHydrogen);

  const latent = WATER_LATENT_25C_KJ_PER_KMOL + WATER_LATENT_SLOPE_KJ_PER_KMOL_K * (T1 - 298.15);
  const lossLatent = st.water * latent * perHhv;
  const latentAir = st.water * WATER_LATENT_SLOPE_KJ_PER_KMOL_K * perHhv;
  put('lossLatentPercent', lossLatent, 0, 0, 0, latentAir, slope.water * latent * perHhv);

  const cpVapour2 = heatCapacity('h2o', T2);
  const cpVapour1 = heatCapacity('h2o', T1);
  const lossVapour = st.water * hH2o * perHhv;
  const vapourStack = st.water * cpVapour2 * perHhv;
  const vapourAir = -st.water * cpVapour1 * perHhv;
  put('lossVapourPercent', lossVapour, 0, 0, vapourStack, vapourAir, slope.water * hH2o * perHhv);

  const moisture = AIR_MOISTURE_KMOL * humidityKgPerKg * perHhv;
  const airWater = (1 + gas.excessAir) * st.air * moisture;
  const lossMoisture = airWater * hH2o;
  const moistureO2 = slopes.excess.o2 * moisture * hH2o;
  const moistureCo = slopes.excess.co * moisture * hH2o;
  const moistureHydrogen = (slope.air + slopes.excess.hydrogen) * moisture * hH2o;
  put('lossAirMoisturePercent', lossMoisture, moistureO2, moistureCo, airWater * cpVapour2, -airWater * cpVapour1, moistureHydrogen);

  const coHeat = CO_HEATING_VALUE_KJ_PER_KMOL * perHhv;
  const lossCo = gas.co * coHeat;
  if (hasCo) put('lossCoPercent', lossCo, slopes.co.o2 * coHeat, slopes.co.co * coHeat, 0, 0, slopes.co.hydrogen * coHeat);
  else blank('lossCoPercent', missing?.co ?? 'no-co');

  if (!hasCo && missing?.co === 'co-over-range') {
    // an unknown, large CO would make the total too low
    for (const key of totalKeys) blank(key, 'co-over-range');
    return;
  }
  const sensible = lossDry + lossVapour + lossMoisture + lossCo;
  const o2 = dryO2 + moistureO2 + slopes.co.o2 * coHeat;
  const co = dryCo + moistureCo + slopes.co.co * coHeat;
  const stack = dryStack + vapourStack + airWater * cpVapour2;
  const air = dryAir + vapourAir - airWater * cpVapour1;
  put('stackLossPercent', sensible + lossLatent, o2, co, stack, air + latentAir, 0, 1);
  put('efficiencyHhvPercent', 100 - sensible - lossLatent, -o2, -co, -stack, -air - latentAir, 0, -1);
  const toLhv = fuel.hhvKjPerKg / fuel.lhvKjPerKg;
  put('stackLossLhvPercent', sensible * toLhv, o2 * toLhv, co * toLhv, stack * toLhv, air * toLhv, 0, 1);
  put('efficiencyLhvPercent', 100 - sensible * toLhv, -o2 * toLhv, -co * toLhv, -stack * toLhv, -air * toLhv, 0, -1);
}

/** kJ/K per kg of fuel */
const dryHeatCapacity = (gas: FlueGas, kelvin: number): number =>
  gas.co2 * heatCapacity('co2', kelvin) +
  gas.n2 * heatCapacity('n2', kelvin) +
  gas.o2 * heatCapacity('o2', kelvin) +
  gas.ar * heatCapacity('ar', kelvin) +
  gas.so2 * heatCapacity('so2', kelvin) +
  gas.co * heatCapacity('co', kelvin);
