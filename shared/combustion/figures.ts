/**
 * Every derived figure with its analytic sensitivities, in one pass. `derive` keeps value and uncertainty, `explain` keeps the
 * sensitivities; both see the very same numbers.
 *
 * Formulas: FORMULAS.md; here only the order in which they are put together. The slopes are the partial derivatives with respect to
 * O2 (per %vol), CO (per ppm), stack and air temperature (per K) and the fuel's hydrogen (per kg/kg, carbon giving way).
 * They are tested against Monte Carlo and against differences.
 */
import type { BlankReason, DerivedKey } from '../measurement/derived.ts';
import {
  AIR,
  CO_HEATING_VALUE_KJ_PER_KMOL,
  MOLAR_MASS,
  O2_IN_AIR_EPA_PERCENT,
  O2_IN_AIR_EXACT_PERCENT,
  O2_IN_AIR_GERMAN_PERCENT,
  O2_LIMIT_AIR_FREE_PERCENT,
  O2_LIMIT_PERCENT,
  STANDARD_PRESSURE_PA,
  WATER_LATENT_25C_KJ_PER_KMOL,
  WATER_LATENT_SLOPE_KJ_PER_KMOL_K,
} from './constants.ts';
import { acidDewPointOkkesC, acidDewPointVerhoffBancheroC, SO3_SHARE, waterDewPoint } from './dew-point.ts';
import { AIR_MOISTURE_KMOL } from './flue-gas.ts';
import { withSulfur, type Fuel } from './fuel.ts';
import { enthalpy, heatCapacity, type Species } from './gas-properties.ts';
import { siegertConstants } from './siegert.ts';
import type { Spreads, Tolerances } from './uncertainty.ts';

export type DeriveInput = {
  readonly timeMs: number;
  readonly fuel: Fuel;
  readonly o2PercentDry?: number | undefined;
  /** used only when there is no O2 */
  readonly co2PercentDry?: number | undefined;
  readonly coPpmDry?: number | undefined;
  readonly stackC?: number | undefined;
  readonly airC?: number | undefined;
  /** of the combustion air, kg/kg dry; 0 when not given */
  readonly humidityKgPerKg?: number | undefined;
  /** barometric, 101 325 Pa when not given */
  readonly pressurePa?: number | undefined;
  /** replaces the fuel's own sulphur */
  readonly sulfurPpm?: number | undefined;
  readonly tolerances?: Tolerances | undefined;
  readonly spreads?: Spreads | undefined;
  /** why an input is not there, when more is known than that */
  readonly missing?:
    { readonly o2?: BlankReason; readonly co?: BlankReason; readonly stack?: BlankReason; readonly air?: BlankReason } | undefined;
};

/** Receives each figure once. `points` says that the fuel's share is given in points of efficiency instead of by the hydrogen slope. */
export type FigureSink = {
  value(key: DerivedKey, value: number, gas: number, co: number, stack: number, air: number, hydrogen: number, points: number): void;
  blank(key: DerivedKey, reason: BlankReason): void;
};

/** What stays the same for all figures of one input. */
export type GasInput = {
  readonly fuel: Fuel;
  /** absent: neither O2 nor CO2 came */
  readonly o2PercentDry: number | undefined;
  readonly isFromCo2: boolean;
  /** slopes of that O2 when it was computed from CO2; 1, 0, 0 when it was measured */
  readonly perGas: number;
  readonly perCo: number;
  readonly perHydrogen: number;
};

const lossKeys = [
  'lossDryGasPercent',
  'lossLatentPercent',
  'lossVapourPercent',
  'lossAirMoisturePercent',
  'lossCoPercent',
  'stackLossPercent',
  'stackLossLhvPercent',
  'efficiencyHhvPercent',
  'efficiencyLhvPercent',
  'siegertLossPercent',
] as const satisfies readonly DerivedKey[];
const airFreeKeys = ['coAirFreePpm', 'coAt3PercentO2Ppm', 'coMgPerKwh'] as const satisfies readonly DerivedKey[];
const gasKeys = [
  'co2Percent',
  'excessAirPercent',
  'lambda',
  ...airFreeKeys,
  ...lossKeys,
  'h2oWetPercent',
  'waterDewPointC',
  'waterDewPointMarginK',
  'acidDewPointC',
  'acidDewPointOkkesC',
  'acidDewPointMarginK',
] as const satisfies readonly DerivedKey[];

