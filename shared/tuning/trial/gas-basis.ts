import { coAirFreePpm as airFree } from '../../combustion/carbon-monoxide.ts';
import { O2_IN_AIR_EXACT_PERCENT } from '../../combustion/constants.ts';
import { quantities } from '../../units/quantities.ts';

export const AIR_O2_PERCENT = O2_IN_AIR_EXACT_PERCENT;

/** Above this the factor to air-free grows without bound and the figure says nothing. */
const AIR_FREE_LIMIT_O2_PERCENT = 15;

/** CO with the excess air taken out, ppm dry. Undefined above 15 % O2 and where O2 is not possible. */
export const coAirFreePpm = (coPpm: number, o2Percent: number): number | undefined =>
  o2Percent > AIR_FREE_LIMIT_O2_PERCENT || o2Percent < -0.5 ? undefined : airFree(coPpm, o2Percent);

/** O2 that a flue can have: above 15 % the sample is mostly room air, above 21 % or clearly below zero the value is wrong. */
export const isFlueO2 = (o2Percent: number): boolean => o2Percent >= -0.5 && o2Percent <= AIR_FREE_LIMIT_O2_PERCENT;

/** CO that a cell can show: so far below zero its zero is wrong. */
export const isPossibleCo = (coPpm: number): boolean => coPpm >= quantities.co.possible[0] && coPpm <= quantities.co.possible[1];

/** How often the gas holds the air of stoichiometric combustion, near enough: it runs straighter against an air opening than O2 does. */
export const airRatio = (o2Percent: number): number => AIR_O2_PERCENT / (AIR_O2_PERCENT - o2Percent);
export const o2FromAirRatio = (ratio: number): number => AIR_O2_PERCENT * (1 - 1 / ratio);
