/**
 * The visits in the host: which one is in front of the windows, what its runs bring into it, and what people do to it from any window.
 * A thin shell round the reducers of shared/tuning; without a window it goes on all the same.
 */
import type { Clock } from '../../shared/clock.ts';
import type { Caller, Handlers, Payload } from '../../shared/ipc/contract.ts';
import type { Settings } from '../../shared/ipc/settings.ts';
import type { StoredVisit } from '../../shared/ipc/store-commands.ts';
import type { visitCommands, visitEvents } from '../../shared/ipc/visit-commands.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { geometryLeft } from '../../shared/tuning/set-up/geometry-now.ts';
import { chosenByItself } from '../../shared/tuning/visit/by-itself.ts';
import { pressWatch, watchesNow, type Stopwatches } from '../../shared/tuning/safety/stopwatches.ts';
import { hintsOf } from '../../shared/tuning/advice/visit-hints.ts';
import { belongsTo, hasRun, numberedTrials, takeRun, takeTrials } from '../../shared/tuning/visit/visit-session.ts';
import { phaseFigures, tracePoints } from '../../shared/tuning/safety/venting.ts';
import type { Visit } from '../../shared/tuning/visit/visit.ts';
import { isFinished } from '../../shared/tuning/visit/visit-marks.ts';
import type { RunNews } from '../runs/live/live-run-parts.ts';
import type { RunService } from '../runs/run-service.ts';
import type { Records, StoreEventName } from '../store/records.ts';
import { createEarlierVisits } from './earlier-visits.ts';
import { answered, factsOf, startRunState, takeNews, type RunState } from './run-state.ts';
import { problemLine } from '../../shared/words/problems.ts';
import { visitsTexts } from '../../shared/words/host.ts';
import { defined } from '../../shared/defined.ts';

type VisitEventName = keyof typeof visitEvents;
type Wrapped = 'visit.edit' | 'visit.sign' | 'visit.close' | 'visit.remove';
export type VisitHandlers = Pick<Handlers, keyof typeof visitCommands | Wrapped>;

export type VisitServiceParts = {
  readonly clock: Clock;
  readonly settings: () => Settings;
  readonly records: Pick<Records, 'use'> & { readonly handlers: Pick<Handlers, Wrapped | 'visit.create'> };
  readonly runs: Pick<RunService, 'runs' | 'look' | 'setGeometry'> & {
    readonly handlers: Pick<Handlers, 'run.mark' | 'run.editMark' | 'run.change'>;
  };
  readonly publish: <K extends VisitEventName | StoreEventName>(name: K, payload: Payload<K>) => void;
  /** an alarm that stays until it is cleared */
  readonly raise: (key: string, what: Problem) => void;
  readonly clear: (key: string) => void;
  /** the time of who looks on, so that nothing is done more often than it helps where `clock` goes faster */
  readonly windowClock: Clock;
};

export interface VisitService {
  readonly handlers: VisitHandlers;
  /** why a mark is not taken: it names a trial, and would come to another one */
  markRefusal(mark: { runId: string; timeMs?: number | undefined; trialId?: string | undefined }): Problem | undefined;
  told(runId: string, news: RunNews): void;
  /** a visit was written, by whomever */
  stored(stored: StoredVisit): void;
  /** earlier visits came from elsewhere */
  earlierCame(): void;
  /** the records were exchanged as a whole */
  recordsExchanged(): Promise<void>;
  settingsChanged(before: Settings): Promise<void>;
  /** writes what is still to be written */
  close(): Promise<void>;
}

/** What a person did is in the visit and in every window within this; what the instrument did within the other. */
const AT_ONCE_MS = 40;
const SOON_MS = 400;
const HINTS_MS = 5000;
const AGAIN_MS = 2000;
/** nobody begins two visits so soon after each other */
const BEGUN_TWICE_MS = 2000;
/** open visits in which a run is looked for that does not say where it belongs */
const MOST_OPEN = 40;