const KG_PER_KWH_TO_MG = 3600 * 1e6;
const PPM = 1e-6;
const PERCENT = 1e-2;

export function gasInput(input: DeriveInput): GasInput {
  const fuel = input.sulfurPpm === undefined ? input.fuel : withSulfur(input.fuel, input.sulfurPpm);
  if (input.o2PercentDry !== undefined || input.co2PercentDry === undefined) {
    return { fuel, o2PercentDry: input.o2PercentDry, isFromCo2: false, perGas: 1, perCo: 0, perHydrogen: 0 };
  }
  // O2 = x (1 - y/2) + y/2 - x (CO2 + CO)/CO2max, see o2FromCo2Percent; repeated because its slopes are needed
  const { co2MaxPercent } = fuel.stoichiometry;
  const coPercent = (input.coPpmDry ?? 0) * 1e-4;
  const carbonPercent = input.co2PercentDry + coPercent;
  const x = O2_IN_AIR_EXACT_PERCENT;
  return {
    fuel,
    o2PercentDry: x * (1 - coPercent / 200) + coPercent / 2 - (x * carbonPercent) / co2MaxPercent,
    isFromCo2: true,
    perGas: -x / co2MaxPercent,
    perCo: 1e-4 * (0.5 - x / 200 - x / co2MaxPercent),
    perHydrogen: ((x * carbonPercent) / co2MaxPercent ** 2) * fuel.slope.co2MaxPercent,
  };
}

