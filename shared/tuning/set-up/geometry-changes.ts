/** What a part that was moved with the gauge means for the rest of the visit: readings and timed tests that were taken before it. */
import { staleAfter, type StaleReason } from '../../geometry/stale.ts';
import { changesOf } from './geometry-now.ts';
import type { SafetyTestId } from '../safety/safety-plan.ts';
import type { ChangeKind } from '../visit/staleness.ts';
import type { Visit } from '../visit/visit.ts';

const lastReadingMs = ({ trials }: Pick<Visit, 'trials'>): number | undefined => {
  const taken = trials.flatMap(({ reading, takenWallMs }) => (reading === undefined ? [] : [takenWallMs]));
  return taken.length === 0 ? undefined : Math.max(...taken);
};

/** @returns whether the change has to be written down: there are readings, and none of the changes like it came after all of them */
export function isNewChange(visit: Pick<Visit, 'trials' | 'changes'>, kind: ChangeKind, note: string): boolean {
  const last = lastReadingMs(visit);
  return last !== undefined && !visit.changes.some((one) => one.kind === kind && one.note === note && one.wallMs > last);
}

const ignitionTests: readonly SafetyTestId[] = ['lockout-no-ignition', 'flame-failure'];
export const isIgnitionTest = (test: string): boolean => (ignitionTests as readonly string[]).includes(test);

/** Readings and ignition tests that are older than a move which puts them in doubt. Nothing where none were taken. */
export function staleBeyond(visit: Pick<Visit, 'trials' | 'safety' | 'setUp'>): StaleReason[] {
  const tests = visit.safety.flatMap(({ test, wallMs }) => (isIgnitionTest(test) ? [wallMs] : []));
  const last = { readings: lastReadingMs(visit), ignitionTests: tests.length === 0 ? undefined : Math.max(...tests) };
  const changes = changesOf(visit.setUp);
  return (['readings', 'ignitionTests'] as const).flatMap((what): StaleReason[] => {
    const takenMs = last[what];
    if (takenMs === undefined) return [];
    const change = changes.findLast(({ what: moved, wallMs }) => staleAfter[moved].includes(what) && wallMs > takenMs);
    return change === undefined ? [] : [{ what, because: change.what }];
  });
}
