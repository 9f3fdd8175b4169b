/** Nozzle and pump pressure of a stage as they were found or are now. Flows in L/h at 100 psi: stamps are for other pressures on other sides of the sea. */
import { RATING_PRESSURE_PA } from '../../combustion/nozzle.ts';
import { L_PER_US_GALLON } from '../../units/convert.ts';
import { presentValue, type SetUpItem } from './set-up-sheet.ts';
import { nozzleAt, ratedGph } from './stage-nozzle.ts';
import type { Visit } from '../visit/visit.ts';

export type NozzleThere = {
  flowLh?: number | undefined;
  angleDeg?: number | undefined;
  /** what its stamp is for */
  atPa: number;
};
export type Which = 'asFound' | 'present';

const rowOf = ({ setUp }: Visit, item: SetUpItem, which: Which): number | undefined =>
  which === 'present' ? presentValue(setUp, item) : setUp.rows[item]?.asFound;

/** @param stampLh as it is stamped, L/h */
export const stampedAt = (stampLh: number | undefined, atPa: number, angleDeg?: number): NozzleThere => ({
  flowLh: stampLh === undefined ? undefined : ratedGph({ value: stampLh, unit: 'l/h', atPa }) * L_PER_US_GALLON,
  angleDeg,
  atPa,
});

/** A further stage without a nozzle of its own burns the first one's; one that is added burns beside it. */
export function nozzleOf(visit: Visit, stage: string, which: Which): NozzleThere {
  const first = visit.stages[0]?.name ?? '1';
  const base = stampedAt(
    rowOf(visit, 'nozzleFlowLh', which),
    visit.setUp.ratedPressurePa ?? RATING_PRESSURE_PA,
    rowOf(visit, 'nozzleAngleDeg', which),
  );
  const own = stage === first ? undefined : nozzleAt(visit.setUp, stage, first);
  if (own?.stamp === undefined) return base;
  const ownLh = ratedGph(own.stamp) * L_PER_US_GALLON;
  return {
    flowLh: own.adds !== true ? ownLh : base.flowLh === undefined ? undefined : ownLh + base.flowLh,
    angleDeg: own.angleDeg,
    atPa: own.stamp.atPa,
  };
}

export function pumpOf(visit: Visit, stage: string, which: Which): number | undefined {
  const first = visit.stages[0]?.name ?? '1';
  const own = stage === first ? undefined : nozzleAt(visit.setUp, stage, first).pumpPa;
  return own ?? rowOf(visit, 'pumpPressurePa', which);
}
