import { AIR_O2_PERCENT } from '../trial/gas-basis.ts';

/**
 * Reserve air above the onset of smoke, in points of CO2 as the trade gives it.
 *
 * @source 0.5-1.0: common practice (a guideline of 1975 could not be read); 1.0-1.5: NORA technical question-and-answer page; up to 2.0: common practice
 * for cold oil from outdoors, weak draft, a dusty room
 */
export const reserveChoices = [
  { key: 'classic', lowCo2Points: 0.5, highCo2Points: 1.0, source: 'common practice' },
  { key: 'current-training', lowCo2Points: 1.0, highCo2Points: 1.5, source: 'NORA technical question-and-answer page' },
  { key: 'cautious', lowCo2Points: 1.5, highCo2Points: 2.0, source: 'common practice' },
] as const;
export const LEAST_RESERVE_CO2_POINTS = 0.5;
export const MOST_RESERVE_CO2_POINTS = 2;

/** The choice whose range holds this reserve; the higher one at a shared edge. */
export const reserveChoiceFor = (co2Points: number): (typeof reserveChoices)[number] | undefined =>
  reserveChoices.findLast((choice) => co2Points >= choice.lowCo2Points - 1e-9 && co2Points <= choice.highCo2Points + 1e-9);

/** Points of CO2 -> points of O2 for a fuel: both run straight between the fuel's CO2 max at no O2 and air. */
export const o2PointsFromCo2Points = (co2Points: number, co2MaxPercent: number): number => (co2Points * AIR_O2_PERCENT) / co2MaxPercent;
