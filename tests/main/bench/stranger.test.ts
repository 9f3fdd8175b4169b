/** Commands in an order that no screen sends: from two windows, late, twice, in the middle of others. */
import { SerialSettings } from '../../../shared/measurement/run.ts';
import { createFakeClock } from '../../helpers/host/fake-clock.ts';
import { describe, expect, it } from 'vitest';
import { exampleLimits } from '../../../shared/bench/limits.ts';
import { problem } from '../../../shared/problem.ts';
import { hashOfTest } from '../../../main/bench/signature.ts';
import { settle } from '../../helpers/host/fake-clock.ts';
import { AIR, HIGH, openBench, twoGases } from './bench-fixture.ts';

const limits = { ...exampleLimits[1]!, decisionRule: 'simple' as const };
const codeOf = async (answer: Promise<{ ok: boolean; error?: { code: string } }>): Promise<string> => (await answer).error?.code ?? 'ok';

describe('a test that is gone on with while it changes', () => {
  /** a test that nobody leads yet: the host was started again */
  async function started() {
    const before = await openBench();
    await before.press('s1');
    await before.read(20, AIR);
    const bench = await openBench({ store: before.store, start: false });
    bench.at(before.now());
    return { ...bench, testId: before.testIds[0]! };
  }

  it('keeps what was changed while the past was read, and is saved on', async () => {
    const bench = await started();
    const letGo = bench.holdPast();
    const resumed = codeOf(bench.call('bench.resume', { testIds: [bench.testId] }));
    await settle();
    expect(await codeOf(bench.call('bench.limits', { testId: bench.testId, limits }))).toBe('ok');
    await settle();
    letGo();
    expect(await resumed).toBe('ok');
    await bench.read(70, AIR);
    await bench.clock.advance(10_000);
    expect([...bench.alarms.values()].map(({ code, detail }) => `${code} ${detail}`)).toEqual([]);
    expect(bench.stored(bench.testId).limits).toEqual(limits);
    expect(bench.stored(bench.testId).rounds[0]!.steps.map(({ end }) => end)).toEqual(['reached']);
  });

  it('is not led any more when it was ended or signed meanwhile', async () => {
    const bench = await started();
    const letGo = bench.holdPast();
    const resumed = codeOf(bench.call('bench.resume', { testIds: [bench.testId] }));
    await settle();
    expect(await codeOf(bench.call('bench.close', { testId: bench.testId }))).toBe('ok');
    expect(await codeOf(bench.call('bench.sign', { testId: bench.testId, name: 'B. Tester' }))).toBe('ok');
    letGo();
    expect(await resumed).toBe('bench-signed');
    expect(await bench.state()).toEqual([]);
    const signed = bench.stored(bench.testId);
    await bench.read(90, AIR);
    expect(bench.stored(bench.testId)).toEqual(signed);
    expect(hashOfTest(signed)).toBe(signed.signature?.hash);
  });
});

describe('a test that was ended', () => {
  it('is measured no further, and the others of the plan go on without it', async () => {
    const bench = await openBench({ runIds: ['run-1', 'run-2'] });
    await bench.press('s1');
    await bench.read(80, AIR, ['run-1']);
    const [first, second] = bench.testIds as [string, string];
    // the other one has not reached the gas, and is taken out
    expect(await codeOf(bench.call('bench.close', { testId: second }))).toBe('ok');
    expect(await bench.step()).toBe(1);
    await bench.press('s2');
    await bench.read(90, HIGH);
    expect(bench.stored(first)).toMatchObject({ status: 'done' });
    expect(bench.stored(first).rounds[0]!.steps).toHaveLength(2);
    expect(bench.stored(second)).toMatchObject({ status: 'done' });
    expect(bench.stored(second).rounds[0]!.steps).toEqual([]);
  });

  it('is not gone on with', async () => {
    const bench = await openBench();
    const [testId] = bench.testIds as [string];
    await bench.call('bench.close', { testId });
    expect(await codeOf(bench.call('bench.resume', { testIds: [testId] }))).toBe('changed-elsewhere');
    await bench.press('s1');
    await bench.read(90, AIR);
    expect(bench.stored()).toMatchObject({ status: 'done', rounds: [{ steps: [] }] });
  });
});

describe('an adjustment in the middle of a plan', () => {
  it('begins the round as left at its first step, whatever is pressed or comes meanwhile', async () => {
    const bench = await openBench();
    await bench.press('s1');
    await bench.read(80, AIR);
    await bench.press('s2');
    // the second gas is nearly there when the adjustment is said, and another window leaves the step out
    await bench.read(10, HIGH);
    const [testId] = bench.testIds as [string];
    const letGo = bench.holdPast();
    const adjusted = codeOf(bench.call('bench.adjust', { testId, adjustment: 'span was set' }));
    await settle();
    await bench.read(60, HIGH);
    await bench.call('bench.skip', { testIds: [testId], stepId: 's2', how: 'left-out', why: 'a reason' });
    letGo();
    expect(await adjusted).toBe('ok');
    expect(bench.stored().rounds.map(({ kind, steps }) => [kind, steps.map(({ stepId }) => stepId)])).toEqual([
      ['as-found', ['s1']],
      ['as-left', []],
    ]);
    expect(await bench.step()).toBe(0);
  });

  it('takes nothing for as left that was read before it', async () => {
    const bench = await openBench();
    await bench.press('s1');
    await bench.read(25, AIR);
    await bench.call('bench.adjust', { testId: bench.testIds[0]!, adjustment: 'zero was set' });
    await bench.read(20, AIR);
    // the hold is 30 s, and begins with a press after the adjustment
    expect(bench.stored().rounds[1]!.steps).toEqual([]);
    expect(bench.stored().mark).toBeUndefined();
  });
});

