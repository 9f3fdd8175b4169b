/** The four ways to state the same CO: as measured, air-free, at a reference oxygen, per fuel energy. */
import { MOLAR_MASS, O2_IN_AIR_EPA_PERCENT, O2_IN_AIR_EXACT_PERCENT, O2_IN_AIR_GERMAN_PERCENT } from './constants.ts';
import type { Fuel } from './fuel.ts';

/** CO 20.9/(20.9 - O2). @returns ppm dry at 0 % O2; not defined above 15 % O2. @source US trade form, EPA constant (from memory) */
export const coAirFreePpm = (coPpmDry: number, o2PercentDry: number): number =>
  (coPpmDry * O2_IN_AIR_EPA_PERCENT) / (O2_IN_AIR_EPA_PERCENT - o2PercentDry);

/** CO (20.9 - O2ref)/(20.9 - O2). @returns ppm dry at the reference. @source 40 CFR 60 App. A, Method 19 family (from memory) */
export const coAtReferenceO2Ppm = (coPpmDry: number, o2PercentDry: number, referencePercent: number): number =>
  (coPpmDry * (O2_IN_AIR_EPA_PERCENT - referencePercent)) / (O2_IN_AIR_EPA_PERCENT - o2PercentDry);

/** The German form with 21. @returns ppm dry at the reference. @source 1. BImSchV of 26 Jan 2010, Annex 2 No. 2.2 */
export const coAtReferenceO2GermanPpm = (coPpmDry: number, o2PercentDry: number, referencePercent: number): number =>
  (coPpmDry * (O2_IN_AIR_GERMAN_PERCENT - referencePercent)) / (O2_IN_AIR_GERMAN_PERCENT - o2PercentDry);

/** Mass of CO per kWh of LHV that one ppm at 0 % O2 stands for: 1.109 for No.2 oil. @returns mg/(kWh ppm) */
export const mgPerKwhPerPpmAirFree = ({ stoichiometry, lhvKjPerKg }: Fuel): number =>
  (stoichiometry.dryGas * MOLAR_MASS.co * 3600) / lhvKjPerKg;

/**
 * CO per fuel energy on the lower heating value, with the exact air constant.
 *
 *     mg/kWh = CO 20.946/(20.946 - O2) dry0 28.010 3600/LHV
 *
 * @source mole balance; EN 267 lists 1.110 (oil) and 1.074 (gas) mg/kWh per ppm at 0 % O2 (from memory)
 */
export const coMgPerKwh = (fuel: Fuel, coPpmDry: number, o2PercentDry: number): number =>
  (coPpmDry * mgPerKwhPerPpmAirFree(fuel) * O2_IN_AIR_EXACT_PERCENT) / (O2_IN_AIR_EXACT_PERCENT - o2PercentDry);

/** The other way round: which measured CO a limit in mg/kWh stands for. @returns ppm dry at the given O2 */
export const coPpmFromMgPerKwh = (fuel: Fuel, mgPerKwh: number, o2PercentDry: number): number =>
  ((mgPerKwh / mgPerKwhPerPpmAirFree(fuel)) * (O2_IN_AIR_EXACT_PERCENT - o2PercentDry)) / O2_IN_AIR_EXACT_PERCENT;
