/**
 * Published hand formulas and short forms as second opinions: tests hold the balance against them, and none of them feeds a figure.
 * Gas in %vol dry, nitrogen by difference; mass fractions of the fuel.
 */
import {
  AIR,
  MOLAR_MASS,
  O2_IN_AIR_EPA_PERCENT,
  O2_IN_AIR_EXACT_PERCENT,
  O2_IN_AIR_GERMAN_PERCENT,
} from '../../../shared/combustion/constants.ts';
import { mgPerKwhPerPpmAirFree } from '../../../shared/combustion/carbon-monoxide.ts';
import type { BudgetRow } from '../../../shared/combustion/figures/explain.ts';
import { COVERAGE_FACTOR } from '../../../shared/combustion/figures/uncertainty.ts';
import { AIR_MOISTURE_KMOL, type FlueGas } from '../../../shared/combustion/flue-gas.ts';
import type { Fuel } from '../../../shared/combustion/fuel.ts';
import type { Stoichiometry, UltimateAnalysis } from '../../../shared/combustion/stoichiometry.ts';

/**
 * Air demand from mass fractions as a handbook gives it; for comparison.
 *
 *     A/F = 11.52 C + 34.56 (H - O/8) + 4.32 S
 *
 * @returns kg/kg, about 0.3 % above the exact balance for oil
 * @source Steam, Its Generation and Use, 1919 edition (Project Gutenberg 22657), formula 10
 */
export const airFuelHandbook1919 = ({ c, h, o, s }: UltimateAnalysis): number => 11.52 * c + 34.56 * (h - o / 8) + 4.32 * s;

/** Atoms in minus atoms out, kmol per kg of fuel; zero but for rounding when the balance is right. */
export function atomImbalance(
  analysis: UltimateAnalysis,
  st: Stoichiometry,
  gas: FlueGas,
  humidityKgPerKg: number,
): Record<'c' | 'h' | 'o' | 'n' | 's' | 'ar', number> {
  const air = (1 + gas.excessAir) * st.air;
  const airWater = air * AIR_MOISTURE_KMOL * humidityKgPerKg;
  const fuelWater = analysis.w / MOLAR_MASS.h2o;
  return {
    c: analysis.c / MOLAR_MASS.c + AIR.co2 * air - gas.co2 - gas.co,
    h: analysis.h / MOLAR_MASS.h + 2 * fuelWater + 2 * airWater - 2 * gas.h2o,
    o:
      (2 * analysis.o) / MOLAR_MASS.o2 +
      fuelWater +
      2 * air * (AIR.o2 + AIR.co2) +
      airWater -
      (2 * gas.co2 + gas.co + 2 * gas.o2 + 2 * gas.so2 + gas.h2o),
    n: (2 * analysis.n) / MOLAR_MASS.n2 + 2 * AIR.n2 * air - 2 * gas.n2,
    s: analysis.s / MOLAR_MASS.s - gas.so2,
    ar: AIR.ar * air - gas.ar,
  };
}

/** Buck's short form, for comparison. @returns Pa, within 0.11 % up to 100 degC. @source Buck 1996 (from memory) */
export const waterSaturationBuckPa = (celsius: number): number =>
  611.21 * Math.exp(((18.678 - celsius / 234.5) * celsius) / (257.14 + celsius));

/** Complete combustion only. @returns %. @source mole balance, FORMULAS.md#excess-air */
export const excessAirFromCo2Percent = (st: Stoichiometry, co2PercentDry: number): number =>
  100 * st.dryGasAirRatio * (st.co2MaxPercent / co2PercentDry - 1);

/**
 * Flue gas loss by the statutory formula: sensible heat only, on the lower heating value.
 *
 *     qA = (tA - tL) (A/(21 - O2) + B)
 *
 * @returns % of the LHV
 * @source 1. BImSchV of 26 Jan 2010, Annex 2 No. 3.4.1
 */
export const siegertLossPercent = (
  constants: { readonly a: number; readonly b: number },
  netStackK: number,
  o2PercentDry: number,
): number => netStackK * (constants.a / (O2_IN_AIR_GERMAN_PERCENT - o2PercentDry) + constants.b);

