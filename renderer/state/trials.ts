/** The trials of the run on screen, with the setting that stands now as the last one, counted as the visit counts them. Pure. */
import type { Setting } from '../../shared/measurement/mark.ts';
import { trialsWithTightening } from '../../shared/tuning/tightened.ts';
import type { Trial } from '../../shared/tuning/trial.ts';
import type { Visit } from '../../shared/tuning/visit.ts';
import type { RunRecord } from './run-record.ts';

export type NumberedTrial = Trial & { number: number; running: boolean; changed: readonly { name: string; value: number }[] };

const unknown: Setting = { stage: '1', positions: [] };

/** @param visit the one that is open: trials of its earlier runs are counted first */
export function trialsOf(
  { info, startSetting, marks, readings }: Pick<RunRecord, 'info' | 'startSetting' | 'marks' | 'readings'>,
  visit?: Visit,
): NumberedTrial[] {
  const { runId, startWallMs } = info;
  const inVisit = visit?.runs.some(({ id }) => id === runId) === true;
  const start =
    startSetting ?? (inVisit ? (visit.trials.find(({ id }) => id === `${runId}:start`)?.setting ?? visit.settingFound) : undefined);
  const trials = trialsWithTightening(
    { runId, startWallMs, startSetting: start ?? unknown, marks, edits: [], readings },
    { running: true },
  );
  const first = trials[0]?.takenWallMs ?? startWallMs;
  const before = inVisit ? visit.trials.filter((trial) => trial.runId !== runId && trial.takenWallMs <= first).length : 0;
  return trials.map((trial, index) => ({
    ...trial,
    number: before + index + 1,
    running: trial.toMs === undefined,
    changed: changedPositions(trials[index - 1]?.setting, trial.setting),
  }));
}

const changedPositions = (before: Setting | undefined, after: Setting): { name: string; value: number }[] =>
  after.positions.filter(({ name, value }) => before?.positions.find((one) => one.name === name)?.value !== value);

/** The adjusters worth a column: those that were moved between trials, else the first; two at most. */
export function movedAdjusters(trials: readonly NumberedTrial[], all: readonly string[]): readonly string[] {
  const moved = all.filter((name) => {
    const values = trials.flatMap(({ setting }) => setting.positions.filter((one) => one.name === name).map(({ value }) => value));
    return new Set(values).size > 1;
  });
  return moved.length > 0 ? moved.slice(0, 2) : all.slice(0, 1);
}
