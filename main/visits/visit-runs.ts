/** What runs bring into visits: where each belongs, its trials, its fuel, the questions and hints that follow from it. */
import { defined } from '../../shared/defined.ts';
import type { Payload } from '../../shared/ipc/contract.ts';
import type { StoredVisit } from '../../shared/ipc/store-commands.ts';
import type { Problem } from '../../shared/problem.ts';
import { ok, type Result } from '../../shared/result.ts';
import { hintsOf } from '../../shared/tuning/advice/visit-hints.ts';
import { geometryLeft } from '../../shared/tuning/set-up/geometry-now.ts';
import { chosenByItself } from '../../shared/tuning/visit/by-itself.ts';
import { belongsTo, hasRun, numberedTrials, takeRun, takeTrials } from '../../shared/tuning/visit/visit-session.ts';
import { isFinished } from '../../shared/tuning/visit/visit-marks.ts';
import type { Visit } from '../../shared/tuning/visit/visit.ts';
import { createEarlierVisits } from './earlier-visits.ts';
import type { OpenVisits } from './open-visits.ts';
import { factsOf, startRunState, type RunState } from './run-state.ts';
import { byHost, type VisitServiceParts } from './visit-parts.ts';

/** What a person did is in the visit and in every window within this; what the instrument did within the other. */
export const AT_ONCE_MS = 40;
export const SOON_MS = 400;
const HINTS_MS = 5000;
const AGAIN_MS = 2000;
/** open visits in which a run is looked for that does not say where it belongs */
const MOST_OPEN = 40;

export type VisitRuns = ReturnType<typeof createVisitRuns>;

export function createVisitRuns(
  {
    clock,
    settings,
    records,
    runs,
    publish,
    windowClock,
  }: Pick<VisitServiceParts, 'clock' | 'settings' | 'records' | 'runs' | 'publish' | 'windowClock'>,
  { open, read, drop, save, bringForward, frontId }: OpenVisits,
) {
  const states = new Map<string, RunState>();
  const timers = new Map<string, { dueMs: number; cancel: () => void }>();
  let earlierOf = createEarlierVisits(records);
  let isClosed = false;

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
    if (frontId() === undefined) bringForward(stored.visit.id);
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
  /** Brings a run's trials into its visit, and tells the windows how they are counted. @returns why the visit does not have them */
  const sync = async (runId: string): Promise<Problem | undefined> => {
    timers.get(runId)?.cancel();
    timers.delete(runId);
    const state = stateOf(runId);
    const look = runs.look(runId);
    if (state === undefined || look === undefined) return undefined;
    let missed: Problem | undefined;
    const facts = factsOf(state, look, settings());
    if (state.visitId !== undefined) {
      const done = await save(state.visitId, (visit) => chosenByItself(takeTrials(takeRun(visit, facts, clock.wallMs()), facts)));
      if (!done.ok) {
        if (done.error.code === 'not-found') drop(state.visitId);
        else if (done.error.code !== 'visit-signed') {
          plan(runId, AGAIN_MS);
          missed = done.error;
        }
      }
    }
    setBurner(state);
    const trials = numberedTrials(facts, state.visitId === undefined ? undefined : open.get(state.visitId)?.visit);
    const text = JSON.stringify(trials);
    if (text === state.told.trials) return missed;
    state.told.trials = text;
    publish('visit.trials', { runId, trials });
    return missed;
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
  /** @returns why what was read is not all in the visit; undefined when it is */
  const syncRunsOf = async (id: string): Promise<Problem | undefined> => {
    let missed: Problem | undefined;
    for (const { visitId, runId } of states.values()) if (visitId === id) missed = (await sync(runId)) ?? missed;
    return missed;
  };
  return {
    states,
    plan,
    stateOf,
    adopt,
    syncRunsOf,
    tellAsked,
    tellFuel,
    setBurner,
    earlierCame(): void {
      earlierOf = createEarlierVisits(records);
    },
    async close(): Promise<void> {
      isClosed = true;
      stopHints();
      for (const runId of [...timers.keys()]) await sync(runId);
    },
  };
}
