/**
 * What leaves the flame: O2 by mole balance, CO with its two arms, smoke with its onset.
 * The mole balance is exact for complete combustion of light oil; the shapes of CO and smoke are ours, after the usual description:
 * CO steep and smoky below the onset, a clean valley, and a slower rise without smoke where too much air chills the flame.
 *
 * @source K and air-fuel ratio: mole balance of light oil C 87.0 / H 13.0 % with dry air of 20.946 % O2 (US Standard Atmosphere 1976)
 */
export const O2_OF_AIR = 20.946;
const DRY_GAS_PER_AIR = 0.9355;

/**
 * O2 in the dry flue gas:  O2 = 20.946 e / (e + K),  e = airRatio - 1; softened near e = 0, where mixing is never perfect.
 * @returns %vol dry
 */
export function o2FromAirRatio(airRatio: number): number {
  const sharpness = 0.02;
  const excess = sharpness * Math.log1p(Math.exp(Math.min(700, (airRatio - 1) / sharpness)));
  return (O2_OF_AIR * Math.min(excess, airRatio)) / (Math.min(excess, airRatio) + DRY_GAS_PER_AIR);
}

/** How the flame is today: the drawn burner, bent by its faults and by how cold the chamber is. */
export interface FlameCharacter {
  readonly onsetO2: number;
  /** where the rich arm of CO begins: at the onset of smoke, where not a part of the flame smokes by itself */
  readonly coOnsetO2: number;
  readonly smokeSlope: number;
  readonly valleyCoPpm: number;
  readonly onsetCoPpm: number;
  readonly leanO2: number;
  /** how far below the onset the rich arm grows e-fold, %vol O2 */
  readonly richWidthO2: number;
}

const BEND_O2 = 0.15;
const LEAN_WIDTH_O2 = 1.4;

/** @returns smoke number 0-9, unrounded; exactly 0.5 at `onsetO2` */
export function smokeNumber(o2Percent: number, { onsetO2, smokeSlope }: FlameCharacter): number {
  const middle = onsetO2 + BEND_O2 * Math.log(Math.expm1(0.5 / (smokeSlope * BEND_O2)));
  const rise = smokeSlope * BEND_O2 * Math.log1p(Math.exp(Math.min(700, (middle - o2Percent) / BEND_O2)));
  return Math.min(9, rise);
}

/** @returns CO, ppm dry and air-free, and the hydrogen that comes with bad mixing, ppm air-free */
export function coAirFree(
  o2Percent: number,
  { coOnsetO2, valleyCoPpm, onsetCoPpm, leanO2, richWidthO2 }: FlameCharacter,
): { coPpm: number; h2Ppm: number } {
  const rich = Math.min(30_000, onsetCoPpm * Math.exp((coOnsetO2 - o2Percent) / richWidthO2));
  const lean = Math.min(5_000, 40 * Math.exp((o2Percent - leanO2) / LEAN_WIDTH_O2));
  return { coPpm: valleyCoPpm + rich + lean, h2Ppm: 0.5 * rich };
}

/** From air-free to as measured: the same CO in more gas. */
export const diluted = (airFreePpm: number, o2Percent: number): number => airFreePpm * Math.max(0, 1 - o2Percent / O2_OF_AIR);
