/** Where water and sulphuric acid begin to condense out of flue gas. */
import { STANDARD_PRESSURE_PA } from './constants.ts';

const CRITICAL_K = 647.096;
const CRITICAL_PA = 22.064e6;
const A1 = -7.85951783;
const A2 = 1.84408259;
const A3 = -11.7866497;
const A4 = 22.6807411;
const A5 = -15.9618719;
const A6 = 1.80122502;

/** ln(p/pc) and its slope per kelvin. */
function logSaturation(kelvin: number): { value: number; slope: number } {
  const tau = 1 - kelvin / CRITICAL_K;
  const root = Math.sqrt(tau);
  const t2 = tau * tau;
  const t3 = t2 * tau;
  const t4 = t2 * t2;
  const sum = A1 * tau + A2 * tau * root + A3 * t3 + A4 * t3 * root + A5 * t4 + A6 * t4 * t3 * root;
  const sumSlope = A1 + 1.5 * A2 * root + 3 * A3 * t2 + 3.5 * A4 * t2 * root + 4 * A5 * t3 + 7.5 * A6 * t3 * t3 * root;
  return { value: (CRITICAL_K / kelvin) * sum, slope: -(CRITICAL_K / (kelvin * kelvin)) * sum - sumSlope / kelvin };
}

/**
 * Saturation pressure of water.
 *
 *     ln(p/pc) = (Tc/T) (a1 t + a2 t^1.5 + a3 t^3 + a4 t^3.5 + a5 t^4 + a6 t^7.5),   t = 1 - T/Tc
 *
 * @returns Pa; valid 0-374 degC
 * @source Wagner & Pruss, IAPWS 1992 (coefficients from memory; agree with IF97 within 0.01 %)
 */
export const waterSaturationPa = (celsius: number): number => CRITICAL_PA * Math.exp(logSaturation(celsius + 273.15).value);

export type DewPoint = { readonly celsius: number; readonly slopeKPerPa: number };

/**
 * Temperature at which water vapour of this partial pressure condenses: the IAPWS equation solved by Newton's method.
 *
 * @returns undefined below the triple point (it would be frost) and above the critical point
 * @source IAPWS 1992 as above
 */
export function waterDewPoint(partialPa: number): DewPoint | undefined {
  if (!(partialPa >= 611.2 && partialPa < CRITICAL_PA)) return undefined;
  const target = Math.log(partialPa / CRITICAL_PA);
  // Magnus form as the start: within 0.3 K where flue gases are
  const gamma = Math.log(partialPa / 610.94);
  let kelvin = Math.min(273.15 + (243.04 * gamma) / (17.625 - gamma), CRITICAL_K - 1);
  let slope = 1;
  for (let step = 0; step < 30; step += 1) {
    const at = logSaturation(kelvin);
    slope = at.slope;
    const move = (at.value - target) / slope;
    kelvin = Math.min(kelvin - move, CRITICAL_K - 1e-6);
    if (Math.abs(move) < 1e-5) break;
  }
  return { celsius: kelvin - 273.15, slopeKPerPa: 1 / (partialPa * slope) };
}

const MMHG_PER_PA = 760 / STANDARD_PRESSURE_PA;
/** Below this both correlations are outside their data. */
export const SO3_LIMIT_ATM = 1e-8;

/**
 * Share of the fuel's sulphur that becomes SO3: 2 S lb SO3 beside 142 S lb SO2 per 1000 gal distillate.
 * @source AP-42 section 1.3 (SO2 read, SO3 from memory); 1-5 % is quoted in general (from memory)
 */
export const SO3_SHARE = 0.011;

/** What either correlation is good for, K. They differ by up to 4 K between themselves. */
export const ACID_DEW_POINT_EXPANDED_K = 5;

type AcidPressures = { readonly waterPa: number; readonly so3Pa: number };

/**
 * Sulphuric acid dew point, pressures in mmHg:
 *
 *     1000/T = 2.276 - 0.0294 ln pH2O - 0.0858 ln pSO3 + 0.0062 ln pH2O ln pSO3
 *
 * @returns degC, +-5 K; undefined where SO3 is at or below 1e-8 atm
 * @source Verhoff & Banchero, Chem. Eng. Progr. 70(8) 1974 (form read on two public pages)
 */
export function acidDewPointVerhoffBancheroC({ waterPa, so3Pa }: AcidPressures): number | undefined {
  if (!isWithinAcidData({ waterPa, so3Pa })) return undefined;
  const water = Math.log(waterPa * MMHG_PER_PA);
  const so3 = Math.log(so3Pa * MMHG_PER_PA);
  return 1000 / (2.276 - 0.0294 * water - 0.0858 * so3 + 0.0062 * water * so3) - 273.15;
}

/**
 * Sulphuric acid dew point, pressures in atm:
 *
 *     t = 203.25 + 27.6 lg pH2O + 10.83 lg pSO3 + 1.06 (lg pSO3 + 8)^2.19
 *
 * @returns degC, +-5 K; undefined where SO3 is at or below 1e-8 atm
 * @source Okkes, Hydrocarbon Processing, July 1987 (read on a public page)
 */
export function acidDewPointOkkesC({ waterPa, so3Pa }: AcidPressures): number | undefined {
  if (!isWithinAcidData({ waterPa, so3Pa })) return undefined;
  const so3 = Math.log10(so3Pa / STANDARD_PRESSURE_PA);
  return 203.25 + 27.6 * Math.log10(waterPa / STANDARD_PRESSURE_PA) + 10.83 * so3 + 1.06 * (so3 + 8) ** 2.19;
}

const isWithinAcidData = ({ waterPa, so3Pa }: AcidPressures): boolean => waterPa > 0 && so3Pa > SO3_LIMIT_ATM * STANDARD_PRESSURE_PA;
