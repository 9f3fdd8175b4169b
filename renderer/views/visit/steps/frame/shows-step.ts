import { selectRun } from '../../../../state/selectors.ts';
import type { AppState } from '../../../../state/store.ts';
import { liveSteps } from '../../../../state/visit-slice.ts';

/** Whether a step's own screen is up, and not the live view under the thread. */
export const selectShowsStep = (state: AppState): boolean =>
  state.visit !== undefined && !(liveSteps.has(state.visitStep) && state.visitSide === 'live' && selectRun(state) !== undefined);
