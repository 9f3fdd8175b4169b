/**
 * Excess air from a dry gas analysis: the exact mole balance, and two published forms for comparison, by name.
 * All take and give percent; none of them is defined above 18 % O2 (see `derive`).
 */
import { AIR, O2_IN_AIR_EPA_PERCENT, O2_IN_AIR_EXACT_PERCENT } from './constants.ts';
import type { Stoichiometry } from './stoichiometry.ts';

type DryGas = { readonly o2PercentDry: number; readonly coPpmDry?: number | undefined };

/**
 * Exact excess air, with the oxygen that unburned CO has not taken up.
 *
 *     a = z - y/2,   EA = K a / (0.20946 (1 - y/2) - a)       z, y: dry mole fractions of O2 and CO
 *
 * Negative means that more CO is there than the oxygen accounts for: the flame is starved.
 *
 * @returns %
 * @source mole balance, derived in FORMULAS.md#excess-air
 */
export function excessAirPercent(st: Stoichiometry, { o2PercentDry, coPpmDry = 0 }: DryGas): number {
  const halfCo = (coPpmDry * 1e-6) / 2;
  const a = o2PercentDry / 100 - halfCo;
  return (100 * st.dryGasAirRatio * a) / (AIR.o2 * (1 - halfCo) - a);
}

/** O2/(20.9 - O2), which takes K for 1: about 7 % of itself too high for oil. @returns %. @source EPA family of formulas (from memory) */
export const excessAirSimplePercent = (o2PercentDry: number): number => (100 * o2PercentDry) / (O2_IN_AIR_EPA_PERCENT - o2PercentDry);

/**
 * EPA Method 3B form; nitrogen by difference.
 *
 *     EA = 100 (O2 - CO/2) / (0.264 N2 - (O2 - CO/2))        0.264 = 20.9/79.1
 *
 * @returns %
 * @source 40 CFR 60 App. A-2, Method 3B (from memory)
 */
export function excessAirMethod3bPercent({
  o2PercentDry,
  co2PercentDry,
  coPpmDry = 0,
}: DryGas & { readonly co2PercentDry: number }): number {
  const co = coPpmDry * 1e-4;
  const free = o2PercentDry - co / 2;
  const n2 = 100 - o2PercentDry - co2PercentDry - co;
  return (100 * free) / (0.264 * n2 - free);
}

/** Complete combustion only: CO2 = CO2max (1 - O2/20.946). @returns %vol dry. @source mole balance, FORMULAS.md#co2-from-o2 */
export const co2FromO2Percent = (st: Stoichiometry, o2PercentDry: number): number =>
  st.co2MaxPercent * (1 - o2PercentDry / O2_IN_AIR_EXACT_PERCENT);

/**
 * O2 from a measured CO2; with CO, the carbon that it holds and the oxygen that it left over are counted.
 *
 *     O2 = 20.946 (1 - y/2) + y/2 - 20.946 (CO2 + CO)/CO2max
 *
 * @returns %vol dry; negative when CO2 is above what the fuel can give
 * @source mole balance, FORMULAS.md#co2-from-o2
 */
export function o2FromCo2Percent(st: Stoichiometry, co2PercentDry: number, coPpmDry = 0): number {
  const co = coPpmDry * 1e-4;
  return O2_IN_AIR_EXACT_PERCENT * (1 - co / 200) + co / 2 - (O2_IN_AIR_EXACT_PERCENT * (co2PercentDry + co)) / st.co2MaxPercent;
}
