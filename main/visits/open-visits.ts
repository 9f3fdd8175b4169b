/**
 * The visits that are in front of the windows or have a run under way, as the store has them: which one is in front, its stopwatches, and
 * the writing of what follows from runs.
 */
import type { Payload } from '../../shared/ipc/contract.ts';
import type { StoredVisit } from '../../shared/ipc/store-commands.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { watchesNow, type Stopwatches } from '../../shared/tuning/safety/stopwatches.ts';
import type { Visit } from '../../shared/tuning/visit/visit.ts';
import { problemLine } from '../../shared/words/problems.ts';
import type { VisitServiceParts } from './visit-parts.ts';

/** The store could not write; any other answer is about the change itself. */
const isFailure = ({ code }: Problem): boolean => code.startsWith('store-') || code.startsWith('disk-') || code === 'internal';

export type OpenVisits = ReturnType<typeof createOpenVisits>;

/** @param hear what else is done when a visit was written here, or is held no longer */
export function createOpenVisits(
  { clock, records, publish, raise, clear }: Pick<VisitServiceParts, 'clock' | 'records' | 'publish' | 'raise' | 'clear'>,
  hear: { readonly stored: (stored: StoredVisit) => void; readonly dropped: (id: string) => void },
) {
  const open = new Map<string, StoredVisit>();
  const watches = new Map<string, Stopwatches>();
  let frontId: string | undefined;

  const front = (): StoredVisit | undefined => (frontId === undefined ? undefined : open.get(frontId));
  const frontNow = (): Payload<'visit.front'> => {
    const stored = front();
    return stored === undefined ? {} : { stored };
  };
  const watchesOf = (id: string | undefined): Payload<'visit.watches'> => ({
    watches: watchesNow((id === undefined ? undefined : watches.get(id)) ?? {}, clock.nowMs()),
  });
  const bringForward = (id: string | undefined): void => {
    frontId = id;
    publish('visit.front', frontNow());
    publish('visit.watches', watchesOf(id));
  };

  const read = (id: string): Promise<Result<StoredVisit, Problem>> => records.use(({ visits }) => visits.get(id));
  const drop = (id: string): void => {
    open.delete(id);
    watches.delete(id);
    clear(`visit-${id}`);
    hear.dropped(id);
    if (frontId === id) bringForward(undefined);
  };
  /** Says what a try to write has come to. A failure is an alarm until a later try succeeds. */
  const tried = <T>(id: string, done: Result<T, Problem>): Result<T, Problem> => {
    if (done.ok) clear(`visit-${id}`);
    else if (isFailure(done.error)) raise(`visit-${id}`, problem('visit-not-saved', problemLine(done.error)));
    return done;
  };
  /** Writes what follows from the runs and is no person's edit. @param change gives the same visit when there is nothing to do */
  const save = async (id: string, change: (visit: Visit) => Visit): Promise<Result<StoredVisit, Problem>> => {
    const known = open.get(id);
    if (known !== undefined && change(known.visit) === known.visit) return ok(known);
    const done = await records.use(({ visits }) => {
      const changed = visits.change(id, clock.wallMs(), (visit) =>
        visit.signature === undefined ? ok(change(visit)) : err(problem('visit-signed')),
      );
      // told at once: whatever is saved next is told after it
      if (changed.ok) {
        publish('visit.changed', changed.value);
        publish('records.changed', { what: 'visits' });
        hear.stored(changed.value);
      }
      return changed;
    });
    if (!done.ok && !isFailure(done.error) && done.error.code !== 'value-out-of-range') return done;
    // a figure that the store does not take is a failure here: nobody else will try again
    if (!done.ok) raise(`visit-${id}`, problem('visit-not-saved', problemLine(done.error)));
    else clear(`visit-${id}`);
    return done;
  };

  return {
    open,
    watches,
    frontId: (): string | undefined => frontId,
    front,
    frontNow,
    watchesOf,
    bringForward,
    read,
    drop,
    tried,
    save,
  };
}
