/**
 * Bench tests belong to the host: one session for each group of instruments that go through a plan together, fed by the lines of their runs.
 * A session goes on with any number of windows or none. A thin shell: what a step gives is shared/bench's business, where it is saved the store's.
 */
import { type BenchTest, nextStepIndex } from '../../shared/bench/bench-test.ts';
import { samplesOf } from '../../shared/bench/history-samples.ts';
import { benchChannels } from '../../shared/bench/instrument.ts';
import { createPlanSession, pastFromMs, type Heard, type Past, type PlanSession } from '../../shared/bench/plan-session.ts';
import { inletFor } from '../../shared/bench/practice.ts';
import { gasOf } from '../../shared/bench/references.ts';
import { startFlaw, testsFor, type StartRun } from '../../shared/bench/start.ts';
import { closedTest, withAsLeft, withLimits, withRepeat } from '../../shared/bench/test-changes.ts';
import type { Clock } from '../../shared/clock.ts';
import type { BenchSession, StoredBenchTest, benchCommands } from '../../shared/ipc/bench-commands.ts';
import type { Caller, Handlers, Payload } from '../../shared/ipc/contract.ts';
import type { LiveBatch } from '../../shared/ipc/run-commands.ts';
import type { RunInfo } from '../../shared/ipc/run-info.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { bench as words } from '../../shared/words/bench.ts';
import { startFlawText } from '../../shared/words/bench-start.ts';
import type { Records } from '../store/records.ts';
import { keepResponse } from '../visits/known-appliance.ts';
import { hashOfTest, isAltered } from './signature.ts';
import type { RunHandlers } from '../runs/open-runs.ts';

