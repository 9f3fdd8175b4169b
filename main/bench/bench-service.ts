/**
 * Bench tests belong to the host: one session for each group of instruments that go through a plan together, fed by the lines of their runs.
 * A session goes on with any number of windows or none. No rule is here: steps and results are in shared/bench, saving is in test-store.ts.
 */
import { whyUnchangeable } from '../../shared/bench/session/kept-test.ts';
import { createPlanSession, groupsOf, type Heard, type PlanSession, type Seat } from '../../shared/bench/session/plan-session.ts';
import { moveFlaw, startFlaw, testsFor } from '../../shared/bench/session/start.ts';
import { closedTest, isEndedEarly, withAsLeft, withLimits, withRepeat } from '../../shared/bench/session/test-changes.ts';
import type { Clock } from '../../shared/clock.ts';
import type { BenchSession, benchCommands } from '../../shared/ipc/bench-commands.ts';
import type { Handlers, Payload } from '../../shared/ipc/contract.ts';
import type { LiveBatch } from '../../shared/ipc/run-documents.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { createBenchRuns, heardOf, sayExpired, sayOtherSource, notReady, startRunOf, type RunsParts } from './bench-runs.ts';
import { createTestStore, type TestStoreParts } from './test-store.ts';
import { defined } from '../../shared/defined.ts';
import { isoDay } from '../../shared/format/date.ts';

export type BenchHandlers = Pick<Handlers, keyof typeof benchCommands>;
export type BenchServiceParts = RunsParts &
  Pick<TestStoreParts, 'clock' | 'records' | 'raise' | 'clear'> & {
    readonly newId: () => string;
    readonly publish: (payload: Payload<'bench.changed'>) => void;
    /** the time of who looks on */
    readonly windowClock: Clock;
  };

export interface BenchService {
  readonly handlers: BenchHandlers;
  /** what every window is told of a run comes by here first */
  hear(batch: LiveBatch): void;
  /** a test that goes on reads this run: what it breathes comes from a bottle */
  uses(runId: string): boolean;
  /** records were replaced as a whole: a session whose tests are not in them any more ends */
  recordsChanged(): Promise<void>;
  /** everything that could be saved is saved */
  close(): Promise<void>;
}

const SHOW_EVERY_MS = 150;
const nothing = ok({});
type Done = Result<Record<string, never>, Problem>;

