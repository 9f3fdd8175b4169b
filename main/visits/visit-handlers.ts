/** The commands of visits: what people do to a visit from any window. */
import { defined } from '../../shared/defined.ts';
import type { Payload } from '../../shared/ipc/contract.ts';
import type { StoredVisit } from '../../shared/ipc/store-commands.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok } from '../../shared/result.ts';
import { roomNotWritten } from '../../shared/tuning/advice/alarms.ts';
import { isTimeLost, pressWatch } from '../../shared/tuning/safety/stopwatches.ts';
import { phaseFigures, tracePoints } from '../../shared/tuning/safety/venting.ts';
import { hasRun } from '../../shared/tuning/visit/visit-session.ts';
import { isFinished } from '../../shared/tuning/visit/visit-marks.ts';
import type { Visit } from '../../shared/tuning/visit/visit.ts';
import { visitsTexts } from '../../shared/words/host.ts';
import type { OpenVisits } from './open-visits.ts';
import { answered } from './run-state.ts';
import type { VisitHandlers, VisitServiceParts } from './visit-parts.ts';
import type { VisitRuns } from './visit-runs.ts';

/** nobody begins two visits so soon after each other */
const BEGUN_TWICE_MS = 2000;
/** What follows from the runs: the host writes it, and nobody else. */
const ofTheHost: ReadonlySet<string | number> = new Set(['runs', 'trials', 'at']);

export function createVisitHandlers(
  {
    clock,
    settings,
    records,
    runs,
    publish,
    alarms,
  }: Pick<VisitServiceParts, 'clock' | 'settings' | 'records' | 'runs' | 'publish' | 'alarms'>,
  { open, watches, front: inFront, frontId, frontNow, watchesOf, bringForward, read, drop, tried, save }: OpenVisits,
  { states, adopt, syncRunsOf, tellAsked }: VisitRuns,
): VisitHandlers {
  /** Why this visit takes no change now; undefined while it does. */
  const refusal = ({ visit }: StoredVisit, reason: string | undefined): Problem | undefined => {
    if (visit.signature !== undefined) return reason === undefined ? problem('visit-signed') : undefined;
    return isFinished(visit) && reason === undefined ? problem('visit-finished') : undefined;
  };

  /** Pressed in two windows at once: the second is shown the visit of the first, so that no empty one is left behind. */
  const begunJustNow = (kind: Visit['kind'], runId: string | undefined): StoredVisit | undefined => {
    const front = inFront();
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

  return {
    'visit.now': () => {
      const all = [...states.values()];
      const told = <T>(text: string): T => JSON.parse(text === '' ? '[]' : text) as T;
      return Promise.resolve(
        ok({
          front: frontNow(),
          trials: all.map(({ runId, told: { trials } }) => ({ runId, trials: told<Payload<'visit.trials'>['trials']>(trials) })),
          asked: all.flatMap(({ runId, shift: { question } }) => (question === undefined ? [] : [{ runId, question }])),
          hints: all.map(({ runId, told: { hints } }) => ({ runId, hints: told<Payload<'visit.hints'>['hints']>(hints) })),
          watches: watchesOf(frontId()),
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
      const before = watches.get(id) ?? {};
      const press = { test, atMs: clock.nowMs(), wallMs: clock.wallMs(), run };
      const isLost = act !== 'reset' && isTimeLost(before[test], press);
      watches.set(id, pressWatch(before, { ...press, act: isLost ? 'reset' : act }));
      const now = watchesOf(id);
      if (id === frontId()) publish('visit.watches', now);
      return Promise.resolve(isLost ? err(problem('watch-time-lost')) : ok(now));
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
      // what was read last and is not in the visit would never come into it
      const missed = await syncRunsOf(input.id);
      if (missed !== undefined) return err(missed);
      const stored = await read(input.id);
      const ppm = stored.ok ? roomNotWritten(stored.value.visit, alarms()) : undefined;
      if (ppm !== undefined) return err(problem('room-co-now', `${ppm} ppm`));
      return tried(input.id, await records.handlers['visit.sign'](input, caller));
    },
    async 'visit.close'(input, caller) {
      const missed = await syncRunsOf(input.id);
      if (missed !== undefined) return err(missed);
      return tried(input.id, await records.handlers['visit.close'](input, caller));
    },
    async 'visit.remove'(input, caller) {
      const done = await records.handlers['visit.remove'](input, caller);
      if (done.ok) drop(input.id);
      return done;
    },
  };
}
