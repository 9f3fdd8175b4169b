import { MOLAR_MASS, MOLAR_MASS_AIR, STANDARD_PRESSURE_PA } from './constants.ts';
import { waterSaturationPa } from './dew-point.ts';

/**
 * Humidity of the combustion air from relative humidity: w = (Mw/Ma) pw/(p - pw). The enhancement factor (about 0.4 %) is left out.
 *
 * @returns kg water per kg dry air; undefined where the vapour alone would be above the pressure
 * @source ideal mixture; saturation by IAPWS 1992
 */
export function humidityKgPerKg({
  relativePercent,
  airC,
  pressurePa = STANDARD_PRESSURE_PA,
}: {
  readonly relativePercent: number;
  readonly airC: number;
  readonly pressurePa?: number | undefined;
}): number | undefined {
  const vapourPa = (relativePercent / 100) * waterSaturationPa(airC);
  if (!(vapourPa >= 0 && vapourPa < pressurePa)) return undefined;
  return ((MOLAR_MASS.h2o / MOLAR_MASS_AIR) * vapourPa) / (pressurePa - vapourPa);
}