/** Computes everything that the input allows and hands it to `sink`: each key once, as a value or as a blank. Never throws, never NaN. */
export function computeFigures(input: DeriveInput, gas: GasInput, sink: FigureSink): void {
  const { fuel, o2PercentDry: o2 } = gas;
  const { stackC, airC, missing } = input;
  const { stoichiometry: st, slope } = fuel;

  sink.value('co2MaxPercent', st.co2MaxPercent, 0, 0, 0, 0, slope.co2MaxPercent, 0);
  const hasStack = stackC !== undefined;
  const hasAir = airC !== undefined;
  const noTemperature: BlankReason | undefined = !hasStack
    ? (missing?.stack ?? 'no-stack-temperature')
    : !hasAir
      ? (missing?.air ?? 'no-air-temperature')
      : undefined;
  if (hasStack && hasAir) sink.value('netStackC', stackC - airC, 0, 0, 1, -1, 0, 0);
  else sink.blank('netStackC', noTemperature ?? 'no-stack-temperature');

  const noGas = whyNoGas(input, gas);
  if (noGas !== undefined || o2 === undefined) {
    for (const key of gasKeys) sink.blank(key, noGas ?? 'no-o2');
    return;
  }

  // ---- dry gas: amounts per kg of fuel (kmol) and their slopes ----
  const hasCo = input.coPpmDry !== undefined;
  const coPpm = input.coPpmDry ?? 0;
  const y = coPpm * PPM;
  const a = o2 * PERCENT - y / 2;
  const b = AIR.o2 * (1 - y / 2);
  const gap = b - a;
  const K = st.dryGasAirRatio;
  const ea = (K * a) / gap;
  const eaPerA = (K * b) / (gap * gap);
  const eaPerB = (-K * a) / (gap * gap);
  const eaO2 = eaPerA * PERCENT;
  const eaCo = (eaPerA * -0.5 + eaPerB * -0.5 * AIR.o2) * PPM;
  const eaH = (slope.ratio * a) / gap;

  const share = 1 - y / 2;
  const excess = ea * st.air;
  const excessO2 = eaO2 * st.air;
  const excessCo = eaCo * st.air;
  const excessH = eaH * st.air + ea * slope.air;
  const dry = (st.dryGas + excess) / share;
  const dryO2 = excessO2 / share;
  const dryCo = excessCo / share + (dry * 0.5 * PPM) / share;
  const dryH = (slope.dryGas + excessH) / share;
  const nCo = y * dry;
  const nCoO2 = y * dryO2;
  const nCoCo = PPM * dry + y * dryCo;
  const nCoH = y * dryH;

  // ---- chain rule when O2 was computed from CO2 ----
  const { perGas, perCo, perHydrogen } = gas;
  const put = (key: DerivedKey, value: number, gO2: number, gCo: number, gStack: number, gAir: number, gH: number, points = 0): void =>
    sink.value(key, value, gO2 * perGas, gCo + gO2 * perCo, gStack, gAir, points === 0 ? gH + gO2 * perHydrogen : 0, points);

  put('excessAirPercent', 100 * ea, 100 * eaO2, 100 * eaCo, 0, 0, 100 * eaH);
  put('lambda', 1 + ea, eaO2, eaCo, 0, 0, eaH);
  const co2 = (st.carbon - nCo) / dry;
  put(
    'co2Percent',
    100 * co2,
    (-100 * (nCoO2 + co2 * dryO2)) / dry,
    (-100 * (nCoCo + co2 * dryCo)) / dry,
    0,
    0,
    (100 * (slope.carbon - nCoH - co2 * dryH)) / dry,
  );

  // ---- carbon monoxide ----
  if (!hasCo) for (const key of airFreeKeys) sink.blank(key, missing?.co ?? 'no-co');
  else if (o2 > O2_LIMIT_AIR_FREE_PERCENT) for (const key of airFreeKeys) sink.blank(key, 'o2-above-15');
  else {
    const left = O2_IN_AIR_EPA_PERCENT - o2;
    const airFree = O2_IN_AIR_EPA_PERCENT / left;
    put('coAirFreePpm', coPpm * airFree, (coPpm * airFree) / left, airFree, 0, 0, 0);
    const at3 = (O2_IN_AIR_EPA_PERCENT - 3) / left;
    put('coAt3PercentO2Ppm', coPpm * at3, (coPpm * at3) / left, at3, 0, 0, 0);
    // exact family: see coMgPerKwh
    const exactLeft = O2_IN_AIR_EXACT_PERCENT - o2;
    const perPpm = (PPM * MOLAR_MASS.co * KG_PER_KWH_TO_MG * O2_IN_AIR_EXACT_PERCENT * st.dryGas) / (fuel.lhvKjPerKg * exactLeft);
    const perPpmH = perPpm * (slope.dryGas / st.dryGas + (WATER_LATENT_25C_KJ_PER_KMOL * slope.water) / fuel.lhvKjPerKg);
    put('coMgPerKwh', coPpm * perPpm, (coPpm * perPpm) / exactLeft, perPpm, 0, 0, coPpm * perPpmH);
  }

  // ---- water in the wet gas, dew points ----
  const moisture = AIR_MOISTURE_KMOL * (input.humidityKgPerKg ?? 0);
  const pressurePa = input.pressurePa ?? STANDARD_PRESSURE_PA;
  const water = st.water + (st.air + excess) * moisture;
  const waterO2 = excessO2 * moisture;
  const waterCo = excessCo * moisture;
  const waterH = slope.water + (slope.air + excessH) * moisture;
  const wet = dry + water;
  const x = water / wet;
  const xO2 = (waterO2 * dry - water * dryO2) / (wet * wet);
  const xCo = (waterCo * dry - water * dryCo) / (wet * wet);
  const xH = (waterH * dry - water * dryH) / (wet * wet);
  put('h2oWetPercent', 100 * x, 100 * xO2, 100 * xCo, 0, 0, 100 * xH);

  const dew = waterDewPoint(x * pressurePa);
  if (dew === undefined) {
    sink.blank('waterDewPointC', 'outside-correlation');
    sink.blank('waterDewPointMarginK', 'outside-correlation');
  } else {
    const perX = dew.slopeKPerPa * pressurePa;
    put('waterDewPointC', dew.celsius, perX * xO2, perX * xCo, 0, 0, perX * xH);
    if (hasStack) put('waterDewPointMarginK', stackC - dew.celsius, -perX * xO2, -perX * xCo, 1, 0, -perX * xH);
    else sink.blank('waterDewPointMarginK', missing?.stack ?? 'no-stack-temperature');
  }
  const acid = { waterPa: x * pressurePa, so3Pa: ((SO3_SHARE * st.sulfur) / wet) * pressurePa };
  const acidC = acidDewPointVerhoffBancheroC(acid);
  const okkesC = acidDewPointOkkesC(acid);
  // the correlations' own +-5 K outweighs what the inputs add (well under 1 K), so no slopes: see `derive`
  if (acidC === undefined) sink.blank('acidDewPointC', 'outside-correlation');
  else put('acidDewPointC', acidC, 0, 0, 0, 0, 0);
  if (okkesC === undefined) sink.blank('acidDewPointOkkesC', 'outside-correlation');
  else put('acidDewPointOkkesC', okkesC, 0, 0, 0, 0, 0);
  if (acidC === undefined) sink.blank('acidDewPointMarginK', 'outside-correlation');
  else if (!hasStack) sink.blank('acidDewPointMarginK', missing?.stack ?? 'no-stack-temperature');
  else put('acidDewPointMarginK', stackC - acidC, 0, 0, 1, 0, 0);

  // ---- losses ----
  const noLoss: BlankReason | undefined =
    noTemperature ??
    (hasStack && hasAir && stackC <= airC
      ? 'stack-not-above-air'
      : dew !== undefined && hasStack && stackC <= dew.celsius
        ? 'condensing'
        : undefined);
  if (noLoss !== undefined || stackC === undefined || airC === undefined) {
    for (const key of lossKeys) sink.blank(key, noLoss ?? 'no-stack-temperature');
    return;
  }
  const T2 = stackC + 273.15;
  const T1 = airC + 273.15;
  const rise = (gasName: Species): number => enthalpy(gasName, T2) - enthalpy(gasName, T1);
  const hCo2 = rise('co2');
  const hN2 = rise('n2');
  const hAr = rise('ar');
  const hO2 = rise('o2');
  const hSo2 = rise('so2');
  const hCo = rise('co');
  const hH2o = rise('h2o');
  // air's nitrogen, argon and carbon dioxide pass through; oxygen only with the excess
  const inert = AIR.n2 * hN2 + AIR.ar * hAr + AIR.co2 * hCo2;
  const airRise = inert + AIR.o2 * hO2;
  const coSwap = hCo - hCo2 + hO2 / 2;
  const dryHeat = st.carbon * hCo2 + st.nitrogen * hN2 + st.sulfur * hSo2 + st.air * inert + excess * airRise + nCo * coSwap;
  const dryHeatH = slope.carbon * hCo2 + slope.air * inert + excessH * airRise + nCoH * coSwap;

  const dryCp = (kelvin: number): number => {
    const cCo2 = heatCapacity('co2', kelvin);
    const cN2 = heatCapacity('n2', kelvin);
    const cO2 = heatCapacity('o2', kelvin);
    const cInert = AIR.n2 * cN2 + AIR.ar * heatCapacity('ar', kelvin) + AIR.co2 * cCo2;
    const ownPart = st.carbon * cCo2 + st.nitrogen * cN2 + st.sulfur * heatCapacity('so2', kelvin) + st.air * cInert;
    return ownPart + excess * (cInert + AIR.o2 * cO2) + nCo * (heatCapacity('co', kelvin) - cCo2 + cO2 / 2);
  };
  const cpDry2 = dryCp(T2);
  const cpDry1 = dryCp(T1);
  const cpW2 = heatCapacity('h2o', T2);
  const cpW1 = heatCapacity('h2o', T1);

  const perHhv = 100 / fuel.hhvKjPerKg;
  const dryO2Slope = (excessO2 * airRise + nCoO2 * coSwap) * perHhv;
  const dryCoSlope = (excessCo * airRise + nCoCo * coSwap) * perHhv;
  const lossDry = dryHeat * perHhv;
  put('lossDryGasPercent', lossDry, dryO2Slope, dryCoSlope, cpDry2 * perHhv, -cpDry1 * perHhv, dryHeatH * perHhv);

  const latent = WATER_LATENT_25C_KJ_PER_KMOL + WATER_LATENT_SLOPE_KJ_PER_KMOL_K * (T1 - 298.15);
  const lossLatent = st.water * latent * perHhv;
  const latentAir = st.water * WATER_LATENT_SLOPE_KJ_PER_KMOL_K * perHhv;
  put('lossLatentPercent', lossLatent, 0, 0, 0, latentAir, slope.water * latent * perHhv);

  const lossVapour = st.water * hH2o * perHhv;
  const vapourStack = st.water * cpW2 * perHhv;
  const vapourAir = -st.water * cpW1 * perHhv;
  put('lossVapourPercent', lossVapour, 0, 0, vapourStack, vapourAir, slope.water * hH2o * perHhv);

  const airWater = (st.air + excess) * moisture * perHhv;
  const airWaterO2 = excessO2 * moisture * hH2o * perHhv;
  const airWaterCo = excessCo * moisture * hH2o * perHhv;
  const lossAirMoisture = airWater * hH2o;
  put(
    'lossAirMoisturePercent',
    lossAirMoisture,
    airWaterO2,
    airWaterCo,
    airWater * cpW2,
    -airWater * cpW1,
    (slope.air + excessH) * moisture * hH2o * perHhv,
  );

  const coHeat = CO_HEATING_VALUE_KJ_PER_KMOL * perHhv;
  const lossCo = nCo * coHeat;
  if (hasCo) put('lossCoPercent', lossCo, nCoO2 * coHeat, nCoCo * coHeat, 0, 0, nCoH * coHeat);
  else sink.blank('lossCoPercent', missing?.co ?? 'no-co');

  // ---- Siegert: a statutory formula with its own constants and its own 21 ----
  const constants = fuel.siegertGroup === undefined ? undefined : siegertConstants[fuel.siegertGroup];
  if (constants === undefined) sink.blank('siegertLossPercent', 'no-constants-for-fuel');
  else {
    const left = O2_IN_AIR_GERMAN_PERCENT - o2;
    const perKelvin = constants.a / left + constants.b;
    // no fuel term: the constants are the law's, whatever was delivered
    put('siegertLossPercent', (stackC - airC) * perKelvin, ((stackC - airC) * constants.a) / (left * left), 0, perKelvin, -perKelvin, 0);
  }

  // ---- totals on both bases ----
  if (!hasCo && missing?.co === 'co-over-range') {
    // an unknown, large CO would make the total too low
    for (const key of ['stackLossPercent', 'stackLossLhvPercent', 'efficiencyHhvPercent', 'efficiencyLhvPercent'] as const)
      sink.blank(key, 'co-over-range');
    return;
  }
  const sensible = lossDry + lossVapour + lossAirMoisture + lossCo;
  const sensibleO2 = dryO2Slope + airWaterO2 + nCoO2 * coHeat;
  const sensibleCo = dryCoSlope + airWaterCo + nCoCo * coHeat;
  const sensibleStack = cpDry2 * perHhv + vapourStack + airWater * cpW2;
  const sensibleAir = -cpDry1 * perHhv + vapourAir - airWater * cpW1;
  const loss = sensible + lossLatent;
  put('stackLossPercent', loss, sensibleO2, sensibleCo, sensibleStack, sensibleAir + latentAir, 0, 1);
  put('efficiencyHhvPercent', 100 - loss, -sensibleO2, -sensibleCo, -sensibleStack, -sensibleAir - latentAir, 0, -1);
  const toLhv = fuel.hhvKjPerKg / fuel.lhvKjPerKg;
  put('stackLossLhvPercent', sensible * toLhv, sensibleO2 * toLhv, sensibleCo * toLhv, sensibleStack * toLhv, sensibleAir * toLhv, 0, 1);
  put(
    'efficiencyLhvPercent',
    100 - sensible * toLhv,
    -sensibleO2 * toLhv,
    -sensibleCo * toLhv,
    -sensibleStack * toLhv,
    -sensibleAir * toLhv,
    0,
    -1,
  );
}

/** The gas analysis can not carry any figure: why. */
function whyNoGas({ missing, coPpmDry }: DeriveInput, { o2PercentDry }: GasInput): BlankReason | undefined {
  if (o2PercentDry === undefined) return missing?.o2 ?? 'no-o2';
  if (!(o2PercentDry >= 0) || o2PercentDry > O2_IN_AIR_GERMAN_PERCENT + 0.5) return 'o2-not-possible';
  if (o2PercentDry > O2_LIMIT_PERCENT) return 'o2-above-18';
  if (coPpmDry !== undefined && !(coPpmDry >= 0 && coPpmDry <= 1e5)) return 'out-of-range';
  return undefined;
}