/** CO (20.9 - O2ref)/(20.9 - O2). @returns ppm dry at the reference. @source 40 CFR 60 App. A, Method 19 family (from memory) */
export const coAtReferenceO2Ppm = (coPpmDry: number, o2PercentDry: number, referencePercent: number): number =>
  (coPpmDry * (O2_IN_AIR_EPA_PERCENT - referencePercent)) / (O2_IN_AIR_EPA_PERCENT - o2PercentDry);

/**
 * CO per fuel energy on the lower heating value, with the exact air constant.
 *
 *     mg/kWh = CO 20.946/(20.946 - O2) dry0 28.010 3600/LHV
 *
 * @source mole balance; EN 267 lists 1.110 (oil) and 1.074 (gas) mg/kWh per ppm at 0 % O2 (from memory)
 */
export const coMgPerKwh = (fuel: Fuel, coPpmDry: number, o2PercentDry: number): number =>
  (coPpmDry * mgPerKwhPerPpmAirFree(fuel) * O2_IN_AIR_EXACT_PERCENT) / (O2_IN_AIR_EXACT_PERCENT - o2PercentDry);

/** u_c from a budget, for a check by hand. */
export const expandedFromBudget = (rows: readonly BudgetRow[]): number => COVERAGE_FACTOR * Math.hypot(...rows.map(({ u }) => u));

export type DryAnalysis = { readonly co2: number; readonly o2: number; readonly co: number; readonly n2: number };

/**
 * Dry gas per fuel: W = C [11 CO2 + 8 O2 + 7 (CO + N2)] / [3 (CO2 + CO)].
 *
 * @returns kg/kg
 * @source Steam, Its Generation and Use, 1919 edition (Project Gutenberg 22657), formula 15
 */
export const dryGasPerFuel1919 = (carbon: number, { co2, o2, co, n2 }: DryAnalysis): number =>
  (carbon * (11 * co2 + 8 * o2 + 7 * (co + n2))) / (3 * (co2 + co));

export type HandLosses = { readonly dryBtu: number; readonly hydrogenBtu: number; readonly coBtu: number };

/**
 * Losses in Btu per lb of fuel, degF:
 *
 *     dry = 0.24 W (Tg - Ta),  hydrogen = 9 H [(212 - Ta) + 970.4 + 0.47 (Tg - 212)],  CO = 10 150 C CO/(CO + CO2)
 *
 * @source the same, formulas 15 to 17 and its heat balance
 */
export function losses1919({
  analysis,
  gas,
  gasF,
  airF,
  dryGasPerFuel,
}: {
  readonly analysis: Pick<UltimateAnalysis, 'c' | 'h'>;
  readonly gas: DryAnalysis;
  readonly gasF: number;
  readonly airF: number;
  /** when the text rounds it; computed otherwise */
  readonly dryGasPerFuel?: number | undefined;
}): HandLosses {
  const w = dryGasPerFuel ?? dryGasPerFuel1919(analysis.c, gas);
  return {
    dryBtu: 0.24 * w * (gasF - airF),
    hydrogenBtu: 9 * analysis.h * (212 - airF + 970.4 + 0.47 * (gasF - 212)),
    coBtu: (10_150 * analysis.c * gas.co) / (gas.co + gas.co2),
  };
}

/**
 * Losses in % of the HHV:
 *
 *     L1 = 255 C%/HHV (Ts - Ta)/CO2,   L2 = (W% + 9 H%) (2488 - 4.2 Ta + 2.1 Ts)/HHV
 *
 * @source BS 845-1 form (from memory)
 */
export function lossesBs845({
  analysis: { c, h, w },
  hhvKjPerKg,
  stackC,
  airC,
  co2Percent,
}: {
  readonly analysis: Pick<UltimateAnalysis, 'c' | 'h' | 'w'>;
  readonly hhvKjPerKg: number;
  readonly stackC: number;
  readonly airC: number;
  readonly co2Percent: number;
}): { readonly dryPercent: number; readonly waterPercent: number } {
  return {
    dryPercent: (255 * 100 * c * (stackC - airC)) / (hhvKjPerKg * co2Percent),
    waterPercent: ((100 * w + 900 * h) * (2488 - 4.2 * airC + 2.1 * stackC)) / hhvKjPerKg,
  };
}
