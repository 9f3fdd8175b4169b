import { AIR, MOLAR_MASS, MOLAR_MASS_AIR, WATER_LATENT_25C_KJ_PER_KMOL } from './constants.ts';

/** Ultimate analysis as received, kg per kg of fuel; `w` is moisture. No ash carbon: everything burns. */
export type UltimateAnalysis = {
  readonly c: number;
  readonly h: number;
  readonly o: number;
  readonly n: number;
  readonly s: number;
  readonly w: number;
};

/** Everything about complete combustion that depends on the fuel alone; kmol per kg of fuel unless the name says otherwise. */
export type Stoichiometry = {
  readonly carbon: number;
  /** water from the fuel's hydrogen and its moisture */
  readonly water: number;
  readonly sulfur: number;
  readonly nitrogen: number;
  readonly oxygenDemand: number;
  /** dry air for complete combustion without excess */
  readonly air: number;
  /** dry flue gas at zero excess air */
  readonly dryGas: number;
  readonly wetGas: number;
  readonly co2MaxPercent: number;
  readonly airFuelKgPerKg: number;
  /** dry gas over air, the ratio K of the exact excess-air formula */
  readonly dryGasAirRatio: number;
};

/**
 * Mole balance of complete combustion with dry air.
 *
 *     O2st = C/12.011 + H/4.032 + S/32.06 - O/31.998      Air = O2st/0.20946
 *     dry  = nC + nS + nN2 + Air (1 - 0.20946)            wet = dry + nH2O + nW
 *     CO2max = 100 nC/dry                                  K = dry/Air
 *
 * CO2max counts neither SO2 nor the carbon dioxide that air brings with it.
 *
 * @source mole balance, derived in FORMULAS.md#stoichiometry
 * @throws RangeError when the analysis needs no air (a bug in the caller; `checkAnalysis` refuses such fuels)
 */
export function stoichiometry({ c, h, o, n, s, w }: UltimateAnalysis): Stoichiometry {
  const carbon = c / MOLAR_MASS.c;
  const hydrogen = h / MOLAR_MASS.h2;
  const sulfur = s / MOLAR_MASS.s;
  const nitrogen = n / MOLAR_MASS.n2;
  const water = hydrogen + w / MOLAR_MASS.h2o;
  const oxygenDemand = carbon + hydrogen / 2 + sulfur - o / MOLAR_MASS.o2;
  if (!(oxygenDemand > 0)) throw new RangeError(`oxygen demand ${oxygenDemand}`);
  const air = oxygenDemand / AIR.o2;
  const dryGas = carbon + sulfur + nitrogen + air * (1 - AIR.o2);
  return {
    carbon,
    water,
    sulfur,
    nitrogen,
    oxygenDemand,
    air,
    dryGas,
    wetGas: dryGas + water,
    co2MaxPercent: (100 * carbon) / dryGas,
    airFuelKgPerKg: air * MOLAR_MASS_AIR,
    dryGasAirRatio: dryGas / air,
  };
}

/**
 * How the balance changes when one kg/kg of carbon is replaced by hydrogen: the one number by which oils of the
 * same grade differ. Linear in the analysis, so the slope is exact for all mole numbers.
 */
export type HydrogenSlope = {
  readonly carbon: number;
  readonly water: number;
  readonly air: number;
  readonly dryGas: number;
  readonly ratio: number;
  readonly co2MaxPercent: number;
};

export function hydrogenSlope(st: Stoichiometry): HydrogenSlope {
  const carbon = -1 / MOLAR_MASS.c;
  const water = 1 / MOLAR_MASS.h2;
  const air = (carbon + water / 2) / AIR.o2;
  const dryGas = carbon + air * (1 - AIR.o2);
  return {
    carbon,
    water,
    air,
    dryGas,
    ratio: (dryGas - st.dryGasAirRatio * air) / st.air,
    co2MaxPercent: (100 * carbon - st.co2MaxPercent * dryGas) / st.dryGas,
  };
}

/** @returns kJ/kg, referred to 25 degC: LHV = HHV - 44004 (nH2O + nW) */
export const lowerHeatingValue = (hhvKjPerKg: number, water: number): number => hhvKjPerKg - WATER_LATENT_25C_KJ_PER_KMOL * water;
