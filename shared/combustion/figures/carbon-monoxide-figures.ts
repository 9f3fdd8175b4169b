import {
  MOLAR_MASS,
  O2_IN_AIR_EPA_PERCENT,
  O2_IN_AIR_EXACT_PERCENT,
  O2_LIMIT_AIR_FREE_PERCENT,
  WATER_LATENT_25C_KJ_PER_KMOL,
} from '../constants.ts';
import type { FigureParts } from './figure-parts.ts';

const airFreeKeys = ['coAirFreePpm', 'coAt3PercentO2Ppm', 'coMgPerKwh'] as const;

/** CO on its three scales; formulas in carbon-monoxide.ts. Air-free and reference figures use 20.9, mg/kWh the exact 20.946. */
export function coFigures({ fuel, o2, coPpm, hasCo, missing, put, blank }: FigureParts): void {
  if (!hasCo || o2 > O2_LIMIT_AIR_FREE_PERCENT) {
    for (const key of airFreeKeys) blank(key, hasCo ? 'o2-above-15' : (missing?.co ?? 'no-co'));
    return;
  }
  const left = O2_IN_AIR_EPA_PERCENT - o2;
  const airFree = O2_IN_AIR_EPA_PERCENT / left;
  put('coAirFreePpm', coPpm * airFree, (coPpm * airFree) / left, airFree, 0, 0, 0);
  const at3 = (O2_IN_AIR_EPA_PERCENT - 3) / left;
  put('coAt3PercentO2Ppm', coPpm * at3, (coPpm * at3) / left, at3, 0, 0, 0);

  const { stoichiometry: st, slope, lhvKjPerKg } = fuel;
  const exactLeft = O2_IN_AIR_EXACT_PERCENT - o2;
  const perPpm = (MOLAR_MASS.co * 3600 * O2_IN_AIR_EXACT_PERCENT * st.dryGas) / (lhvKjPerKg * exactLeft);
  // more hydrogen: less dry gas, and less of the heating value is left when the water's heat is taken off
  const perPpmHydrogen = perPpm * (slope.dryGas / st.dryGas + (WATER_LATENT_25C_KJ_PER_KMOL * slope.water) / lhvKjPerKg);
  put('coMgPerKwh', coPpm * perPpm, (coPpm * perPpm) / exactLeft, perPpm, 0, 0, coPpm * perPpmHydrogen);
}
