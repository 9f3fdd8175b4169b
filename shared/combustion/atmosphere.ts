/** Altitude, barometer, chimney draft. */
import { GAS_CONSTANT_KJ_PER_KMOL_K, GRAVITY_M_S2, MOLAR_MASS_AIR, O2_IN_AIR_EPA_PERCENT, STANDARD_PRESSURE_PA } from './constants.ts';

/** p/p0 = (1 - 2.25577e-5 h)^5.25588, up to 11 km. @source US Standard Atmosphere 1976 (from memory) */
export const pressureRatio = (altitudeM: number): number => (1 - 2.25577e-5 * altitudeM) ** 5.25588;

/** T = 288.15 - 0.0065 h. @returns K. @source US Standard Atmosphere 1976 (from memory) */
export const standardTemperatureK = (altitudeM: number): number => 288.15 - 0.0065 * altitudeM;

/** A fan moves the same volume everywhere: the air that it delivers falls with this ratio. */
export const densityRatio = (altitudeM: number): number => (pressureRatio(altitudeM) * 288.15) / standardTemperatureK(altitudeM);

/** What a partial-pressure O2 cell set at sea level shows in fresh air until it is set again on site. @returns %vol */
export const freshAirO2WithoutNewZero = (pressurePa: number): number => (O2_IN_AIR_EPA_PERCENT * pressurePa) / STANDARD_PRESSURE_PA;

/**
 * Draft that a chimney can give at most, friction and cooling left out.
 *
 *     dp = (g p M/R) H (1/To - 1/Tg)          3463 H (1/To - 1/Tg) Pa at 1 atm
 *
 * @returns Pa, positive: suction
 * @source hydrostatics with the density of air for both gases
 */
export function theoreticalDraftPa({
  heightM,
  outdoorC,
  gasC,
  pressurePa = STANDARD_PRESSURE_PA,
}: {
  readonly heightM: number;
  readonly outdoorC: number;
  readonly gasC: number;
  readonly pressurePa?: number | undefined;
}): number {
  const specificGasConstant = (1000 * GAS_CONSTANT_KJ_PER_KMOL_K) / MOLAR_MASS_AIR;
  return ((GRAVITY_M_S2 * pressurePa) / specificGasConstant) * heightM * (1 / (outdoorC + 273.15) - 1 / (gasC + 273.15));
}
