/**
 * The visits in the host: which one is in front of the windows, what its runs bring into it, and what people do to it from any window.
 * A thin shell round the reducers of shared/tuning; without a window it goes on all the same.
 */
import { problem } from '../../shared/problem.ts';
import { numberedTrials } from '../../shared/tuning/visit/visit-session.ts';
import { isFinished } from '../../shared/tuning/visit/visit-marks.ts';
import { createOpenVisits } from './open-visits.ts';
import { factsOf, takeNews } from './run-state.ts';
import { createVisitHandlers } from './visit-handlers.ts';
import { byHost, type VisitService, type VisitServiceParts } from './visit-parts.ts';
import { AT_ONCE_MS, SOON_MS, createVisitRuns } from './visit-runs.ts';

export function createVisitService(parts: VisitServiceParts): VisitService {
  const { settings, records, runs, publish } = parts;
  const visits = createOpenVisits(parts, {
    stored: (stored) => service.stored(stored),
    dropped: (id) => {
      for (const state of states.values()) if (state.visitId === id) state.visitId = undefined;
    },
  });
  const { open, watches, frontNow, read, drop, tried } = visits;
  const visitRuns = createVisitRuns(parts, visits);
  const { states, plan, stateOf, tellAsked, tellFuel, setBurner } = visitRuns;

  const service: VisitService = {
    handlers: createVisitHandlers(parts, visits, visitRuns),
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
      // what was changed on the burner ends the trial that stood, and so does what was moved on it beside another run
      if (
        JSON.stringify(known.visit.settingFound) !== JSON.stringify(stored.visit.settingFound) ||
        JSON.stringify(known.visit.changes) !== JSON.stringify(stored.visit.changes) ||
        JSON.stringify(known.visit.runs) !== JSON.stringify(stored.visit.runs)
      )
        for (const { visitId, runId } of states.values()) if (visitId === id) plan(runId, AT_ONCE_MS);
      const { fuelId, co2MaxPercent } = stored.visit;
      if (known.visit.fuelId !== fuelId || known.visit.co2MaxPercent !== co2MaxPercent)
        for (const { visitId, runId } of states.values()) if (visitId === id) void tellFuel(runId, stored.visit);
      // practice may go into a training visit only
      if (known.visit.kind !== stored.visit.kind)
        for (const { visitId, runId } of states.values()) if (visitId === id) plan(runId, AT_ONCE_MS);
    },
    earlierCame: () => visitRuns.earlierCame(),
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
    close: () => visitRuns.close(),
  };
  return service;
}
