/** What was typed into a visit: shown at once, sent within a second, never dropped because a reply is late. */
import type { Client } from '../../shared/ipc/client.ts';
import type { StoredVisit } from '../../shared/ipc/store-commands.ts';
import type { Problem } from '../../shared/problem.ts';
import { editVisit, type Edit, type Visit } from '../../shared/tuning/visit.ts';
import type { AppStore } from '../state/store.ts';

type Json = NonNullable<Edit['after']>;
/** `after` is plain data; undefined takes the field away. */
export type VisitChange = { path: Edit['path']; after?: unknown };
type Plain = { path: Edit['path']; after?: Json };
type Queued = Plain & { quiet: boolean; key: string };

/** What travels has no undefined in it. */
const plain = ({ path, after }: VisitChange): Plain =>
  after === undefined ? { path } : { path, after: JSON.parse(JSON.stringify(after)) as Json };

/** Rest after the last letter, and the longest time that anything waits: less than the second that may be lost. */
const REST_MS = 350;
const LONGEST_MS = 700;
const AGAIN_MS = 2000;
const MOST_AT_ONCE = 50;

export type VisitEdits = {
  /** @returns the problem when the visit can not hold this; nothing was changed then */
  edit: (changes: readonly VisitChange[], options?: { quiet?: boolean }) => Problem | undefined;
  /** sends what waits, and resolves when the host has it or has refused it */
  flush: () => Promise<void>;
  /** what the host has now */
  stored: (stored: StoredVisit) => void;
  reset: (stored: StoredVisit | undefined) => void;
};

export function createVisitEdits(client: Client, store: AppStore, nowWallMs: () => number): VisitEdits {
  let base: Visit | undefined;
  let revision = 0;
  let queue: Queued[] = [];
  let sending: Queued[] = [];
  let flight: Promise<void> | undefined;
  let timer: ReturnType<typeof setTimeout> | undefined;
  let firstAt = 0;
  /** counts what was put in the place of the visit as a whole; an answer from before that is about another one */
  let round = 0;
  /** came from the host while an answer was on its way */
  let missed: StoredVisit | undefined;

  const applied = (visit: Visit, { path, after }: Plain): Visit => {
    const done = editVisit(visit, { wallMs: nowWallMs(), by: 'window', path, ...(after === undefined ? {} : { after }) });
    return done.ok ? { ...done.value, edits: visit.edits } : visit;
  };
  const show = (): void => {
    if (base !== undefined) store.getState().visitShown([...sending, ...queue].reduce(applied, base));
  };
  const accept = (stored: StoredVisit): void => {
    if (base === undefined || stored.visit.id !== base.id || stored.revision <= revision) return;
    base = stored.visit;
    revision = stored.revision;
    show();
  };
  const plan = (): void => {
    if (timer !== undefined) clearTimeout(timer);
    const wait = Math.max(0, Math.min(REST_MS, firstAt + LONGEST_MS - performance.now()));
    timer = setTimeout(() => void send(), wait);
  };

  async function sendOnce(): Promise<boolean> {
    const id = base?.id;
    const quiet = queue[0]?.quiet;
    if (id === undefined || quiet === undefined) return false;
    const end = queue.findIndex((change) => change.quiet !== quiet);
    sending = queue.splice(0, Math.min(MOST_AT_ONCE, end < 0 ? queue.length : end));
    store.getState().visitSavingChanged('on-its-way');
    const changes = sending.map(({ path, after }) => ({ path, ...(after === undefined ? {} : { after }) }));
    const mine = round;
    const answer = await client.call('visit.edit', { id, changes, ...(quiet ? { quiet } : {}) });
    if (base?.id !== id) return false;
    if (round !== mine) {
      if (answer.ok) accept(answer.value);
      return queue.length > 0;
    }
    if (answer.ok) {
      sending = [];
      base = answer.value.visit;
      revision = answer.value.revision;
      show();
      if (queue.length === 0) store.getState().visitSavingChanged('kept');
      return queue.length > 0;
    }
    const { code } = answer.error;
    const hopeless = code === 'value-out-of-range' || code === 'request-invalid' || code === 'visit-signed' || code === 'not-found';
    if (!hopeless) queue = [...sending, ...queue];
    sending = [];
    show();
    // what is refused for good is gone from the page as well, so that all that stands there is kept
    store.getState().visitSavingChanged(!hopeless ? 'refused' : queue.length > 0 ? 'on-its-way' : 'kept');
    // a signature may be faster than what follows from the run; nobody typed that, so nobody is told
    if (!(quiet && code === 'visit-signed')) store.getState().commandFailed(answer.error);
    if (!hopeless) timer = setTimeout(() => void send(), AGAIN_MS);
    return hopeless && queue.length > 0;
  }
  function send(): Promise<void> {
    if (timer !== undefined) clearTimeout(timer);
    timer = undefined;
    if (flight !== undefined) return flight.then(() => (queue.length > 0 && timer === undefined ? send() : undefined));
    flight = (async () => {
      while (await sendOnce());
    })().finally(() => {
      flight = undefined;
      if (missed !== undefined) accept(missed);
      missed = undefined;
    });
    return flight;
  }

  return {
    edit(wanted, { quiet = false } = {}) {
      const changes = wanted.map(plain);
      let next = store.getState().visit;
      if (next === undefined || base === undefined) return undefined;
      for (const { path, after } of changes) {
        const done = editVisit(next, { wallMs: nowWallMs(), by: 'window', path, ...(after === undefined ? {} : { after }) });
        if (!done.ok) return done.error;
        next = { ...done.value, edits: base.edits };
      }
      if (queue.length === 0) firstAt = performance.now();
      for (const change of changes) {
        const key = JSON.stringify(change.path);
        const at = queue.findIndex((one) => one.key === key && one.quiet === quiet);
        const queued = { ...change, quiet, key };
        if (at >= 0) queue[at] = queued;
        else queue.push(queued);
      }
      store.getState().visitShown(next);
      store.getState().visitSavingChanged('on-its-way');
      plan();
      return undefined;
    },
    flush: () => (queue.length === 0 && flight === undefined ? Promise.resolve() : send()),
    stored(stored) {
      if (flight === undefined) accept(stored);
      else if (missed === undefined || missed.visit.id !== stored.visit.id || missed.revision < stored.revision) missed = stored;
    },
    reset(stored) {
      base = stored?.visit;
      revision = stored?.revision ?? 0;
      queue = [];
      sending = [];
      round += 1;
      store.getState().visitShown(stored?.visit);
      store.getState().visitSavingChanged('kept');
    },
  };
}
