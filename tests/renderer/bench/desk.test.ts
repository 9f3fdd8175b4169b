/** The leader of a plan without a screen: batches in, closed steps and saved documents out. */
import { describe, expect, it } from 'vitest';
import type { BenchTest } from '../../../shared/bench/bench-test.ts';
import type { BenchPlan } from '../../../shared/bench/plan.ts';
import type { LiveBatch } from '../../../shared/ipc/run-commands.ts';
import { createBenchDesk } from '../../../renderer/views/bench/desk.ts';
import { createAppStore } from '../../../renderer/state/store.ts';
import { practiceTest } from '../../shared/bench/run-plan.ts';
import { batchOf, infoOf } from '../helpers/records.ts';

const plan: BenchPlan = {
  format: 1,
  name: 'two gases',
  steps: [
    { id: 's1', purpose: 'fresh-air', slot: 'air', holdS: 30 },
    { id: 's2', purpose: 'span', slot: 'high', holdS: 30 },
  ],
};
const testFor = (runId: string): BenchTest => ({ ...practiceTest(plan), startedWallMs: 0, instrumentId: runId, runId });

/** A host that keeps what it is sent, and one run per instrument. */
async function openDesk(...runIds: string[]) {
  const store = createAppStore();
  store.setState({ role: 'operator', wire: { phase: 'open' } } as never);
  const listeners: ((batch: LiveBatch) => void)[] = [];
  const saved: BenchTest[] = [];
  let [nowMs, nextId] = [0, 1];
  const client = {
    on: (name: string, run: (payload: never) => void) => {
      if (name === 'live.batch') listeners.push(run as never);
      return () => undefined;
    },
    call: (name: string) =>
      Promise.resolve(name === 'document.list' ? { ok: true, value: { documents: [], unreadable: 0 } } : { ok: false }),
  };
  const ask = (name: string, input: { body?: BenchTest; id?: string; runId?: string }) => {
    if (name === 'run.mark') return Promise.resolve({ id: 'm', timeMs: nowMs, body: { kind: 'note', text: '' } });
    if (name !== 'document.save') return Promise.resolve(undefined);
    saved.push(input.body as BenchTest);
    return Promise.resolve({ id: input.id ?? `test-${nextId++}`, revision: 1, changedMs: 0 });
  };
  const desk = createBenchDesk({ client, store, actions: { ask } } as never);
  for (const runId of runIds) store.getState().runChanged(infoOf({ runId }));
  await desk.start(runIds.map(testFor));
  const send = (part: Partial<LiveBatch>): void => {
    const batch = batchOf({ timeMs: nowMs, ...part });
    store.getState().batchesCame([batch]);
    listeners.forEach((listener) => listener(batch));
  };
  /** so many seconds of a gas, one sample a second, at every named instrument */
  const read = (seconds: number, values: { o2: number; co: number }, at: readonly string[] = runIds): void => {
    for (let i = 0; i < seconds; i++) {
      nowMs += 1000;
      for (const runId of at)
        send({ runId, samples: [{ timeMs: nowMs, values: { o2: values.o2 + 0.01 * (i % 2), co: values.co + (i % 3) } }] });
    }
  };
  const step = () => desk.store.getState().session?.stepIndex;
  const tests = () => desk.store.getState().lists['bench-test'].map(({ body }) => body);
  const phaseOf = (id: string) => desk.store.getState().session?.columns[id]?.phase;
  return { desk, store, read, send, step, tests, saved, phaseOf, now: () => nowMs };
}
const AIR = { o2: 20.9, co: 0 };
const HIGH = { o2: 4, co: 1000 };

