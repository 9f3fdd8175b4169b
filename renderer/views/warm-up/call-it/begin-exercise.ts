import type { AppParts } from '../../../app-parts.ts';
import type { Exercise } from '../../../../shared/warm-up/call-it.ts';
import { selectRun } from '../../../state/selectors.ts';

/** Begins the run of an exercise with the verdicts hidden. A practice run on screen ends for it; a measurement goes on beside it. */
export async function beginExercise({ actions, store }: Pick<AppParts, 'actions' | 'store'>, exercise: Exercise): Promise<boolean> {
  const before = selectRun(store.getState());
  const kind = before?.info.source.kind;
  if (before !== undefined && before.info.phase !== 'ended' && (kind === 'simulated' || kind === 'replay'))
    await actions.ask('run.end', { runId: before.info.runId });
  const { source, fromMs, speed } = exercise;
  const info = await actions.ask('run.start', {
    source:
      source.kind === 'simulated'
        ? { kind: 'simulated', scenario: source.scenario, seed: source.seed }
        : { kind: 'replay', runId: source.runId, speed },
  });
  if (info === undefined) return false;
  store.getState().runChanged(info);
  store.getState().runChosen(info.runId);
  if (source.kind === 'replay' && fromMs > 0) await actions.ask('replay.control', { runId: info.runId, seekMs: fromMs });
  store.getState().exerciseBegun(exercise);
  return true;
}
