/** What the screens of a visit derive from it. Pure. */
import { findFuel, type Fuel } from '../../../shared/combustion/fuel.ts';
import type { Setting } from '../../../shared/measurement/mark.ts';
import { airCurve, type AirCurve } from '../../../shared/tuning/air-curve.ts';
import type { Appliance } from '../../../shared/tuning/appliance.ts';
import { flueCoDefaults } from '../../../shared/tuning/cautions.ts';
import { curveGoal, type GoalAnswer } from '../../../shared/tuning/curve-goal.ts';
import { nextSetting, type NextSetting } from '../../../shared/tuning/next-setting.ts';
import { safetyTests, type SafetyTest } from '../../../shared/tuning/safety-plan.ts';
import { sortTrials, type StaleReason } from '../../../shared/tuning/staleness.ts';
import { stepsOf, type Missing, type StepState } from '../../../shared/tuning/steps.ts';
import type { Trial } from '../../../shared/tuning/trial.ts';
import type { StageRecord, Visit } from '../../../shared/tuning/visit.ts';
import { missingWords } from '../../../shared/words/tune.ts';
import { safetyTitle } from '../../../shared/words/visit.ts';

/** Where the choice of reserve starts: the edge that two sources share. The person may choose 0.5 to 2. */
export const FIRST_RESERVE_CO2_POINTS = 1;

export const stageOf = (visit: Visit, name: string): StageRecord => visit.stages.find((stage) => stage.name === name) ?? visit.stages[0]!;
export const stageIndexOf = (visit: Visit, name: string): number =>
  Math.max(
    0,
    visit.stages.findIndex((stage) => stage.name === name),
  );
export const fuelOf = (visit: Visit): Fuel | undefined => (visit.fuelId === undefined ? undefined : findFuel(visit.fuelId));

export type CurveFacts = {
  curve: AirCurve;
  fresh: readonly Trial[];
  stale: ReadonlyMap<string, StaleReason>;
  goal: GoalAnswer;
  advice: NextSetting | undefined;
};

export function curveFacts(visit: Visit, stageName: string, present: Setting | undefined): CurveFacts | undefined {
  const fuel = fuelOf(visit);
  if (fuel === undefined) return undefined;
  const stage = stageOf(visit, stageName);
  const { fresh, stale } = sortTrials(stage.name, visit);
  const cardO2High = visit.targetCard?.lines.find(({ quantity, high }) => quantity === 'o2Percent' && high !== undefined)?.high;
  const curve = airCurve(fresh, {
    stage: stage.name,
    co2MaxPercent: fuel.stoichiometry.co2MaxPercent,
    reserveCo2Points: stage.reserveCo2Points ?? FIRST_RESERVE_CO2_POINTS,
    cardO2High,
  });
  // where the adjusters stand at another stage says nothing about this one
  const here = present?.stage === stage.name ? present : undefined;
  const goal = curveGoal(curve, visit.flueCoLimits?.alarmPpm ?? flueCoDefaults.alarmPpm);
  const advice =
    goal.kind === 'none' || goal.kind === 'stop'
      ? undefined
      : nextSetting({ goal, trials: fresh, adjusters: visit.adjusters, present: here ?? fresh.at(-1)?.setting });
  return { curve, fresh, stale: new Map(stale.map(({ trial, reason }) => [trial.id, reason])), goal, advice };
}

/** Tests that this appliance needs; the others are offered and may stay open. */
export function testsNeeded(appliance: Appliance | undefined): readonly SafetyTest[] {
  const kind = appliance?.kind;
  return safetyTests.filter(({ optional }) => {
    if (optional === undefined) return true;
    if (optional === 'boiler') return kind === 'boiler-water' || kind === 'boiler-steam';
    return optional === 'steam' && kind === 'boiler-steam';
  });
}

export function stepStates(visit: Visit, appliance: Appliance | undefined): StepState[] {
  const onsetFound = Object.fromEntries(
    visit.stages.map(({ name }) => [name, curveFacts(visit, name, undefined)?.curve.onset.state === 'found']),
  );
  const steps = stepsOf(visit, { onsetFound, safetyTests: testsNeeded(appliance).map(({ id }) => id) });
  // a training visit lacks no signature, but its report is done only when the visit is closed
  const isClosed = visit.signature !== undefined || visit.endedWallMs !== undefined;
  return steps.map((step) => (step.id === 'report' && step.state === 'done' && !isClosed ? { ...step, state: 'open' } : step));
}

export const missingText = (missing: Missing, stages: number): string =>
  missingWords(missing.key === 'safety-failed' ? { ...missing, test: safetyTitle(missing.test) } : missing, stages);

/** Trials are counted through the visit, whatever their run. */
export const numberOf = (visit: Visit, trialId: string | undefined): number => visit.trials.findIndex(({ id }) => id === trialId) + 1;
