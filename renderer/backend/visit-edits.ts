/** What was typed into a visit: shown at once, sent within a second, never dropped because a reply is late. The host decides what it comes to. */
import type { Client } from '../../shared/ipc/client.ts';
import type { StoredVisit } from '../../shared/ipc/store-commands.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { APPEND, setAt, valueAt, withoutAppend, type Json } from '../../shared/tuning/visit/at-path.ts';
import { typedRefusal } from '../../shared/tuning/typed/typed-refusal.ts';
import { Visit, type Edit } from '../../shared/tuning/visit/visit.ts';
import { plainRefusal } from '../../shared/plain-refusal.ts';
import type { AppStore } from '../state/store.ts';
import { defined } from '../../shared/defined.ts';

/** `after` is plain data; undefined takes the field away. */
export type VisitChange = { path: Edit['path']; after?: unknown };
type Plain = { path: Edit['path']; after?: Json };
/** `sent`: the path as it travels; what is put behind the last one of a list stays that, whatever comes into the list meanwhile */
type Queued = Plain & { key: string; sent: Edit['path'] };

/** What travels has no undefined in it, and no figure that is not finite: it would arrive as nothing. */
const plain = ({ path, after }: VisitChange): Plain =>
  after === undefined ? { path } : { path, after: JSON.parse(JSON.stringify(after)) as Json };
const areFinite = (value: unknown): boolean =>
  typeof value === 'number' ? Number.isFinite(value) : typeof value !== 'object' || value === null || Object.values(value).every(areFinite);

/** The visit with the field as it was typed, until the host's answer is here. */
function echo(visit: Visit, { path, after }: Plain): Result<Visit, Problem> {
  const body = visit as unknown as Json;
  const next = setAt(body, path, after);
  if (next === undefined) return err(problem('not-found', path.join(' ')));
  const why = typedRefusal(body, path, after, next);
  if (why !== undefined) return err(problem('value-out-of-range', why));
  const checked = Visit.safeParse(next);
  return checked.success ? ok(checked.data) : err(problem('value-out-of-range', plainRefusal(checked.error)));
}
const sentPath = (visit: Visit, path: Edit['path']): Edit['path'] => {
  const list = valueAt(visit as unknown as Json, path.slice(0, -1));
  return Array.isArray(list) && path.at(-1) === list.length ? [...path.slice(0, -1), APPEND] : path;
};

/** How long nothing is typed before it is sent, and the longest time that anything waits: less than the second that may be lost. */
const REST_MS = 350;
const LONGEST_MS = 700;
const AGAIN_MS = 2000;
const MOST_AT_ONCE = 50;

export type VisitEdits = {
  /** @returns the problem when the visit cannot hold this; nothing was changed then */
  edit: (changes: readonly VisitChange[]) => Problem | undefined;
  /** sends what waits, and resolves when the host has it or has refused it: whether all of it is kept */
  flush: () => Promise<boolean>;
  /** what the host has now; @param anew also when it is older than what was here: the records were exchanged */
  stored: (stored: StoredVisit, anew?: boolean) => void;
  reset: (stored: StoredVisit | undefined) => void;
};

/** Sent again it would be refused again. */
const final: ReadonlySet<Problem['code']> = new Set([
  'value-out-of-range',
  'request-invalid',
  'visit-signed',
  'visit-finished',
  'not-found',
  'not-allowed',
]);

