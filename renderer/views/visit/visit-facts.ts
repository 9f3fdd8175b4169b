/** What the screens of a visit derive from it. Pure. */
import { fuelOfVisit } from '../../../shared/tuning/visit/conditions.ts';
import type { Setting } from '../../../shared/measurement/mark.ts';
import type { Advice, LiveGas } from '../../../shared/tuning/advice/advice.ts';
import { adviseWithCurve } from '../../../shared/tuning/advice/advise.ts';
import type { AirCurve } from '../../../shared/tuning/curve/air-curve.ts';
import type { Appliance } from '../../../shared/tuning/visit/appliance.ts';
import { limitsInForce, type LimitsInForce } from '../../../shared/tuning/advice/limits-in-force.ts';
import { testsOfVisit } from '../../../shared/tuning/safety/safety-plan.ts';
import { judgeVisit } from '../../../shared/tuning/advice/safe.ts';
import { sortTrials, type StaleReason } from '../../../shared/tuning/visit/staleness.ts';
import { stepsOf, type Missing, type StepState } from '../../../shared/tuning/visit/steps.ts';
import type { Trial } from '../../../shared/tuning/trial/trial.ts';
import type { StageRecord, Visit } from '../../../shared/tuning/visit/visit.ts';
import { missingWords } from '../../../shared/words/visit/steps.ts';
import { safetyTitle } from '../../../shared/words/visit/screens/safety.ts';

/** Where the choice of reserve starts: the edge that two sources share. The person may choose 0.5 to 2. */
export const FIRST_RESERVE_CO2_POINTS = 1;

export const stageOf = (visit: Visit, name: string): StageRecord => visit.stages.find((stage) => stage.name === name) ?? visit.stages[0]!;
export const stageIndexOf = (visit: Visit, name: string): number =>
  Math.max(
    0,
    visit.stages.findIndex((stage) => stage.name === name),
  );
export const fuelOf = fuelOfVisit;

export type CurveFacts = {
  curve: AirCurve;
  fresh: readonly Trial[];
  stale: ReadonlyMap<string, StaleReason>;
  advice: Advice;
  limits: LimitsInForce;
};

const noCurve = (stage: string): AirCurve => ({
  stage,
  points: [],
  onset: { state: 'not-enough-points', missing: 'trials', have: 0 },
  valley: undefined,
  window: undefined,
});

/** @param live what the instrument shows now: an alarm there counts before any trial */
export function curveFacts(visit: Visit, stageName: string, present: Setting | undefined, live?: LiveGas): CurveFacts {
  const fuel = fuelOf(visit);
  const stage = stageOf(visit, stageName);
  const { fresh, stale } = sortTrials(stage.name, visit);
  const limits = limitsInForce(visit);
  // without a fuel there is no curve, but what stops the work is said all the same
  const { advice, curve = noCurve(stage.name) } = adviseWithCurve({
    stage: stage.name,
    trials: visit.trials,
    changes: visit.changes,
    adjusters: visit.adjusters,
    // where the adjusters are at another stage says nothing about this one
    present: present?.stage === stage.name ? present : fresh.at(-1)?.setting,
    fuel,
    flame: visit.flame ?? 'yellow',
    limits,
    reserveCo2Points: stage.reserveCo2Points ?? FIRST_RESERVE_CO2_POINTS,
    roomCoPpm: visit.roomCo.at(-1)?.ppm,
    oilCauses: visit.oilCauses,
    live,
  });
  return { curve, fresh, stale: new Map(stale.map(({ trial, reason }) => [trial.id, reason])), advice, limits };
}

export function stepStates(visit: Visit, appliance: Appliance | undefined, certificateUntil: string | undefined): StepState[] {
  const onsetFound = Object.fromEntries(
    visit.stages.map(({ name }) => [name, curveFacts(visit, name, undefined).curve.onset.state === 'found']),
  );
  const steps = stepsOf(visit, {
    onsetFound,
    safetyTests: testsOfVisit(visit, appliance).map(({ id }) => id),
    isUnsafe: judgeVisit(visit, { appliance, certificateUntil }).safe === 'no',
  });
  // a training visit lacks no signature, but its report is done only when the visit is closed
  const isClosed = visit.signature !== undefined || visit.endedWallMs !== undefined;
  return steps.map((step) => (step.id === 'report' && step.state === 'done' && !isClosed ? { ...step, state: 'open' } : step));
}

export const missingText = (missing: Missing, stages: number): string =>
  missingWords(missing.key === 'safety-failed' ? { ...missing, test: safetyTitle(missing.test) } : missing, stages);

/** Trials are counted through the visit, whatever their run. */
export const numberOf = (visit: Visit, trialId: string | undefined): number => visit.trials.findIndex(({ id }) => id === trialId) + 1;