export type BenchHandlers = Pick<Handlers, keyof typeof benchCommands>;
export type BenchServiceParts = {
  readonly clock: Clock;
  readonly newId: () => string;
  readonly runs: () => readonly RunInfo[];
  readonly runHandlers: Pick<RunHandlers, 'run.history' | 'run.mark' | 'run.continue' | 'simulator.part'>;
  readonly records: Pick<Records, 'use'>;
  readonly publish: (payload: Payload<'bench.changed'>) => void;
  /** an alarm that stays until `clear` */
  readonly raise: (key: string, what: Problem) => void;
  readonly clear: (key: string) => void;
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
const TRY_AGAIN_MS = 2000;
const HISTORY_BUCKETS = 4000;
const byHost: Caller = { clientId: 'host', role: 'operator' };
const nothing = ok({});
const alarmOf = (id: string): string => `bench:${id}`;

type Doc = { revision: number; changedMs: number; body: BenchTest };

export function createBenchService(parts: BenchServiceParts): BenchService {
  const { clock, newId, runs, runHandlers, records, publish, raise, clear, windowClock } = parts;
  const sessions = new Map<string, PlanSession>();
  /** the tests of the sessions, and those whose save is under way */
  const docs = new Map<string, Doc>();
  const saves = new Map<string, Promise<Result<Doc, Problem>>>();
  const unsaved = new Set<string>();
  const turns = new Map<string, Promise<void>>();
  /** lines that came while a session was being opened */
  const waiting = new Set<Heard[]>();
  let isStarting = false;
  let showsLater: (() => void) | undefined;
  let triesAgain: (() => void) | undefined;

  const runOf = (runId: string): RunInfo | undefined => runs().find((run) => run.runId === runId);
  const sessionOf = (testId: string): PlanSession | undefined => [...sessions.values()].find(({ testIds }) => testIds.includes(testId));

  const storedOf = (id: string, { revision, changedMs, body }: Doc): StoredBenchTest => ({
    id,
    revision,
    changedMs,
    body,
    ...(isAltered(body) ? { altered: true } : {}),
  });
  const views = (): BenchSession[] =>
    [...sessions.values()].map((session) => ({
      testIds: [...session.testIds],
      stepIndex: session.stepIndex(),
      columns: session.columns().map(({ looksLike, way, absent, ...column }) => ({
        ...column,
        absent: [...absent],
        ...(looksLike === undefined ? {} : { looksLike }),
        ...(way === undefined
          ? {}
          : { way: { channel: way.channel, points: way.points.map(([t, value]): [number, number] => [t, value]) } }),
      })),
      unsaved: session.testIds.filter((id) => unsaved.has(id)),
    }));
  const tell = (ids: readonly string[] = []): void => {
    showsLater?.();
    showsLater = undefined;
    publish({
      sessions: views(),
      tests: ids.flatMap((id) => {
        const doc = docs.get(id);
        return doc === undefined ? [] : [storedOf(id, doc)];
      }),
    });
  };
  const tellSoon = (): void => {
    showsLater ??= windowClock.after(SHOW_EVERY_MS, () => tell());
  };

  async function find(id: string): Promise<Result<Doc, Problem>> {
    const known = docs.get(id);
    if (known !== undefined) return ok(known);
    const found = await records.use((tables) => tables.documents['bench-test'].get(id));
    if (!found.ok) return found;
    const { revision, changedMs, body } = found.value;
    return ok({ revision, changedMs, body: body as BenchTest });
  }

  /** One save after the other for each test; what failed is said at once, and tried again until it is saved. */
  function save(id: string): Promise<Result<Doc, Problem>> {
    const next = (saves.get(id) ?? Promise.resolve()).then(async (): Promise<Result<Doc, Problem>> => {
      const doc = docs.get(id);
      if (doc === undefined) return err(problem('not-found'));
      const saved = await write(id, doc.body, doc.revision);
      if (saved.ok) {
        doc.revision = saved.value.revision;
        doc.changedMs = saved.value.changedMs;
        if (unsaved.delete(id)) clear(alarmOf(id));
      } else {
        unsaved.add(id);
        raise(alarmOf(id), problem('bench-unsaved', `${doc.body.instrument.name}: ${saved.error.detail ?? saved.error.code}`));
        triesAgain ??= clock.every(TRY_AGAIN_MS, tryAgain);
      }
      tell([id]);
      return saved.ok ? ok(doc) : err(problem('bench-unsaved', saved.error.detail ?? saved.error.code));
    });
    saves.set(id, next);
    return next;
  }
  async function write(id: string, body: BenchTest, revision: number): Promise<Result<Doc, Problem>> {
    const saved = await records.use((tables) =>
      tables.documents['bench-test'].save(id, body, { wallMs: clock.wallMs(), parentId: body.instrumentId, revision }),
    );
    return saved.ok ? ok({ revision: saved.value.revision, changedMs: saved.value.changedMs, body: saved.value.body as BenchTest }) : saved;
  }
  function tryAgain(): void {
    if (unsaved.size === 0) {
      triesAgain?.();
      triesAgain = undefined;
    }
    for (const id of unsaved) void save(id);
  }

  /** What a session changed goes to the disk, and then to the windows. */
  function follow(session: PlanSession, ids: readonly string[]): Promise<Result<unknown, Problem>[]> {
    return Promise.all(
      ids.map((id) => {
        const [doc, body] = [docs.get(id), session.test(id)];
        if (doc === undefined || body === undefined) return Promise.resolve(ok(undefined));
        doc.body = body;
        return save(id);
      }),
    );
  }
  const firstFailure = (results: readonly Result<unknown, Problem>[]): Result<Record<string, never>, Problem> => {
    const failed = results.find((one) => !one.ok);
    return failed?.ok === false ? failed : nothing;
  };

  /** What the test says of how the instrument answers, for the runs of its visits. The test is saved whatever becomes of this. */
  const keepTimes = (testId: string, body: BenchTest): Promise<Result<unknown, Problem>> =>
    records.use((tables) => keepResponse(tables, testId, body, clock.wallMs()));

  /** One change of a test after the other: what was signed meanwhile is seen by the next one, and is not saved over. */
  function inTurn<T>(id: string, work: () => Promise<T>): Promise<T> {
    const next = (turns.get(id) ?? Promise.resolve()).then(work);
    const ended = next.then(
      () => undefined,
      () => undefined,
    );
    turns.set(id, ended);
    void ended.then(() => turns.get(id) === ended && turns.delete(id));
    return next;
  }

  /** A change of a test that no step makes: limits, a repeat, as left. */
  const change = (id: string, to: (test: BenchTest) => BenchTest): Promise<Result<Doc, Problem>> => inTurn(id, () => changeNow(id, to));
  async function changeNow(id: string, to: (test: BenchTest) => BenchTest): Promise<Result<Doc, Problem>> {
    const doc = await find(id);
    if (!doc.ok) return doc;
    if (doc.value.body.signature !== undefined) return err(problem('bench-signed'));
    doc.value.body = to(doc.value.body);
    docs.set(id, doc.value);
    sessionOf(id)?.replace(id, doc.value.body);
    const saved = await save(id);
    if (saved.ok && sessionOf(id) === undefined) docs.delete(id);
    return saved;
  }

  async function pastOf(test: BenchTest): Promise<{ startWallMs: number | undefined; past: Past }> {
    const run = runOf(test.runId);
    if (run === undefined || run.phase === 'ended')
      return { startWallMs: run?.startWallMs, past: { nowMs: run?.timeMs ?? 0, samples: [], gapsFromMs: [] } };
    const nowMs = run.timeMs;
    const history = await runHandlers['run.history'](
      { runId: test.runId, fromMs: pastFromMs(test, run.startWallMs, nowMs), toMs: Math.max(1, nowMs), buckets: HISTORY_BUCKETS },
      byHost,
    );
    const read = history.ok ? history.value : undefined;
    return {
      startWallMs: run.startWallMs,
      past: {
        nowMs,
        samples: read === undefined ? [] : samplesOf(read),
        gapsFromMs: read === undefined ? [] : read.gaps.map(({ fromMs }) => fromMs),
      },
    };
  }

  /** Leads these tests on from where they are; what was captured meanwhile is read first. */
  async function open(testIds: readonly string[]): Promise<Result<undefined, Problem>> {
    const heard: Heard[] = [];
    waiting.add(heard);
    try {
      const found: { id: string; doc: Doc }[] = [];
      for (const id of testIds) {
        const doc = await find(id);
        if (!doc.ok) return doc;
        if (doc.value.body.signature !== undefined) return err(problem('bench-signed'));
        found.push({ id, doc: doc.value });
      }
      const seats = [];
      for (const { id, doc } of found) seats.push({ id, test: doc.body, ...(await pastOf(doc.body)) });
      for (const [key, session] of sessions) {
        const shared = session.testIds.some((id) => testIds.includes(id));
        const rest = session.testIds.filter((id) => !testIds.includes(id));
        if (!shared && session.step() !== undefined) continue;
        sessions.delete(key);
        for (const id of session.testIds) if (!unsaved.has(id)) docs.delete(id);
        if (shared && session.step() !== undefined && rest.length > 0) await open(rest);
      }
      for (const { id, doc } of found) docs.set(id, doc);
      const session = createPlanSession(seats);
      sessions.set(testIds.join(' '), session);
      for (const one of heard) await follow(session, session.hear(one));
      tell(testIds);
      return ok(undefined);
    } finally {
      waiting.delete(heard);
    }
  }

  /** A run that was cut off by a crash goes on first; a simulated inlet is set to the gas that the plan has on. */
  async function continueRun(test: BenchTest): Promise<void> {
    const known = runOf(test.runId);
    if (known !== undefined) return;
    const info = await runHandlers['run.continue']({ runId: test.runId }, byHost);
    if (!info.ok || info.value.source.kind !== 'simulated') return;
    const index = nextStepIndex(test);
    const on = test.plan.steps[test.mark?.stepId === test.plan.steps[index]?.id ? index : index - 1]?.slot ?? 'air';
    await setInlet(test, on);
  }
  async function setInlet(test: BenchTest, slot: BenchTest['plan']['steps'][number]['slot']): Promise<void> {
    const gas = slot === 'air' ? ('air' as const) : gasOf(test.gases, slot);
    const inlet = gas === undefined ? undefined : inletFor(gas);
    if (inlet !== undefined) await runHandlers['simulator.part']({ runId: test.runId, part: 'inlet', value: inlet }, byHost);
  }

  async function press(session: PlanSession, id: string, stepId: string): Promise<Result<unknown, Problem>> {
    const test = session.test(id);
    const step = session.step();
    if (test === undefined || step === undefined || !session.pressCounts(id, stepId)) return nothing;
    const run = runOf(test.runId);
    if (run === undefined || run.phase === 'ended') return nothing;
    const name = step.slot === 'air' ? words.slots.air : (gasOf(test.gases, step.slot)?.name ?? words.slots[step.slot]);
    const mark = await runHandlers['run.mark'](
      { runId: test.runId, body: { kind: 'note', text: `${words.run.pressed}: ${name}` } },
      byHost,
    );
    if (!mark.ok) return mark;
    const changed = session.step()?.id === stepId ? session.press(id, mark.value.timeMs) : [];
    // the mark first: in quick time the answer takes its time
    if (run.source.kind === 'simulated') await setInlet(test, step.slot);
    return firstFailure(await follow(session, changed));
  }

  async function sign(testId: string, name: string): Promise<Result<StoredBenchTest, Problem>> {
    if (unsaved.has(testId)) await save(testId);
    else await saves.get(testId);
    if (unsaved.has(testId)) return err(problem('bench-unsaved'));
    const doc = await find(testId);
    if (!doc.ok) return doc;
    const { body, revision } = doc.value;
    if (body.signature !== undefined) return err(problem('bench-signed'));
    if (body.watermark !== undefined) return err(problem('bench-not-signable'));
    if (body.status === 'open' && nextStepIndex(body) < body.plan.steps.length) return err(problem('bench-open'));
    const done = closedTest(clock.wallMs())(body);
    // signed is what the disk holds; until it does, the test stays as it is
    const saved = await write(
      testId,
      { ...done, signature: { name, wallMs: Math.round(clock.wallMs()), hash: hashOfTest(done) } },
      revision,
    );
    if (!saved.ok) return saved;
    docs.set(testId, saved.value);
    sessionOf(testId)?.replace(testId, saved.value.body);
    tell([testId]);
    await keepTimes(testId, saved.value.body);
    const stored = storedOf(testId, saved.value);
    if (sessionOf(testId) === undefined) docs.delete(testId);
    return ok(stored);
  }

  const withSession = async (
    testId: string,
    work: (session: PlanSession) => Promise<Result<Record<string, never>, Problem>>,
  ): Promise<Result<Record<string, never>, Problem>> => {
    const session = sessionOf(testId);
    return session === undefined ? err(problem('bench-no-session')) : work(session);
  };
  const opened = async (testIds: readonly string[]): Promise<Result<Record<string, never>, Problem>> => {
    const done = await open(testIds);
    return done.ok ? nothing : done;
  };

  const handlers: BenchHandlers = {
    'bench.state': () => Promise.resolve(ok({ sessions: views() })),
    async 'bench.start'({ seats, limits, ...agreed }) {
      const draft = {
        ...agreed,
        limits,
        seats: seats.flatMap(({ runId, ...seat }) => {
          const run = runOf(runId);
          return run === undefined || run.phase === 'ended' ? [] : [{ ...seat, run: startRunOf(run) }];
        }),
      };
      const today = new Date(clock.wallMs()).toISOString().slice(0, 10);
      const flaw = draft.seats.length < seats.length ? ({ kind: 'instrument' } as const) : startFlaw(draft, today);
      if (flaw !== undefined)
        return err(
          problem(
            'bench-not-ready',
            startFlawText(flaw, (runId) => runId),
          ),
        );
      // a second window, or a second click, while the first start is under way
      if (isStarting) return err(problem('changed-elsewhere'));
      isStarting = true;
      try {
        const testIds: string[] = [];
        for (const test of testsFor(draft, `b${Math.round(clock.wallMs()).toString(36)}`)) {
          const id = newId();
          const saved = await write(id, test, 0);
          if (!saved.ok) return saved;
          docs.set(id, saved.value);
          testIds.push(id);
        }
        const done = await open(testIds);
        return done.ok ? ok({ testIds }) : done;
      } finally {
        isStarting = false;
      }
    },
    async 'bench.resume'({ testIds }) {
      const session = sessionOf(testIds[0] ?? '');
      // led already: whoever asks looks on
      if (session?.step() !== undefined && testIds.every((id) => session.testIds.includes(id))) return nothing;
      for (const id of testIds) {
        const doc = await find(id);
        if (!doc.ok) return doc;
        await continueRun(doc.value.body);
      }
      return opened(testIds);
    },
    'bench.press': ({ testIds, stepId }) =>
      withSession(testIds[0] ?? '', async (session) => firstFailure(await Promise.all(testIds.map((id) => press(session, id, stepId))))),
    'bench.skip': ({ testIds, stepId, how, why }) =>
      withSession(testIds[0] ?? '', async (session) => {
        if (session.step()?.id !== stepId) return nothing;
        return firstFailure(await follow(session, how === 'rest' ? session.stop(why) : session.skip(testIds, how, why)));
      }),
    'bench.accept': ({ testId, stepId }) =>
      withSession(testId, (session) => {
        if (session.step()?.id === stepId) session.accept(testId);
        tell();
        return Promise.resolve(nothing);
      }),
    'bench.move': ({ testId, runId }) =>
      withSession(testId, async (session) => {
        const [test, run] = [session.test(testId), runOf(runId)];
        if (test === undefined || run === undefined || run.phase === 'ended') return err(problem('run-not-found'));
        const { past } = await pastOf({ ...test, runId });
        return firstFailure(await follow(session, session.moveTo(testId, runId, run.startWallMs, past)));
      }),
    async 'bench.adjust'({ testId, adjustment }) {
      const doc = await find(testId);
      if (!doc.ok) return doc;
      const run = runOf(doc.value.body.runId);
      const nowWallMs = run === undefined ? clock.wallMs() : run.startWallMs + run.timeMs;
      const saved = await change(testId, (test) => withAsLeft(adjustment, nowWallMs - test.startedWallMs)(test));
      return saved.ok ? opened([testId]) : saved;
    },
    async 'bench.repeat'({ testIds, stepId }) {
      for (const id of testIds) {
        const doc = await find(id);
        if (!doc.ok) return doc;
        const step = doc.value.body.plan.steps.find((one) => one.id === stepId);
        if (step === undefined) return err(problem('not-found'));
        const saved = await change(id, withRepeat(step));
        if (!saved.ok) return saved;
      }
      return opened(testIds);
    },
    async 'bench.limits'({ testId, limits }) {
      const saved = await change(testId, withLimits(limits));
      return saved.ok ? nothing : saved;
    },
    async 'bench.close'({ testId }) {
      const saved = await change(testId, closedTest(clock.wallMs()));
      if (!saved.ok) return saved;
      await keepTimes(testId, saved.value.body);
      return nothing;
    },
    'bench.sign': ({ testId, name }) => inTurn(testId, () => sign(testId, name)),
  };

  return {
    handlers,
    uses: (runId) => [...sessions.values()].some((session) => session.uses(runId)),
    hear({ runId, samples, gaps, restarted, droppedCount }) {
      const heard: Heard = {
        runId,
        samples,
        gapsFromMs: [
          ...gaps.map(({ fromMs }) => fromMs),
          // what did not fit into the batch was not seen here
          ...(droppedCount > 0 && samples[0] !== undefined ? [samples[0].timeMs - 0.5] : []),
        ],
        restarted: restarted === true,
      };
      for (const one of waiting) one.push(heard);
      for (const session of sessions.values()) {
        if (!session.uses(runId)) continue;
        const changed = session.hear(heard);
        if (changed.length > 0) void follow(session, changed);
        else tellSoon();
      }
    },
    async recordsChanged() {
      for (const [key, session] of [...sessions]) {
        const found = await Promise.all(session.testIds.map((id) => records.use((tables) => tables.documents['bench-test'].get(id))));
        const isSame = session.testIds.every((id, i) => {
          const stored = found[i];
          // a save of our own may be under way, so that ours is one ahead or behind
          return stored?.ok === true && Math.abs(stored.value.revision - (docs.get(id)?.revision ?? 0)) <= 1;
        });
        if (isSame || sessions.get(key) !== session) continue;
        sessions.delete(key);
        for (const id of session.testIds) {
          docs.delete(id);
          saves.delete(id);
          if (unsaved.delete(id)) clear(alarmOf(id));
        }
      }
      tell();
    },
    async close() {
      showsLater?.();
      triesAgain?.();
      await Promise.all(saves.values());
      await Promise.all([...unsaved].map(save));
    },
  };
}

const startRunOf = ({ runId, source, startWallMs, timeMs, zoneMinutes, channels }: RunInfo): StartRun => ({
  runId,
  kind: source.kind,
  startWallMs,
  timeMs,
  zoneMinutes,
  isRead: channels.some((channel) => (benchChannels as readonly string[]).includes(channel)),
});
