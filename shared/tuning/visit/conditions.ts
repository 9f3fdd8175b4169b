import { withCo2Max } from '../../combustion/co2-max.ts';
import { findFuel, type Fuel } from '../../combustion/fuel.ts';
import { halfWidthsAt, type HalfWidths } from '../../combustion/figures/uncertainty.ts';
import type { Tolerances } from '../../measurement/limits.ts';
import type { Visit } from './visit.ts';

/** What the figures of a visit are computed with besides its readings. */
export type Conditions = {
  fuel: Fuel;
  airTypedC?: number | undefined;
  humidityKgPerKg?: number | undefined;
  pressurePa?: number | undefined;
  /** of the instrument; without them the usual ones of combustion are taken */
  tolerances?: Tolerances | undefined;
};

/** The visit's fuel, with the CO2max that was set on it. */
export const fuelOfVisit = ({ fuelId, co2MaxPercent }: Pick<Visit, 'fuelId' | 'co2MaxPercent'>): Fuel | undefined => {
  const fuel = fuelId === undefined ? undefined : findFuel(fuelId);
  return fuel && withCo2Max(fuel, co2MaxPercent);
};

/** Fuel, typed air temperature and tolerances as the visit holds them, for every screen and paper alike. */
export const conditionsOf = (visit: Visit): Conditions | undefined => {
  const fuel = fuelOfVisit(visit);
  return fuel === undefined ? undefined : { fuel, airTypedC: visit.airTypedC, tolerances: visit.tolerances };
};

export const tolerancesAt = ({ tolerances }: Conditions, coPpm: number | undefined): HalfWidths | undefined =>
  tolerances && halfWidthsAt(tolerances, coPpm);
