/**
 * What follows from a reading without a press: the first full settled reading in As-found is the burner as it was found, and the reading after tightening is
 * the one that is compared. The host calls this; a person who chose otherwise is not overruled.
 */
import { probeGate } from '../trial/probe-gate.ts';
import { sameSetting } from '../trial/trials.ts';
import type { Trial } from '../trial/trial.ts';
import { isMovedBefore } from './moved-since.ts';
import type { StageRecord, Visit } from './visit.ts';

const isFull = ({ reading }: Trial): boolean => reading?.settled === true && reading.scope === 'full';

/** @returns the same visit when nothing follows */
export function chosenByItself(visit: Visit): Visit {
  const step = visit.at?.step;
  if (step !== 'as-found' && step !== 'as-left') return visit;
  const stages = visit.stages.map((stage) => (step === 'as-found' ? found(visit, stage) : echoed(visit, stage)));
  return stages.every((stage, at) => stage === visit.stages[at]) ? visit : { ...visit, stages };
}

function found(visit: Visit, stage: StageRecord): StageRecord {
  if (stage.asFoundTrialId !== undefined || stage.asFoundSkippedReason !== undefined || stage.asFoundByHand === true) return stage;
  // the spot before the probe comes first
  if (probeGate(visit, 'as-found').state !== 'open') return stage;
  const first = visit.trials.find((trial) => trial.setting.stage === stage.name && isFull(trial));
  // what was read after something was changed is not as found
  if (first === undefined || visit.changes.some(({ wallMs }) => wallMs < first.takenWallMs) || isMovedBefore(first, visit)) return stage;
  return { ...stage, asFoundTrialId: first.id };
}

function echoed(visit: Visit, stage: StageRecord): StageRecord {
  if (stage.echoTrialId !== undefined || stage.echoByHand === true) return stage;
  const left = visit.trials.find(({ id }) => id === stage.asLeftTrialId);
  if (left === undefined) return stage;
  const after = visit.trials.findLast(
    (trial) => trial.takenWallMs > left.takenWallMs && trial.reading?.settled === true && sameSetting(trial.setting, left.setting),
  );
  return after === undefined ? stage : { ...stage, echoTrialId: after.id };
}
