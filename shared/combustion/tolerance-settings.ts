import type { Tolerances } from './uncertainty.ts';

/** Half-widths of the instrument's tolerance, rectangular: as the settings, a run and a visit hold them. */
export type ToleranceSettings = {
  readonly o2Percent: number;
  readonly coPpm: number;
  readonly coShare: number;
  readonly stackK: number;
  readonly airK: number;
  readonly fuelPoints: number;
};

/** The CO tolerance is the larger of a fixed and a relative part, so it depends on the value. */
export const toTolerances = (settings: ToleranceSettings | undefined, coPpm: number | undefined): Tolerances | undefined =>
  settings === undefined
    ? undefined
    : {
        o2: settings.o2Percent,
        co2: settings.o2Percent,
        coPpm: Math.max(settings.coPpm, settings.coShare * Math.abs(coPpm ?? 0)),
        stackK: settings.stackK,
        airK: settings.airK,
        fuelPoints: settings.fuelPoints,
      };