describe('tests that do not belong together', () => {
  it('go on each in its own plan', async () => {
    const first = await openBench();
    const plan = { ...twoGases, steps: [twoGases.steps[1]!, twoGases.steps[0]!].map((step, at) => ({ ...step, id: `t${at}` })) };
    const second = await openBench({ runIds: ['run-2'], plan, store: first.store });
    const bench = await openBench({ runIds: ['run-1', 'run-2'], store: first.store, start: false });
    const testIds = [first.testIds[0]!, second.testIds[0]!];
    expect(await codeOf(bench.call('bench.resume', { testIds }))).toBe('ok');
    expect((await bench.state()).map((session) => session.testIds)).toEqual(testIds.map((id) => [id]));
    await bench.call('bench.skip', { testIds, stepId: 's1', how: 'rest', why: 'a reason' });
    expect(bench.stored(testIds[0]).rounds[0]!.steps.map(({ stepId }) => stepId)).toEqual(['s1', 's2']);
    expect(bench.stored(testIds[1]).rounds[0]!.steps).toEqual([]);
  });

  it('named twice are one', async () => {
    const bench = await openBench();
    const twice = [bench.testIds[0]!, bench.testIds[0]!];
    await bench.press('s1', twice);
    expect(bench.marks).toHaveLength(1);
    const after = await openBench({ store: bench.store, start: false });
    await after.call('bench.resume', { testIds: twice });
    expect((await after.state()).map(({ testIds, columns }) => [testIds.length, columns.length])).toEqual([[1, 1]]);
  });
});

describe('a test of a real instrument', () => {
  it('does not go on at a simulated burner, a replay, or the run of another test', async () => {
    const bench = await openBench({ runIds: ['run-1', 'run-2'] });
    const [testId] = bench.testIds as [string];
    bench.connect('simulated', { source: { kind: 'simulated', scenario: 'bench-healthy', title: 'x', seed: 1, shape: 'columns' } });
    bench.connect('replay', { source: { kind: 'replay', runId: 'old', watermark: 'simulated' } as never });
    bench.connect('unread', { channels: [] });
    for (const runId of ['simulated', 'replay', 'run-2', 'unread'])
      expect(await codeOf(bench.call('bench.move', { testId, runId })), runId).toBe('bench-not-ready');
    expect(bench.stored().runId).toBe('run-1');
    bench.connect('run-3');
    expect(await codeOf(bench.call('bench.move', { testId, runId: 'run-3' }))).toBe('ok');
    expect(bench.alarms.size).toBe(0);
  });
  it.each([
    ['another port', { path: 'COM9' }],
    ['another device at the same port', { device: { serialNumber: 'B' } }],
  ])('says so where it goes on at %s', async (_what, part) => {
    const bench = await openBench();
    const [testId] = bench.testIds as [string];
    bench.connect('run-2', { source: { kind: 'serial', path: 'COM4', label: 'USB', settings: SerialSettings.parse({}), ...part } });
    expect(await codeOf(bench.call('bench.move', { testId, runId: 'run-2' }))).toBe('ok');
    expect([...bench.alarms.values()].map(({ code }) => code)).toEqual(['bench-other-source']);
  });
  it('says so where a bottle has expired since it was started', async () => {
    const before = await openBench();
    const [testId] = before.testIds as [string];
    const { id, body, ...rest } = before.store.get(testId)!;
    const gases = body.gases.map((use) => ({ ...use, gas: { ...use.gas, expires: '1970-01-03' } }));
    before.store.set(id, { ...rest, id, body: { ...body, gases } });
    const days = async (count: number): Promise<string[]> => {
      const clock = createFakeClock(count * 86_400_000);
      const after = await openBench({ store: before.store, start: false, clock });
      await after.call('bench.resume', { testIds: [testId] });
      return [...after.alarms.values()].map(({ code }) => code);
    };
    expect(await days(1)).toEqual([]);
    expect(await days(9)).toEqual(['bench-gas-expired']);
  });
});

describe('a change that the records could never hold', () => {
  it('is refused and leaves the test as it was; what is measured next is saved', async () => {
    const bench = await openBench();
    const [testId] = bench.testIds as [string];
    const adjust = (adjustment: string) => codeOf(bench.call('bench.adjust', { testId, adjustment }));
    expect(await adjust('x'.repeat(500))).toBe('ok');
    expect(await adjust('x'.repeat(495))).toBe('ok');
    expect(await adjust('one more')).toBe('value-out-of-range');
    expect(bench.alarms.size).toBe(0);
    await bench.press('s1');
    await bench.read(80, AIR);
    expect(bench.stored().rounds.at(-1)!.steps).toHaveLength(1);
    bench.refuse(problem('disk-full'));
    expect(await adjust('one more')).toBe('value-out-of-range');
  });
});