export function createVisitEdits(client: Client, store: AppStore): VisitEdits {
  let base: Visit | undefined;
  let revision = 0;
  let queue: Queued[] = [];
  let sending: Queued[] = [];
  let flight: Promise<void> | undefined;
  let timer: ReturnType<typeof setTimeout> | undefined;
  let firstAt = 0;
  let refusals = 0;
  /** counts what was put in the place of the visit as a whole; an answer from before that is about another one */
  let round = 0;
  /** came from the host while an answer was on its way */
  let missed: StoredVisit | undefined;

  /** A change over what the host has now: the end of a list may be another place meanwhile. */
  const applied = (visit: Visit, { sent, after }: Queued): Visit => {
    const echoed = echo(visit, { path: withoutAppend(visit as unknown as Json, sent), ...defined({ after }) });
    return echoed.ok ? echoed.value : visit;
  };
  const show = (): void => {
    if (base !== undefined) store.getState().visitShown([...sending, ...queue].reduce(applied, base));
  };
  const accept = (stored: StoredVisit): void => {
    if (base === undefined || stored.visit.id !== base.id || stored.revision <= revision) return;
    base = stored.visit;
    revision = stored.revision;
    store.getState().certificateCame(stored.certificateUntil);
    show();
  };
  const plan = (): void => {
    if (timer !== undefined) clearTimeout(timer);
    const wait = Math.max(0, Math.min(REST_MS, firstAt + LONGEST_MS - performance.now()));
    timer = setTimeout(() => void send(), wait);
  };

  async function sendOnce(): Promise<boolean> {
    const id = base?.id;
    if (id === undefined || queue.length === 0) return false;
    sending = queue.splice(0, MOST_AT_ONCE);
    store.getState().visitSavingChanged('on-its-way');
    const changes = sending.map(({ sent, after }) => ({ path: sent, ...defined({ after }) }));
    const mine = round;
    const answer = await client.call('visit.edit', { id, changes });
    if (base?.id !== id) {
      // another visit is in front by now; whoever typed this learns of it all the same
      if (!answer.ok) store.getState().commandFailed(answer.error);
      return false;
    }
    if (round !== mine) {
      if (answer.ok) accept(answer.value);
      return queue.length > 0;
    }
    if (answer.ok) {
      sending = [];
      base = answer.value.visit;
      revision = answer.value.revision;
      store.getState().certificateCame(answer.value.certificateUntil);
      show();
      if (queue.length === 0) store.getState().visitSavingChanged('kept');
      return queue.length > 0;
    }
    const hopeless = final.has(answer.error.code);
    if (hopeless) refusals += 1;
    if (!hopeless) queue = [...sending, ...queue];
    sending = [];
    show();
    // what is refused for good is gone from the page as well, so that all that stands there is kept
    store.getState().visitSavingChanged(!hopeless ? 'refused' : queue.length > 0 ? 'on-its-way' : 'kept');
    store.getState().commandFailed(answer.error);
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
    edit(wanted) {
      let next = store.getState().visit;
      if (next === undefined || base === undefined) return undefined;
      if (!areFinite(wanted)) return problem('value-out-of-range');
      const changes: Queued[] = [];
      for (const change of wanted.map(plain)) {
        const echoed = echo(next, change);
        if (!echoed.ok) return echoed.error;
        changes.push({ ...change, key: JSON.stringify(change.path), sent: sentPath(next, change.path) });
        next = echoed.value;
      }
      if (queue.length === 0) firstAt = performance.now();
      for (const change of changes) {
        const at = queue.findIndex(({ key }) => key === change.key);
        const sent = queue[at]?.sent ?? change.sent;
        // what was typed further goes where the first letter went; what never went there need not be taken away
        if (at < 0) queue.push(change);
        else if (change.after === undefined && sent.at(-1) === APPEND) queue.splice(at, 1);
        else queue[at] = { ...change, sent };
      }
      store.getState().visitShown(next);
      store.getState().visitSavingChanged('on-its-way');
      plan();
      return undefined;
    },
    async flush() {
      const before = refusals;
      if (queue.length > 0 || flight !== undefined) await send();
      return queue.length === 0 && refusals === before;
    },
    stored(stored, anew = false) {
      if (anew) revision = stored.revision - 1;
      if (flight === undefined) accept(stored);
      else if (missed === undefined || missed.visit.id !== stored.visit.id || missed.revision < stored.revision) missed = stored;
    },
    reset(stored) {
      base = stored?.visit;
      revision = stored?.revision ?? 0;
      queue = [];
      sending = [];
      round += 1;
      store.getState().certificateCame(stored?.certificateUntil);
      store.getState().visitShown(stored?.visit);
      store.getState().visitSavingChanged('kept');
    },
  };
}
