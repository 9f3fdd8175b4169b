/** The bench service with a fake clock, runs that send what a test says, and records in memory that can be made to refuse. */
import type { BenchTest } from '../../../shared/bench/bench-test.ts';
import { BenchTest as BenchTestSchema } from '../../../shared/bench/bench-test.ts';
import type { BenchPlan } from '../../../shared/bench/plan.ts';
import type { Payload } from '../../../shared/ipc/contract.ts';
import type { LiveBatch } from '../../../shared/ipc/run-documents.ts';
import type { RunInfo } from '../../../shared/ipc/run-info.ts';
import type { Caller } from '../../../shared/ipc/contract.ts';
import { problem, type Problem } from '../../../shared/problem.ts';
import { err, ok, type Result } from '../../../shared/result.ts';
import { createBenchService, type BenchHandlers, type BenchService } from '../../../main/bench/bench-service.ts';
import type { StoreTables } from '../../../main/store/tables.ts';
import { createFakeClock, settle, type FakeClock } from '../../helpers/host/fake-clock.ts';
import { batchOf, infoOf } from '../../renderer/helpers/records.ts';
import { practiceTest } from '../../shared/bench/run-plan.ts';

export const twoGases: BenchPlan = {
  format: 1,
  name: 'two gases',
  steps: [
    { id: 's1', purpose: 'fresh-air', slot: 'air', holdS: 30 },
    { id: 's2', purpose: 'span', slot: 'high', holdS: 30 },
  ],
};
export const AIR = { o2: 20.9, co: 0 };
export const HIGH = { o2: 4, co: 1000 };

type Stored = { id: string; revision: number; changedMs: number; body: BenchTest };
export type MemoryStore = Map<string, Stored>;
const caller: Caller = { clientId: 'window-1', role: 'operator' };

