/** Altitude and barometer. */
/** p/p0 = (1 - 2.25577e-5 h)^5.25588, up to 11 km. @source US Standard Atmosphere 1976 (from memory) */
export const pressureRatio = (altitudeM: number): number => (1 - 2.25577e-5 * altitudeM) ** 5.25588;

/** T = 288.15 - 0.0065 h. @returns K. @source US Standard Atmosphere 1976 (from memory) */
export const standardTemperatureK = (altitudeM: number): number => 288.15 - 0.0065 * altitudeM;

/** A fan moves the same volume everywhere: the air that it delivers falls with this ratio. */
export const densityRatio = (altitudeM: number): number => (pressureRatio(altitudeM) * 288.15) / standardTemperatureK(altitudeM);
