/** CO air-free, and what it is per fuel energy. */
import { MOLAR_MASS, O2_IN_AIR_EPA_PERCENT } from './constants.ts';
import type { Fuel } from './fuel.ts';

/** CO 20.9/(20.9 - O2). @returns ppm dry at 0 % O2; not defined above 15 % O2. @source US trade form, EPA constant (from memory) */
export const coAirFreePpm = (coPpmDry: number, o2PercentDry: number): number =>
  (coPpmDry * O2_IN_AIR_EPA_PERCENT) / (O2_IN_AIR_EPA_PERCENT - o2PercentDry);

/** Mass of CO per kWh of LHV that one ppm at 0 % O2 stands for: 1.109 for No.2 oil. @returns mg/(kWh ppm) */
export const mgPerKwhPerPpmAirFree = ({ stoichiometry, lhvKjPerKg }: Fuel): number =>
  (stoichiometry.dryGas * MOLAR_MASS.co * 3600) / lhvKjPerKg;