export async function openBench({
  runIds = ['run-1'],
  store = new Map<string, Stored>(),
  plan = twoGases,
  clock = createFakeClock(0),
  start = true,
  kind = 'serial',
}: {
  runIds?: readonly string[];
  store?: MemoryStore;
  plan?: BenchPlan;
  clock?: FakeClock;
  start?: boolean;
  kind?: 'serial' | 'simulated';
} = {}) {
  const told: Payload<'bench.changed'>[] = [];
  const alarms = new Map<string, Problem>();
  const runs = new Map<string, { info: RunInfo; batches: LiveBatch[] }>();
  const marks: { runId: string; timeMs: number }[] = [];
  let refusal: Problem | undefined;
  /** what was captured before is answered when a test says so */
  let gate: Promise<void> = Promise.resolve();
  let [nowMs, nextId] = [0, 1];

  const known = new Map<string, unknown>();
  const knowledge = {
    get: (id: string): Result<unknown, Problem> => (known.has(id) ? ok({ body: known.get(id) }) : err(problem('not-found'))),
    save: (id: string, body: unknown): Result<unknown, Problem> => ok(known.set(id, body)),
  };
  const documents = {
    get: (id: string): Result<Stored, Problem> => {
      const found = store.get(id);
      return found === undefined ? err(problem('not-found')) : ok(structuredClone(found));
    },
    save(id: string, body: BenchTest, { revision }: { revision?: number }): Result<Stored, Problem> {
      if (refusal !== undefined) return err(refusal);
      const known = store.get(id);
      // what the store itself holds against every caller, and what any file would do to a figure that is none
      if (known?.body.signature !== undefined) return err(problem('bench-signed'));
      if (revision !== undefined && revision !== (known?.revision ?? 0)) return err(problem('changed-elsewhere'));
      const checked = BenchTestSchema.safeParse(JSON.parse(JSON.stringify(body)));
      if (!checked.success) return err(problem('request-invalid', checked.error.issues[0]?.message));
      const saved = { id, revision: (known?.revision ?? 0) + 1, changedMs: clock.wallMs(), body: checked.data };
      store.set(id, saved);
      return ok(structuredClone(saved));
    },
  };
  const infos = (): RunInfo[] => [...runs.values()].map(({ info }) => ({ ...info, timeMs: nowMs - info.startWallMs }));
  const service: BenchService = createBenchService({
    clock,
    windowClock: clock,
    newId: () => `test-${store.size + nextId++}`,
    runs: infos,
    runHandlers: {
      'run.history': async ({ runId, fromMs }) => {
        await gate;
        const samples = (runs.get(runId)?.batches ?? []).flatMap((batch) => batch.samples).filter(({ timeMs }) => timeMs >= fromMs);
        const of = (channel: 'o2' | 'co') => ({
          channel,
          timeMs: samples.map(({ timeMs }) => timeMs),
          low: samples.map(({ values }) => values[channel] ?? 0),
          high: samples.map(({ values }) => values[channel] ?? 0),
          breaks: [],
        });
        const gaps = (runs.get(runId)?.batches ?? []).flatMap((batch) => batch.gaps);
        return ok({ fromMs, toMs: nowMs, series: [of('o2'), of('co')], marks: [], readings: [], gaps, excluded: [], settled: [] });
      },
      'run.mark': ({ runId, body }) => {
        const timeMs = nowMs - (runs.get(runId)?.info.startWallMs ?? 0);
        marks.push({ runId, timeMs });
        return Promise.resolve(ok({ id: `m${marks.length}`, timeMs, body }));
      },
      'run.continue': ({ runId }) => Promise.resolve(err(problem('run-not-found', runId))),
      'simulator.part': () => Promise.resolve(ok({})),
    },
    records: {
      use: (work) => Promise.resolve(work({ documents: { 'bench-test': documents, knowledge } } as unknown as StoreTables) as never),
    },
    publish: (payload) => told.push(structuredClone(payload)),
    raise: (key, what) => alarms.set(key, what),
    clear: (key) => alarms.delete(key),
  });
  const { instrument, gases, room } = practiceTest(plan);

  const call = <K extends keyof BenchHandlers>(name: K, input: Parameters<BenchHandlers[K]>[0]): ReturnType<BenchHandlers[K]> =>
    (service.handlers[name] as (input: unknown, caller: Caller) => never)(input, caller);
  const connect = (runId: string, part: Partial<RunInfo> = {}): void =>
    void runs.set(runId, {
      info: infoOf({
        runId,
        ...(kind === 'simulated'
          ? { source: { kind: 'simulated', scenario: 'bench-healthy', title: 'x', seed: 1, shape: 'columns' } as RunInfo['source'] }
          : {}),
        ...part,
      }),
      batches: [],
    });
  const send = (runId: string, part: Partial<LiveBatch>): void => {
    const batch = batchOf({ runId, timeMs: nowMs, ...part });
    runs.get(runId)?.batches.push(batch);
    service.hear(batch);
  };
  const seats = () => runIds.map((runId) => ({ runId, instrumentId: runId, instrument: { ...instrument, name: `Instrument ${runId}` } }));
  const startInput = () => ({
    seats: seats(),
    plan,
    gases: gases.map((use) => ({
      ...use,
      gas: kind === 'simulated' ? use.gas : { ...use.gas, serial: `bottle ${use.slot}` },
    })),
    room: { ...room, place: 'yard' },
    limits: 'none' as const,
  });
  for (const runId of runIds) connect(runId);
  let testIds: readonly string[] = [];
  if (start) {
    const started = await call('bench.start', startInput());
    if (!started.ok) throw new Error(`${started.error.code} ${started.error.detail ?? ''}`);
    ({ testIds } = started.value);
  }
  return {
    service,
    clock,
    store,
    told,
    alarms,
    marks,
    call,
    connect,
    send,
    startInput,
    testIds,
    /** so many seconds of a gas, one line a second, at every named instrument */
    async read(seconds: number, values: { o2: number; co: number }, at: readonly string[] = runIds): Promise<void> {
      for (let i = 0; i < seconds; i++) {
        nowMs += 1000;
        for (const runId of at) {
          const timeMs = nowMs - (runs.get(runId)?.info.startWallMs ?? 0);
          send(runId, { samples: [{ timeMs, values: { o2: values.o2 + 0.01 * (i % 2), co: values.co + (i % 3) } }] });
        }
      }
      await settle();
    },
    press: (stepId: string, ids: readonly string[] = testIds) => call('bench.press', { testIds: [...ids], stepId }),
    /** holds back the answer about the past. @returns a function that lets it go */
    holdPast(): () => void {
      let open = (): void => undefined;
      gate = new Promise((resolve) => (open = resolve));
      return open;
    },
    refuse: (what: Problem | undefined): void => void (refusal = what),
    at: (ms: number): void => void (nowMs = ms),
    now: () => nowMs,
    stored: (id = testIds[0] ?? ''): BenchTest => store.get(id)!.body,
    state: async () => {
      const state = await call('bench.state', {});
      return state.ok ? state.value.sessions : [];
    },
    step: async (): Promise<number | undefined> => {
      const state = await call('bench.state', {});
      return state.ok ? state.value.sessions[0]?.stepIndex : undefined;
    },
  };
}
