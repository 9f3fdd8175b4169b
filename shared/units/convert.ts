/**
 * Unit conversion, used at the edges only; inside: degC, Pa, kg, s, kJ, %vol dry, ppm dry.
 *
 * @source Btu, inch, pound, US gallon: exact definitions (NIST SP 811, from memory); inch of water: conventional, 249.08891 Pa (from memory)
 */
export const PA_PER_IN_WC = 249.08891;
export const PA_PER_PSI = 6894.757293168361;
export const PA_PER_BAR = 100_000;
export const PA_PER_MBAR = 100;
export const PA_PER_MM_WC = 9.80665;
/** @source NIST SP 811, Appendix B.8: the international foot, exactly */
export const M_PER_FT = 0.3048;
export const PA_PER_IN_HG = 3386.389;
export const L_PER_US_GALLON = 3.785411784;
export const KG_PER_LB = 0.45359237;
/** a mass of fuel or CO2 as each unit system writes it */
export const massShown = { us: { unit: 'lb', factor: 1 / KG_PER_LB }, metric: { unit: 'kg', factor: 1 } } as const;
export const BTU_PER_KWH = 3412.14163;
export const KJ_PER_KG_PER_BTU_PER_LB = 2.326;
export const KELVIN_OFFSET = 273.15;
export const MM_PER_INCH = 25.4;

export const celsiusFromFahrenheit = (f: number): number => (f - 32) / 1.8;
/** A difference: the 32 stays out of it. */
export const kelvinFromFahrenheitDifference = (f: number): number => f / 1.8;