export function createBenchService(parts: BenchServiceParts): BenchService {
  const { clock, newId, publish, windowClock } = parts;
  const sessions = new Map<string, PlanSession>();
  /** tests whose session is being made: they stay at hand */
  const opening: string[] = [];
  /** lines that came while a session was being opened */
  const waiting = new Set<Heard[]>();
  let isStarting = false;
  let showsLater: (() => void) | undefined;

  const sessionOf = (testId: string): PlanSession | undefined => [...sessions.values()].find(({ testIds }) => testIds.includes(testId));
  const testStore = createTestStore({
    ...parts,
    tell: (ids) => tell(ids),
    isLed: (id) => opening.includes(id) || sessionOf(id) !== undefined,
    onBody: (id, body) => sessionOf(id)?.replace(id, body),
  });
  const runs = createBenchRuns(parts);

  const views = (): BenchSession[] =>
    [...sessions.values()].map((session) => ({
      testIds: [...session.testIds],
      stepIndex: session.stepIndex(),
      columns: session.columns().map(({ looksLike, way, absent, ...column }) => ({
        ...column,
        absent: [...absent],
        ...defined({
          looksLike,
          way:
            way === undefined ? undefined : { channel: way.channel, points: way.points.map(([t, value]): [number, number] => [t, value]) },
        }),
      })),
      unsaved: session.testIds.filter((id) => testStore.isUnsaved(id)),
    }));
  const tell = (ids: readonly string[] = []): void => {
    showsLater?.();
    showsLater = undefined;
    publish({ sessions: views(), tests: ids.flatMap((id) => testStore.shown(id) ?? []) });
  };
  const tellSoon = (): void => {
    showsLater ??= windowClock.after(SHOW_EVERY_MS, () => tell());
  };

  /** What a session changed goes to the disk, and then to the windows. */
  async function follow(session: PlanSession, ids: readonly string[]): Promise<Done> {
    const saved = await Promise.all(
      ids.map((id): Promise<Result<unknown, Problem>> => {
        const body = session.test(id);
        return body === undefined ? Promise.resolve(nothing) : testStore.put(id, body);
      }),
    );
    return firstFailure(saved);
  }

  /** Leads these tests on from where they are, each with those that have its plan; what was captured meanwhile is read first. */
  async function open(testIds: readonly string[]): Promise<Done> {
    const heard: Heard[] = [];
    waiting.add(heard);
    testIds.forEach((id) => opening.push(id));
    try {
      const pasts = new Map<string, Awaited<ReturnType<typeof runs.pastOf>>>();
      for (const id of testIds) {
        const test = await testStore.find(id);
        if (!test.ok) return test;
        // from here on every change is made to what is at hand
        testStore.hold(id, test.value);
        pasts.set(id, await runs.pastOf(test.value.body));
      }
      const seats: Seat[] = [];
      for (const id of testIds) {
        const [test, past] = [testStore.get(id), pasts.get(id)];
        if (test === undefined || past === undefined) return err(problem('not-found'));
        const why = whyUnchangeable(test) ?? (isEndedEarly(test.body) ? 'changed-elsewhere' : undefined);
        if (why !== undefined) return err(problem(why));
        seats.push({ id, test: test.body, ...past });
      }
      for (const group of groupsOf(seats)) await lead(group, heard);
      tell(testIds);
      return nothing;
    } finally {
      waiting.delete(heard);
      for (const id of testIds) opening.splice(opening.indexOf(id), 1);
      testIds.forEach((id) => testStore.release(id));
    }
  }
  async function lead(seats: readonly Seat[], heard: readonly Heard[]): Promise<void> {
    const testIds = seats.map(({ id }) => id);
    for (const [key, session] of sessions) {
      const shared = session.testIds.some((id) => testIds.includes(id));
      const rest = session.testIds.filter((id) => !testIds.includes(id));
      if (!shared && session.step() !== undefined) continue;
      sessions.delete(key);
      rest.forEach((id) => testStore.release(id));
      if (shared && session.step() !== undefined && rest.length > 0) await open(rest);
    }
    const session = createPlanSession(seats.map((seat) => ({ ...seat, test: testStore.get(seat.id)?.body ?? seat.test })));
    sessions.set(testIds.join(' '), session);
    for (const one of heard) await follow(session, session.hear(one));
  }

  async function press(session: PlanSession, id: string, stepId: string): Promise<Done> {
    const [test, step] = [session.test(id), session.step()];
    if (test === undefined || step === undefined || !session.pressCounts(id, stepId)) return nothing;
    const run = runs.running(test.runId);
    if (run === undefined) return nothing;
    const markedMs = await runs.mark(test, step);
    if (!markedMs.ok) return markedMs;
    const changed = session.step()?.id === stepId ? session.press(id, markedMs.value) : [];
    // the mark first: in quick time the answer takes its time
    if (run.source.kind === 'simulated') await runs.setGas(test, step.slot);
    return follow(session, changed);
  }

  const withSession = async (testId: string, work: (session: PlanSession) => Promise<Done>): Promise<Done> => {
    const session = sessionOf(testId);
    return session === undefined ? err(problem('bench-no-session')) : work(session);
  };

  const handlers: BenchHandlers = {
    'bench.state': () => Promise.resolve(ok({ sessions: views() })),
    async 'bench.start'({ seats, limits, ...agreed }) {
      const draft = {
        ...agreed,
        limits,
        seats: seats.flatMap(({ runId, ...seat }) => {
          const run = runs.running(runId);
          return run === undefined ? [] : [{ ...seat, run: startRunOf(run) }];
        }),
      };
      // the day where the instruments are
      const today = isoDay(clock.wallMs(), draft.seats[0]?.run.zoneMinutes);
      const flaw = draft.seats.length < seats.length ? ({ kind: 'instrument' } as const) : startFlaw(draft, today);
      if (flaw !== undefined) return err(notReady(flaw));
      // a second window, or a second click, while the first start is under way
      if (isStarting) return err(problem('changed-elsewhere'));
      isStarting = true;
      try {
        const testIds: string[] = [];
        for (const test of testsFor(draft, `b${Math.round(clock.wallMs()).toString(36)}`)) {
          const id = newId();
          const added = await testStore.add(id, test);
          if (!added.ok) return added;
          testIds.push(id);
        }
        const done = await open(testIds);
        return done.ok ? ok({ testIds }) : done;
      } finally {
        isStarting = false;
      }
    },
    async 'bench.resume'({ testIds: named }) {
      const testIds = unique(named);
      const session = sessionOf(testIds[0] ?? '');
      // led already: whoever asks looks on
      if (session?.step() !== undefined && testIds.every((id) => session.testIds.includes(id))) return nothing;
      for (const id of testIds) {
        const found = await testStore.find(id);
        if (!found.ok) return found;
        sayExpired(parts.raise, id, found.value.body, clock.wallMs());
        await runs.goOn(found.value.body);
      }
      return open(testIds);
    },
    'bench.press': ({ testIds, stepId }) =>
      withSession(testIds[0] ?? '', async (session) =>
        firstFailure(await Promise.all(unique(testIds).map((id) => press(session, id, stepId)))),
      ),
    'bench.skip': ({ testIds, stepId, how, why }) =>
      withSession(testIds[0] ?? '', async (session) => {
        if (session.step()?.id !== stepId) return nothing;
        return follow(session, how === 'rest' ? session.stop(why) : session.skip(testIds, how, why));
      }),
    'bench.accept': ({ testId, stepId }) =>
      withSession(testId, (session) => {
        if (session.step()?.id === stepId) session.accept(testId);
        tell();
        return Promise.resolve(nothing);
      }),
    'bench.move': ({ testId, runId }) =>
      withSession(testId, async (session) => {
        const [test, run] = [session.test(testId), runs.running(runId)];
        if (test === undefined || run === undefined) return err(problem('run-not-found'));
        const others = session.testIds.flatMap((id) => (id === testId ? [] : (session.test(id)?.runId ?? [])));
        const flaw = moveFlaw(test, startRunOf(run), others);
        if (flaw !== undefined) return err(notReady(flaw));
        sayOtherSource(parts.raise, testId, runs.known(test.runId), run);
        const { past } = await runs.pastOf({ ...test, runId });
        return follow(session, session.moveTo(testId, runId, run.startWallMs, past));
      }),
    async 'bench.adjust'({ testId, adjustment }) {
      const found = await testStore.find(testId);
      if (!found.ok) return found;
      const run = runs.known(found.value.body.runId);
      const nowWallMs = run === undefined ? clock.wallMs() : run.startWallMs + run.timeMs;
      const saved = await testStore.change(testId, (test) => withAsLeft(adjustment, nowWallMs - test.startedWallMs)(test));
      return saved.ok ? open([testId]) : saved;
    },
    async 'bench.repeat'({ testIds: named, stepId }) {
      const testIds = unique(named);
      for (const id of testIds) {
        const found = await testStore.find(id);
        if (!found.ok) return found;
        const step = found.value.body.plan.steps.find((one) => one.id === stepId);
        if (step === undefined) return err(problem('not-found'));
        const saved = await testStore.change(id, withRepeat(step));
        if (!saved.ok) return saved;
      }
      return open(testIds);
    },
    async 'bench.limits'({ testId, limits }) {
      const saved = await testStore.change(testId, withLimits(limits));
      return saved.ok ? nothing : saved;
    },
    async 'bench.close'({ testId }) {
      const saved = await testStore.change(testId, closedTest(clock.wallMs()));
      if (!saved.ok) return saved;
      await testStore.keepTimes(testId, saved.value);
      return nothing;
    },
    'bench.sign': ({ testId, name }) => testStore.sign(testId, name),
  };

  return {
    handlers,
    uses: (runId) => [...sessions.values()].some((session) => session.uses(runId)),
    hear(batch) {
      const heard = heardOf(batch);
      for (const one of waiting) one.push(heard);
      for (const session of sessions.values()) {
        if (!session.uses(heard.runId)) continue;
        const changed = session.hear(heard);
        if (changed.length > 0) void follow(session, changed);
        else tellSoon();
      }
    },
    async recordsChanged() {
      for (const [key, session] of [...sessions]) {
        const same = await Promise.all(session.testIds.map((id) => testStore.isSameOnDisk(id)));
        if (same.every((is) => is) || sessions.get(key) !== session) continue;
        sessions.delete(key);
        session.testIds.forEach((id) => testStore.drop(id));
      }
      tell();
    },
    async close() {
      showsLater?.();
      await testStore.close();
    },
  };
}

const unique = (ids: readonly string[]): string[] => [...new Set(ids)];
const firstFailure = (results: readonly Result<unknown, Problem>[]): Done => {
  const failed = results.find((one) => !one.ok);
  return failed?.ok === false ? failed : nothing;
};
