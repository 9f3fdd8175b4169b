/** The part of the library that the tests use; it brings no types of its own. */
declare module 'psychrolib' {
  const psychrolib: {
    readonly SI: number;
    SetUnitSystem(system: number): void;
    /** degC, 0..1, Pa -> kg/kg */
    GetHumRatioFromRelHum(dryBulbC: number, relative: number, pressurePa: number): number;
    /** the first argument only starts the search */
    GetTDewPointFromVapPres(dryBulbC: number, vapourPa: number): number;
    GetStandardAtmPressure(altitudeM: number): number;
  };
  export default psychrolib;
}