describe('the leader of a plan', () => {
  it('goes on when the step is closed for every instrument, not before', async () => {
    const { desk, read, step, tests } = await openDesk('run-1', 'run-2');
    await desk.press();
    read(80, AIR, ['run-1']);
    expect(tests().map(({ rounds }) => rounds[0]!.steps.length)).toEqual([0, 1]);
    expect(step()).toBe(0);
    read(80, AIR, ['run-2']);
    expect(step()).toBe(1);
  });

  it('ends the test with its last step, and keeps every step on the disk', async () => {
    const { desk, read, step, tests, saved } = await openDesk('run-1');
    await desk.press();
    read(80, AIR);
    await desk.press();
    read(80, HIGH);
    expect(step()).toBe(2);
    expect(tests()[0]).toMatchObject({ status: 'done', endedWallMs: expect.any(Number) as number });
    await desk.flushed('test-1');
    expect(saved.at(-1)?.rounds[0]?.steps.map(({ end }) => end)).toEqual(['reached', 'reached']);
  });

  it('waits where it was while the instrument is unplugged, and takes no response time over the gap', async () => {
    const { desk, read, send, step, tests, now } = await openDesk('run-1');
    await desk.press();
    read(80, AIR);
    await desk.press();
    read(25, HIGH);
    send({ gaps: [{ fromMs: now(), reason: 'unplugged' }] });
    expect(step()).toBe(1);
    read(20, HIGH);
    // the rest is counted anew
    expect(step()).toBe(1);
    read(40, HIGH);
    expect(step()).toBe(2);
    const done = tests()[0]!.rounds[0]!.steps[1]!;
    expect(done.application?.channels.co?.plateau.mean).toBeCloseTo(1001, 0);
    expect(done.application?.channels.co?.response).toBeUndefined();
  });

  it('holds back at another gas; goes on without the step, with the reason kept', async () => {
    const { desk, read, step, tests } = await openDesk('run-1');
    await desk.press();
    read(80, AIR);
    await desk.press();
    read(120, { o2: 12, co: 300 });
    expect(step()).toBe(1);
    desk.notReached('test-1', 'bottle empty');
    expect(step()).toBe(2);
    expect(tests()[0]!.rounds[0]!.steps[1]).toMatchObject({ end: 'not-reached', why: 'bottle empty' });
    expect(tests()[0]!.rounds[0]!.steps[1]!.application).toBeUndefined();
  });

  it('starts once, however often the button is pressed', async () => {
    const { desk, tests } = await openDesk('run-1');
    const before = tests().length;
    await Promise.all([desk.start([testFor('run-1')]), desk.start([testFor('run-1')])]);
    expect(tests()).toHaveLength(before + 1);
  });

  it('a window that only looks on closes nothing', async () => {
    const { desk, store, read, step } = await openDesk('run-1');
    await desk.press();
    store.setState({ role: 'viewer' } as never);
    read(120, AIR);
    expect(step()).toBe(0);
  });

  it('a repeated step stands after the others and opens the test again', async () => {
    const { desk, read, step, tests } = await openDesk('run-1');
    await desk.press();
    read(80, AIR);
    desk.stopHere('noon');
    await desk.repeatStep(['test-1'], plan.steps[1]!);
    expect(tests()[0]).toMatchObject({ status: 'open' });
    expect(tests()[0]?.endedWallMs).toBeUndefined();
    expect(step()).toBe(2);
    expect(tests()[0]?.plan.steps.map(({ slot }) => slot)).toEqual(['air', 'high', 'high']);
  });

  it('changes nothing of what was signed', async () => {
    const { desk, read, tests } = await openDesk('run-1');
    await desk.press();
    read(80, AIR);
    desk.stopHere('noon');
    desk.changeTest('test-1', (test) => ({ ...test, signature: { name: 'B. Tester', wallMs: 1 } }));
    desk.changeTest('test-1', (test) => ({ ...test, adjustment: 'afterwards' }));
    await desk.asLeft('test-1', 'afterwards');
    expect(tests()[0]?.adjustment).toBeUndefined();
    expect(tests()[0]?.rounds).toHaveLength(1);
  });

  it('a drift goes on by the wall clock on another run; a hold begins anew', async () => {
    for (const [purpose, ends] of [
      ['drift', 2],
      ['noise', 1],
    ] as const) {
      const { desk, store, read, step } = await openDesk('run-1');
      desk.changeTest('test-1', (test) => ({
        ...test,
        plan: { ...test.plan, steps: [test.plan.steps[0]!, { id: 's2', purpose, slot: 'air', holdS: 3600 }] },
      }));
      await desk.press();
      read(80, AIR);
      expect(step()).toBe(1);
      // an hour later, after the program was started again
      store.getState().runChanged(infoOf({ runId: 'run-2', startWallMs: 3_600_000 }));
      await desk.rebind('test-1', 'run-2');
      read(60, AIR, ['run-2']);
      expect(step(), purpose).toBe(ends);
    }
  });
});

describe('a form in the middle of a set-up', () => {
  it('goes back to the set-up with what was saved chosen there', async () => {
    const { desk } = await openDesk();
    const days = { technician: 'B. Tester', today: '2026-11-24', dayOf: () => '2026-11-24' };
    desk.setUp(days);
    desk.setDraft((draft) => ({ ...draft, place: 'bench 2' }));
    desk.show({ kind: 'gas', id: undefined, wantedFor: { slot: 'high' } });
    desk.leaveForm('gas-7');
    expect(desk.store.getState().view.kind).toBe('set-up');
    expect(desk.store.getState().draft).toMatchObject({ person: 'B. Tester', place: 'bench 2', bottles: { high: 'gas-7' } });
    desk.show({ kind: 'instrument', id: undefined, wantedFor: { runId: 'run-1' } });
    desk.leaveForm();
    expect(desk.store.getState().draft?.which).toEqual({});
    desk.show({ kind: 'instrument', id: undefined });
    desk.leaveForm('i9');
    expect(desk.store.getState().view.kind).toBe('home');
    // a second visit finds it as it was left
    desk.setUp(days);
    expect(desk.store.getState().draft?.place).toBe('bench 2');
  });
});
