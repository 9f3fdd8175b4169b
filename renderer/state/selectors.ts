import type { Hint } from '../../shared/tuning/diagnosis/patterns.ts';
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

/** What the bar's steppers move: the simulated burner's own adjusters, else those of the settings. */
export type StepperAdjuster = { name: string; min: number | undefined; max: number | undefined; step: number; value: number | undefined };
export function adjustersOf(record: RunRecord, settings: AppState['settings']): StepperAdjuster[] {
  const positionOf = (name: string): number | undefined =>
    record.info.setting?.positions.find((one) => one.name.toLowerCase() === name.toLowerCase())?.value;
  const simulator = record.info.simulator;
  if (simulator !== undefined) {
    return simulator.adjusters
      .slice(0, 3)
      .map(({ name, min, max, step, value }) => ({ name, min, max, step, value: positionOf(name) ?? value }));
  }
  return settings.adjusters.slice(0, 3).map(({ name, min, max, step }) => ({ name, min, max, step, value: positionOf(name) }));
}

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
