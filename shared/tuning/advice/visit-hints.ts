import { findFuel } from '../../combustion/fuel.ts';
import { fuelOfVisit } from '../visit/conditions.ts';
import type { Mark } from '../../measurement/mark.ts';
import type { Sample } from '../../measurement/sample.ts';
import type { Appliance } from '../visit/appliance.ts';
import { airCurve } from '../curve/air-curve.ts';
import { diagnose } from '../diagnosis/diagnose.ts';
import { earlierOf } from '../diagnosis/earlier.ts';
import type { Hint } from '../diagnosis/patterns.ts';
import { sortTrials } from '../visit/staleness.ts';
import { stageInFront } from '../visit/visit-session.ts';
import type { Visit } from '../visit/visit.ts';
import { defined } from '../../defined.ts';

/** A cool stack is right where the appliance is built for it. */
export const hintsFor = (hints: readonly Hint[], flueGas: Appliance['flueGas']): readonly Hint[] =>
  flueGas === 'low-temperature' || flueGas === 'condensing' ? hints.filter(({ pattern }) => pattern !== 'cool-stack') : hints;

/** A curve of fewer trials has no onset. */
const LEAST_TRIALS = 3;

/** The patterns in one run and in the visit that it belongs to, beside what earlier visits left at the same appliance (newest first). */
export function hintsOf({
  samples,
  marks,
  fuelId,
  visit,
  earlier,
}: {
  samples: readonly Sample[];
  marks: readonly Mark[];
  fuelId: string;
  visit: Visit | undefined;
  earlier: readonly Visit[];
}): Hint[] {
  const stage = visit === undefined ? undefined : stageInFront(visit);
  const name = stage?.name ?? '1';
  const fuel = (visit && fuelOfVisit(visit)) ?? findFuel(fuelId);
  const fresh = visit === undefined ? [] : sortTrials(name, visit).fresh;
  const onset =
    fuel === undefined || fresh.length < LEAST_TRIALS
      ? undefined
      : airCurve(fresh, { stage: name, co2MaxPercent: fuel.stoichiometry.co2MaxPercent, reserveCo2Points: 1 }).onset;
  const wanted = visit?.setUp.rows.pumpPressurePa?.maker?.nominal;
  return diagnose({
    samples,
    adjustmentsMs: marks.flatMap(({ body, timeMs }) => (body.kind === 'adjustment' ? [timeMs] : [])),
    trials: visit?.trials ?? [],
    judgedIds: [stage?.asFoundTrialId, stage?.asLeftTrialId].filter((id) => id !== undefined),
    earlier: earlier.flatMap((one) => earlierOf(one, name) ?? []),
    ...defined({ pumpPressureWantedPa: wanted }),
    ...(onset?.state === 'found' ? { onsetO2: onset.o2 } : {}),
  });
}
