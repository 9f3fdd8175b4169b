import { AIR, MOLAR_MASS, MOLAR_MASS_AIR } from './constants.ts';
import type { HydrogenSlope, Stoichiometry } from './stoichiometry.ts';

/** Flue gas of one kg of fuel, kmol. `excessAir` is a fraction. */
export type FlueGas = {
  readonly excessAir: number;
  readonly dry: number;
  readonly co2: number;
  readonly co: number;
  readonly o2: number;
  readonly n2: number;
  readonly ar: number;
  readonly so2: number;
  readonly h2o: number;
};

/** kmol of water that 1 kmol of dry air carries, per kg/kg of humidity */
export const AIR_MOISTURE_KMOL = MOLAR_MASS_AIR / MOLAR_MASS.h2o;

/**
 * What comes out when O2 and CO are what was measured.
 *
 *     D = (dry0 + EA Air)/(1 - y/2),  nCO = y D,  nCO2 = nC - nCO + air's,  nO2 = 0.20946 EA Air + nCO/2
 *
 * @source mole balance, derived in FORMULAS.md#flue-gas
 */
export function flueGas(st: Stoichiometry, o2PercentDry: number, coPpmDry: number, humidityKgPerKg: number): FlueGas {
  const y = coPpmDry * 1e-6;
  const a = o2PercentDry / 100 - y / 2;
  const excessAir = (st.dryGasAirRatio * a) / (AIR.o2 * (1 - y / 2) - a);
  const airTotal = (1 + excessAir) * st.air;
  const dry = (st.dryGas + excessAir * st.air) / (1 - y / 2);
  const co = y * dry;
  return {
    excessAir,
    dry,
    co,
    co2: st.carbon - co + AIR.co2 * airTotal,
    o2: AIR.o2 * excessAir * st.air + co / 2,
    n2: st.nitrogen + AIR.n2 * airTotal,
    ar: AIR.ar * airTotal,
    so2: st.sulfur,
    h2o: st.water + airTotal * AIR_MOISTURE_KMOL * humidityKgPerKg,
  };
}

/** Partial derivatives of one amount: per %vol O2, per ppm CO, per kg/kg of hydrogen (carbon giving way). */
export type GasSlope = { readonly o2: number; readonly co: number; readonly hydrogen: number };

/** Slopes of the amounts that depend on the analysis, kmol per kg of fuel and unit of the input. */
export type FlueGasSlopes = {
  /** of the excess-air fraction itself */
  readonly excessAir: GasSlope;
  /** of the air beyond the stoichiometric, EA Air */
  readonly excess: GasSlope;
  readonly dry: GasSlope;
  readonly co: GasSlope;
  readonly h2o: GasSlope;
};

const PERCENT = 1e-2;
const PPM = 1e-6;

/** Term by term the derivative of `flueGas`. @source FORMULAS.md#sensitivities */
export function flueGasSlopes(
  st: Stoichiometry,
  slope: HydrogenSlope,
  gas: FlueGas,
  {
    o2PercentDry,
    coPpmDry,
    humidityKgPerKg,
  }: { readonly o2PercentDry: number; readonly coPpmDry: number; readonly humidityKgPerKg: number },
): FlueGasSlopes {
  const y = coPpmDry * PPM;
  const a = o2PercentDry * PERCENT - y / 2;
  const b = AIR.o2 * (1 - y / 2);
  const gap = b - a;
  const eaPerA = (st.dryGasAirRatio * b) / (gap * gap);
  const eaPerB = (-st.dryGasAirRatio * a) / (gap * gap);
  const excessAir = { o2: eaPerA * PERCENT, co: (eaPerA + AIR.o2 * eaPerB) * -0.5 * PPM, hydrogen: (slope.ratio * a) / gap };
  const excess = {
    o2: excessAir.o2 * st.air,
    co: excessAir.co * st.air,
    hydrogen: excessAir.hydrogen * st.air + gas.excessAir * slope.air,
  };
  const burned = 1 - y / 2;
  const dry = {
    o2: excess.o2 / burned,
    co: (excess.co + gas.dry * 0.5 * PPM) / burned,
    hydrogen: (slope.dryGas + excess.hydrogen) / burned,
  };
  const moisture = AIR_MOISTURE_KMOL * humidityKgPerKg;
  return {
    excessAir,
    excess,
    dry,
    co: { o2: y * dry.o2, co: PPM * gas.dry + y * dry.co, hydrogen: y * dry.hydrogen },
    h2o: { o2: excess.o2 * moisture, co: excess.co * moisture, hydrogen: slope.water + (slope.air + excess.hydrogen) * moisture },
  };
}