const byHost: Caller = { clientId: 'host', role: 'operator' };
/** What follows from the runs: the host writes it, and nobody else. */
const ofTheHost: ReadonlySet<string | number> = new Set(['runs', 'trials', 'at']);
/** The store could not write; any other answer is about the change itself. */
const isFailure = ({ code }: Problem): boolean => code.startsWith('store-') || code.startsWith('disk-') || code === 'internal';

export function createVisitService(parts: VisitServiceParts): VisitService {
  const { clock, settings, records, runs, publish, raise, clear, windowClock } = parts;
  const states = new Map<string, RunState>();
  /** visits that are in front or have a run under way, as the store has them */
  const open = new Map<string, StoredVisit>();
  const watches = new Map<string, Stopwatches>();
  let earlierOf = createEarlierVisits(records);
  const timers = new Map<string, { dueMs: number; cancel: () => void }>();
  let frontId: string | undefined;
  let isClosed = false;

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
    for (const state of states.values()) if (state.visitId === id) state.visitId = undefined;
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
        service.stored(changed.value);
      }
      return changed;
    });
    if (!done.ok && !isFailure(done.error) && done.error.code !== 'value-out-of-range') return done;
    // a figure that the store does not take is a failure here: nobody else will try again
    if (!done.ok) raise(`visit-${id}`, problem('visit-not-saved', problemLine(done.error)));
    else clear(`visit-${id}`);
    return done;
  };

  /** Where a run belongs that does not say so itself: it was taken into a visit after it had started. */
  const findVisitOf = (runId: string): Promise<Result<StoredVisit | undefined, Problem>> =>
    records.use(({ visits }) => {
      const list = visits.list({ limit: MOST_OPEN });
      if (!list.ok) return list;
      for (const { id, status } of list.value.visits) {
        const got = status === 'open' ? visits.get(id) : undefined;
        if (got?.ok === true && hasRun(got.value.visit, runId)) return ok(got.value);
      }
      return ok(undefined);
    });
  const place = async (state: RunState): Promise<void> => {
    const { visitId, runId } = state;
    const found = visitId === undefined ? await findVisitOf(runId) : (open.get(visitId) ?? (await read(visitId)));
    const stored = found !== undefined && 'ok' in found ? (found.ok ? found.value : undefined) : found;
    if (stored === undefined || isFinished(stored.visit)) return;
    state.visitId = stored.visit.id;
    if (!open.has(stored.visit.id)) open.set(stored.visit.id, stored);
    if (frontId === undefined) bringForward(stored.visit.id);
    await tellFuel(runId, stored.visit);
    plan(runId, AT_ONCE_MS);
  };
  const stateOf = (runId: string): RunState | undefined => {
    const known = states.get(runId);
    if (known !== undefined) return known;
    const look = runs.look(runId);
    if (look === undefined) return undefined;
    const state = startRunState(look);
    states.set(runId, state);
    void place(state);
    return state;
  };

  /** The simulated burner stands as the visit's gauge says. */
  const setBurner = (state: RunState): void => {
    const sheet = state.visitId === undefined ? undefined : open.get(state.visitId)?.visit.setUp;
    const left = sheet === undefined ? undefined : geometryLeft(sheet);
    const text = left === undefined ? '' : JSON.stringify(left);
    if (left === undefined || text === state.told.geometry) return;
    state.told.geometry = text;
    runs.setGeometry(state.runId, left);
  };
  /** Brings a run's trials into its visit, and tells the windows how they are counted. */
  const sync = async (runId: string): Promise<void> => {
    timers.get(runId)?.cancel();
    timers.delete(runId);
    const state = stateOf(runId);
    const look = runs.look(runId);
    if (state === undefined || look === undefined) return;
    const facts = factsOf(state, look, settings());
    if (state.visitId !== undefined) {
      const done = await save(state.visitId, (visit) => chosenByItself(takeTrials(takeRun(visit, facts), facts)));
      if (!done.ok) {
        if (done.error.code === 'not-found') drop(state.visitId);
        else if (done.error.code !== 'visit-signed') plan(runId, AGAIN_MS);
      }
    }
    setBurner(state);
    const trials = numberedTrials(facts, state.visitId === undefined ? undefined : open.get(state.visitId)?.visit);
    const text = JSON.stringify(trials);
    if (text === state.told.trials) return;
    state.told.trials = text;
    publish('visit.trials', { runId, trials });
  };
  function plan(runId: string, ms: number): void {
    if (isClosed) return;
    const dueMs = windowClock.nowMs() + ms;
    const known = timers.get(runId);
    if (known !== undefined && known.dueMs <= dueMs) return;
    known?.cancel();
    timers.set(runId, { dueMs, cancel: windowClock.after(ms, () => void sync(runId)) });
  }
  const tellAsked = (state: RunState): void => {
    const { question } = state.shift;
    if (question?.id === state.told.asked) return;
    state.told.asked = question?.id;
    publish('visit.asked', { runId: state.runId, ...defined({ question }) });
  };
  const tellHints = (state: RunState): void => {
    const look = runs.look(state.runId);
    if (look === undefined) return void states.delete(state.runId);
    if (look.info.phase === 'ended') return;
    const visit = state.visitId === undefined ? undefined : open.get(state.visitId)?.visit;
    const hints = hintsOf({
      samples: state.samples.all(),
      marks: look.marks,
      fuelId: look.info.fuelId,
      visit,
      earlier: earlierOf(visit),
    });
    const text = JSON.stringify(hints);
    if (text === state.told.hints) return;
    state.told.hints = text;
    publish('visit.hints', { runId: state.runId, hints: JSON.parse(text) as Payload<'visit.hints'>['hints'] });
  };
  const stopHints = windowClock.every(HINTS_MS, () => [...states.values()].forEach(tellHints));

  /** A run burns what its visit says: an entry of its file, so that reading it again gives the same figures. */
  async function tellFuel(runId: string, { fuelId, co2MaxPercent }: Visit): Promise<void> {
    const info = runs.look(runId)?.info;
    if (info === undefined || info.phase === 'ended' || fuelId === undefined) return;
    if (fuelId === info.fuelId && co2MaxPercent === info.co2MaxPercent) return;
    await runs.handlers['run.change']({ runId, fuelId, co2MaxPercent: co2MaxPercent ?? null }, byHost);
  }

  /** The run on screen goes into the visit that was just opened, when it may. */
  const adopt = async (id: string, runId: string | undefined): Promise<void> => {
    const state = runId === undefined ? undefined : stateOf(runId);
    const look = runId === undefined ? undefined : runs.look(runId);
    const visit = open.get(id)?.visit;
    if (state === undefined || look === undefined || visit === undefined) return;
    if (!belongsTo(visit, factsOf(state, look, settings()))) return;
    state.visitId = id;
    await sync(state.runId);
    await tellFuel(state.runId, visit);
  };
  const syncRunsOf = async (id: string): Promise<void> => {
    for (const { visitId, runId } of states.values()) if (visitId === id) await sync(runId);
  };
  /** Why this visit takes no change now; undefined while it does. */
  const refusal = ({ visit }: StoredVisit, reason: string | undefined): Problem | undefined => {
    if (visit.signature !== undefined) return reason === undefined ? problem('visit-signed') : undefined;
    return isFinished(visit) && reason === undefined ? problem('visit-finished') : undefined;
  };

  /** Pressed in two windows at once: the second is shown the visit of the first, so that no empty one is left behind. */
  const begunJustNow = (kind: Visit['kind'], runId: string | undefined): StoredVisit | undefined => {
    const front = frontId === undefined ? undefined : open.get(frontId);
    if (front === undefined || front.visit.kind !== kind || isFinished(front.visit) || front.visit.edits.length > 0) return undefined;
    const isSameRun = runId === undefined ? front.visit.runs.length === 0 : hasRun(front.visit, runId);
    return isSameRun && front.visit.trials.length === 0 && clock.wallMs() - front.visit.startedWallMs < BEGUN_TWICE_MS ? front : undefined;
  };
  let beginning: Promise<unknown> = Promise.resolve();
  const beginVisit: VisitHandlers['visit.begin'] = async ({ kind, runId, fuelId }, caller) => {
    const twice = begunJustNow(kind, runId);
    if (twice !== undefined) return ok(twice);
    const fuel = fuelId ?? (runId === undefined ? undefined : runs.look(runId)?.info.fuelId);
    const made = await records.handlers['visit.create']({ kind, ...defined({ fuelId: fuel }) }, caller);
    if (!made.ok) return made;
    const { id } = made.value.visit;
    open.set(id, made.value);
    const { tolerances } = settings();
    const saved = await save(id, (visit) => ({
      ...visit,
      job: 'service',
      tolerances,
      at: { step: 'start', stage: visit.stages[0]?.name ?? '1' },
    }));
    if (!saved.ok) return saved;
    await adopt(id, runId);
    bringForward(id);
    return ok(open.get(id) ?? saved.value);
  };

  const handlers: VisitHandlers = {
    'visit.now': () => {
      const all = [...states.values()];
      const told = <T>(text: string): T => JSON.parse(text === '' ? '[]' : text) as T;
      return Promise.resolve(
        ok({
          front: frontNow(),
          trials: all.map(({ runId, told: { trials } }) => ({ runId, trials: told<Payload<'visit.trials'>['trials']>(trials) })),
          asked: all.flatMap(({ runId, shift: { question } }) => (question === undefined ? [] : [{ runId, question }])),
          hints: all.map(({ runId, told: { hints } }) => ({ runId, hints: told<Payload<'visit.hints'>['hints']>(hints) })),
          watches: watchesOf(frontId),
        }),
      );
    },
    async 'visit.begin'(input, caller) {
      // one after the other, so that the second sees the first
      const begun = beginning.then(() => beginVisit(input, caller));
      beginning = begun.catch(() => undefined);
      return begun;
    },
    async 'visit.open'({ id, runId }) {
      const got = await read(id);
      if (!got.ok) return got;
      open.set(id, got.value);
      await adopt(id, runId);
      bringForward(id);
      return ok(open.get(id) ?? got.value);
    },
    'visit.leave'() {
      bringForward(undefined);
      return Promise.resolve(ok({}));
    },
    async 'visit.goTo'({ id, step, stage }) {
      const done = await save(id, (visit) =>
        isFinished(visit) || (visit.at?.step === step && visit.at.stage === stage) ? visit : { ...visit, at: { step, stage } },
      );
      return done.ok || done.error.code === 'visit-signed' ? ok({}) : done;
    },
    async 'visit.answerShift'({ runId, questionId, setting }, caller) {
      const state = states.get(runId);
      const question = state?.shift.question;
      if (state === undefined || question?.id !== questionId) return err(problem('question-gone'));
      if (setting !== undefined) {
        const body = { kind: 'adjustment', setting, inferred: true } as const;
        const marked = await runs.handlers['run.mark']({ runId, body, timeMs: Math.round(question.atMs) }, caller);
        if (!marked.ok) return marked;
      }
      answered(state);
      tellAsked(state);
      return ok({});
    },
    'visit.watch'({ id, test, act, runId }) {
      const stored = open.get(id);
      if (stored === undefined) return Promise.resolve(err(problem('not-found')));
      if (isFinished(stored.visit)) return Promise.resolve(err(problem('visit-finished')));
      const timeMs = runId === undefined ? undefined : runs.look(runId)?.info.timeMs;
      const run = runId === undefined || timeMs === undefined ? undefined : { runId, timeMs };
      watches.set(id, pressWatch(watches.get(id) ?? {}, { test, act, atMs: clock.nowMs(), run }));
      const now = watchesOf(id);
      if (id === frontId) publish('visit.watches', now);
      return Promise.resolve(ok(now));
    },
    'visit.ventTrace'({ runId, fromMs, onFromMs, toMs }) {
      const state = states.get(runId);
      const look = runs.look(runId);
      if (state === undefined || look === undefined) return Promise.resolve(err(problem('not-found')));
      const nowMs = Math.min(toMs ?? Infinity, look.info.timeMs);
      const samples = state.samples.all();
      return Promise.resolve(
        ok({
          nowMs,
          points: tracePoints(samples, fromMs, nowMs),
          off: phaseFigures(samples, fromMs, onFromMs ?? nowMs),
          ...defined({ on: onFromMs !== undefined ? phaseFigures(samples, onFromMs, nowMs) : undefined }),
        }),
      );
    },
    async 'visit.edit'(input, caller) {
      const wrong = input.changes.find(({ path: [top] }) => top !== undefined && ofTheHost.has(top));
      if (wrong !== undefined) return err(problem('request-invalid', visitsTexts.followsFromRuns(String(wrong.path[0]))));
      const known = open.get(input.id);
      const refused = known === undefined ? undefined : refusal(known, input.reason);
      if (refused !== undefined) return err(refused);
      return tried(input.id, await records.handlers['visit.edit'](input, caller));
    },
    async 'visit.sign'(input, caller) {
      await syncRunsOf(input.id);
      return tried(input.id, await records.handlers['visit.sign'](input, caller));
    },
    async 'visit.close'(input, caller) {
      await syncRunsOf(input.id);
      return tried(input.id, await records.handlers['visit.close'](input, caller));
    },
    async 'visit.remove'(input, caller) {
      const done = await records.handlers['visit.remove'](input, caller);
      if (done.ok) drop(input.id);
      return done;
    },
  };

  const service: VisitService = {
    handlers,
    markRefusal({ runId, timeMs, trialId }) {
      const state = states.get(runId);
      const look = runs.look(runId);
      if (trialId === undefined || state === undefined || look === undefined) return undefined;
      const visit = state.visitId === undefined ? undefined : open.get(state.visitId)?.visit;
      const trials = numberedTrials(factsOf(state, look, settings()), visit);
      const atMs = Math.min(timeMs ?? Infinity, look.info.timeMs);
      const lands = trials.findLast(({ fromMs }) => fromMs <= atMs) ?? trials[0];
      return lands?.id === trialId ? undefined : problem('trial-changed');
    },
    told(runId, news) {
      const state = stateOf(runId);
      if (state === undefined) return;
      const due = takeNews(state, news);
      tellAsked(state);
      if (due !== undefined) plan(runId, due === 'at-once' ? AT_ONCE_MS : SOON_MS);
    },
    stored(stored) {
      const { id } = stored.visit;
      const known = open.get(id);
      if (known === undefined || known.revision >= stored.revision) return;
      open.set(id, stored);
      if (isFinished(stored.visit)) watches.delete(id);
      else for (const state of states.values()) if (state.visitId === id) setBurner(state);
      // where the adjusters stood as found is the setting of what was read before it was typed
      // and what was changed on the burner ends the trial that stood
      if (
        JSON.stringify(known.visit.settingFound) !== JSON.stringify(stored.visit.settingFound) ||
        JSON.stringify(known.visit.changes) !== JSON.stringify(stored.visit.changes)
      )
        for (const { visitId, runId } of states.values()) if (visitId === id) plan(runId, AT_ONCE_MS);
      const { fuelId, co2MaxPercent } = stored.visit;
      if (known.visit.fuelId !== fuelId || known.visit.co2MaxPercent !== co2MaxPercent)
        for (const { visitId, runId } of states.values()) if (visitId === id) void tellFuel(runId, stored.visit);
      // practice may go into a training visit only
      if (known.visit.kind !== stored.visit.kind)
        for (const { visitId, runId } of states.values()) if (visitId === id) plan(runId, AT_ONCE_MS);
    },
    earlierCame() {
      earlierOf = createEarlierVisits(records);
    },
    async recordsExchanged() {
      for (const id of [...open.keys()]) {
        const got = await read(id);
        if (!got.ok) {
          if (got.error.code === 'not-found') drop(id);
          continue;
        }
        open.set(id, got.value);
      }
      publish('visit.front', frontNow());
    },
    async settingsChanged(before) {
      const { tolerances } = settings();
      if (JSON.stringify(before.tolerances) === JSON.stringify(tolerances)) return;
      for (const [id, { visit }] of open) {
        if (isFinished(visit)) continue;
        tried(id, await records.handlers['visit.edit']({ id, changes: [{ path: ['tolerances'], after: tolerances }] }, byHost));
      }
    },
    async close() {
      isClosed = true;
      stopHints();
      for (const runId of [...timers.keys()]) await sync(runId);
    },
  };
  return service;
}
