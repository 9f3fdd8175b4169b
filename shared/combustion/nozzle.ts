/** What a pressure nozzle puts through, and the heat and air that belong to it. */
import { BTU_PER_KWH, L_PER_US_GALLON, PA_PER_PSI } from '../units/convert.ts';
import { MOLAR_MASS_AIR, NM3_PER_KMOL, STANDARD_PRESSURE_PA } from './constants.ts';
import type { Fuel } from './fuel.ts';

/** Nozzles are rated at 100 psi. Trade practice (public pages). */
export const RATING_PRESSURE_PA = 100 * PA_PER_PSI;

/**
 * Flow at another pressure: Q = Qrated sqrt(p/100 psi). Only the ratio is physics; the rating itself has a tolerance of a few
 * per cent, and cold, thick oil flows *more*, in larger drops (common practice, no published number).
 *
 * @returns in the unit of `rated`
 */
export const nozzleFlow = ({ rated, pressurePa }: { readonly rated: number; readonly pressurePa: number }): number =>
  rated * Math.sqrt(pressurePa / RATING_PRESSURE_PA);

export type Firing = {
  readonly flowGph: number;
  readonly flowLPerH: number;
  readonly flowKgPerH: number;
  readonly inputHhvKw: number;
  readonly inputHhvBtuPerH: number;
  readonly inputLhvKw: number;
  /** dry air for complete combustion without excess */
  readonly airKgPerH: number;
  readonly airNm3PerH: number;
};

/** @returns undefined for a fuel without liquid density */
export function firing({
  fuel,
  ratedGph,
  pressurePa,
}: {
  readonly fuel: Fuel;
  readonly ratedGph: number;
  readonly pressurePa: number;
}): Firing | undefined {
  if (fuel.densityKgPerL === undefined) return undefined;
  const flowGph = nozzleFlow({ rated: ratedGph, pressurePa });
  const flowLPerH = flowGph * L_PER_US_GALLON;
  const flowKgPerH = flowLPerH * fuel.densityKgPerL;
  const inputHhvKw = (flowKgPerH * fuel.hhvKjPerKg) / 3600;
  const airKmolPerH = flowKgPerH * fuel.stoichiometry.air;
  return {
    flowGph,
    flowLPerH,
    flowKgPerH,
    inputHhvKw,
    inputHhvBtuPerH: inputHhvKw * BTU_PER_KWH,
    inputLhvKw: (flowKgPerH * fuel.lhvKjPerKg) / 3600,
    airKgPerH: airKmolPerH * MOLAR_MASS_AIR,
    airNm3PerH: airKmolPerH * NM3_PER_KMOL,
  };
}

/** Volume of that air where it is drawn in. @returns m3 per kg of air */
export const airVolumeM3PerKg = ({
  airC,
  pressurePa = STANDARD_PRESSURE_PA,
}: {
  readonly airC: number;
  readonly pressurePa?: number | undefined;
}): number => ((NM3_PER_KMOL / MOLAR_MASS_AIR) * ((airC + 273.15) / 273.15) * STANDARD_PRESSURE_PA) / pressurePa;
