/** What is typed next without a press: smoke after a reading of the curve, draft where as-found and as-left need it. Pure. */
import { smokeIsTyped } from '../../../state/readiness.ts';
import { runningTrialOf, selectRun } from '../../../state/selectors.ts';
import { foundIsChosen } from '../../visit/use-probe-gate.ts';
import type { AppState } from '../../../state/store.ts';
import type { Entry } from '../../../state/view-slice.ts';

/** No draft since the last adjustment, in a visit whose run is on screen. */
export function lacksDraft(state: AppState): boolean {
  const record = selectRun(state);
  if (record === undefined || state.visit === undefined) return false;
  const { marks } = record;
  const lastAdjusted = marks.findLastIndex(({ body }) => body.kind === 'adjustment');
  return !marks.slice(lastAdjusted + 1).some(({ body }) => body.kind === 'draft');
}

export function entryAfterReading(state: AppState): Entry {
  const record = selectRun(state);
  const { visit, visitStep } = state;
  if (record === undefined || visit === undefined || (visitStep !== 'as-found' && visitStep !== 'air-curve')) return undefined;
  if (!smokeIsTyped(record, runningTrialOf(state))) return 'smoke';
  return visitStep === 'as-found' && lacksDraft(state) ? 'draft' : undefined;
}

export const entryAfterSmoke = (state: AppState): Entry =>
  state.visitStep === 'as-found' && lacksDraft(state) && selectRun(state)?.taken.at(-1) !== undefined ? 'draft' : undefined;

/** As-found was taken from the live screen and has its draft: its page is what is looked at next. */
export const showsFound = (state: AppState): boolean => state.visitSide === 'live' && !state.far && foundIsChosen(state);
