/**
 * Constants of the combustion formulas. Three different "21 % of oxygen" exist; each belongs to one family of
 * formulas and must not be taken for another: see FORMULAS.md#which-oxygen.
 */

/** kg/kmol. @source IUPAC abridged standard atomic weights (from memory) */
export const MOLAR_MASS = {
  c: 12.011,
  h: 1.008,
  s: 32.06,
  co: 28.01,
  h2: 2.016,
  o2: 31.998,
  n2: 28.014,
  h2o: 18.015,
  co2: 44.009,
  so2: 64.058,
  ar: 39.948,
} as const;

/** Dry air, mole fractions. @source US Standard Atmosphere composition, rounded (from memory) */
export const AIR = { o2: 0.20946, n2: 0.78084, ar: 0.00934, co2: 0.00036 } as const;

/** kg/kmol, follows from the two tables above: 28.9657 */
export const MOLAR_MASS_AIR = AIR.o2 * MOLAR_MASS.o2 + AIR.n2 * MOLAR_MASS.n2 + AIR.ar * MOLAR_MASS.ar + AIR.co2 * MOLAR_MASS.co2;

/** Exact stoichiometry, %vol. */
export const O2_IN_AIR_EXACT_PERCENT = 20.946;
/** EPA methods and the US air-free and reference-oxygen conversions, %vol. @source 40 CFR 60 App. A-7, Method 19 (from memory) */
export const O2_IN_AIR_EPA_PERCENT = 20.9;
/** German statutory formulas, %vol. @source 1. BImSchV of 26 Jan 2010, Annex 2 */
export const O2_IN_AIR_GERMAN_PERCENT = 21;

/** Normal cubic metre: 0 degC, 101.325 kPa. @source DIN 1343 (from memory) */
export const NM3_PER_KMOL = 22.414;
/** 68 degF, 29.92 inHg. @source 40 CFR 60 App. A (from memory) */
export const SCF_PER_LBMOL = 385.3;

/** Condensation heat of water at 25 degC, kJ/kmol. @source CODATA: 285.830 - 241.826 kJ/mol (from memory) */
export const WATER_LATENT_25C_KJ_PER_KMOL = 44_004;
/** cp of the vapour minus cp of the liquid near 25 degC, kJ/(kmol K). @source 33.59 and 75.3 (from memory) */
export const WATER_LATENT_SLOPE_KJ_PER_KMOL_K = 33.59 - 75.3;
/** CO + 1/2 O2 -> CO2 at 25 degC, kJ/kmol. @source CODATA: 393.51 - 110.53 kJ/mol (from memory) */
export const CO_HEATING_VALUE_KJ_PER_KMOL = 282_980;

export const STANDARD_PRESSURE_PA = 101_325;
export const GAS_CONSTANT_KJ_PER_KMOL_K = 8.314462618;
/** Above this much oxygen the quotients 1/(20.9 - O2) blow up: nothing is computed. Common practice, no published source. */
export const O2_LIMIT_PERCENT = 18;
/** The same for air-free and reference-oxygen figures. Common practice, no published source. */
export const O2_LIMIT_AIR_FREE_PERCENT = 15;
