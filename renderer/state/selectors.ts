import type { Hint } from '../../shared/tuning/diagnosis/patterns.ts';
import type { Setting } from '../../shared/measurement/mark.ts';
import type { NumberedTrial } from '../../shared/tuning/trial/numbered-trial.ts';
import type { RunRecord } from './run-record.ts';
import type { AppState } from './store.ts';

/** The run on screen. */
export const selectRun = (state: AppState): RunRecord | undefined => (state.runId === undefined ? undefined : state.runs[state.runId]);
export const selectUnits = (state: AppState): 'us' | 'metric' => state.settings.units;
export const selectInfo = (state: AppState): RunRecord['info'] | undefined => selectRun(state)?.info;
/** A viewer may look, but not change. */
export const selectMayAct = (state: AppState): boolean => state.role !== 'viewer' && state.wire.phase === 'open';
export const selectIsRunning = (state: AppState): boolean => {
  const phase = selectRun(state)?.info.phase;
  return phase !== undefined && phase !== 'ended';
};

const noHints: readonly Hint[] = [];
const noTrials: readonly NumberedTrial[] = [];
/** The patterns and the trials of the run on screen, as the host has them. */
export const selectHints = (state: AppState): readonly Hint[] =>
  state.runId === undefined ? noHints : (state.hints[state.runId] ?? noHints);
export const trialsOfRun =
  (runId: string) =>
  (state: AppState): readonly NumberedTrial[] =>
    state.trials[runId] ?? noTrials;
/** The trial that goes on in the run on screen, as the host has it. */
export const runningTrialOf = (state: AppState): NumberedTrial | undefined =>
  state.runId === undefined ? undefined : state.trials[state.runId]?.findLast(({ running }) => running);
/** Where the adjusters stand: as marked in this run, else as the host knows it, from as found or from the run before. */
export const settingNow = (state: AppState): Setting | undefined => selectRun(state)?.info.setting ?? runningTrialOf(state)?.setting;

/** What the bar's steppers move: the simulated burner's own adjusters, else those of the settings; none without a run on screen. */
export type StepperAdjuster = { name: string; min: number | undefined; max: number | undefined; step: number; value: number | undefined };
export function adjustersOf(state: AppState): StepperAdjuster[] {
  const record = selectRun(state);
  if (record === undefined) return [];
  const stands = settingNow(state)?.positions;
  const standing = (name: string): number | undefined => stands?.find((one) => one.name.toLowerCase() === name.toLowerCase())?.value;
  const { simulator } = record.info;
  if (simulator !== undefined)
    return simulator.adjusters
      .slice(0, 3)
      .map(({ name, min, max, step, value }) => ({ name, min, max, step, value: standing(name) ?? value }));
  return state.settings.adjusters.slice(0, 3).map(({ name, min, max, step }) => ({ name, min, max, step, value: standing(name) }));
}
