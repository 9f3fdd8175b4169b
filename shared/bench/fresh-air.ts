import { waterSaturationPa } from '../combustion/dew-point.ts';

/** O2 in dry air, %vol. @source US Standard Atmosphere composition (from memory): 0.20946 */
export const DRY_AIR_O2_PERCENT = 20.946;

/**
 * O2 that a cell sees in fresh air when its sample is not dried.
 *
 *     O2 = 20.946 (1 - RH p_sat(T)/p)
 *
 * @returns %vol of the moist air
 * @throws RangeError on a humidity outside 0 to 100 % or a pressure of no atmosphere
 * @source Dalton; saturation by IAPWS 1992 (shared/combustion/dew-point.ts)
 */
export function freshAirO2Percent({
  airC,
  relativeHumidityPercent,
  pressurePa = 101_325,
}: {
  airC: number;
  relativeHumidityPercent: number;
  pressurePa?: number;
}): number {
  if (!(relativeHumidityPercent >= 0 && relativeHumidityPercent <= 100))
    throw new RangeError(`relative humidity ${relativeHumidityPercent}`);
  if (!(pressurePa > 20_000 && pressurePa < 120_000)) throw new RangeError(`pressure ${pressurePa}`);
  return DRY_AIR_O2_PERCENT * (1 - ((relativeHumidityPercent / 100) * waterSaturationPa(airC)) / pressurePa);
}
