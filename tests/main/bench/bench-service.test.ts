/** The host leads a bench test: no window is in these tests at all. */
import { describe, expect, it } from 'vitest';
import type { BenchPlan } from '../../../shared/bench/plan.ts';
import { problem } from '../../../shared/problem.ts';
import { hashOfTest, isAltered } from '../../../main/bench/signature.ts';
import { settle } from '../../helpers/host/fake-clock.ts';
import { AIR, HIGH, openBench, twoGases } from './bench-fixture.ts';

const codeOf = async (answer: Promise<{ ok: boolean; error?: { code: string } }>): Promise<string> => (await answer).error?.code ?? 'ok';

describe('a plan led by the host', () => {
  it('goes on when the step is done for every instrument, not before', async () => {
    const bench = await openBench({ runIds: ['run-1', 'run-2'] });
    await bench.press('s1');
    await bench.read(80, AIR, ['run-1']);
    expect(bench.testIds.map((id) => bench.stored(id).rounds[0]!.steps.length)).toEqual([1, 0]);
    expect(await bench.step()).toBe(0);
    await bench.read(80, AIR, ['run-2']);
    expect(await bench.step()).toBe(1);
  });

  it('ends the test with its last step; every step is saved before a window hears of it', async () => {
    const bench = await openBench();
    await bench.press('s1');
    await bench.read(80, AIR);
    await bench.press('s2');
    await bench.read(80, HIGH);
    expect(bench.stored()).toMatchObject({ status: 'done', endedWallMs: expect.any(Number) as number });
    expect(bench.stored().rounds[0]!.steps.map(({ end }) => end)).toEqual(['reached', 'reached']);
    expect(bench.told.flatMap(({ tests }) => tests).at(-1)?.body).toEqual(bench.stored());
  });

  it('waits where it was while the instrument is unplugged, and takes no response time over the gap', async () => {
    const bench = await openBench();
    await bench.press('s1');
    await bench.read(80, AIR);
    await bench.press('s2');
    await bench.read(25, HIGH);
    bench.send('run-1', { gaps: [{ fromMs: bench.now(), reason: 'unplugged' }] });
    await bench.read(20, HIGH);
    // the rest is counted anew
    expect(await bench.step()).toBe(1);
    await bench.read(40, HIGH);
    expect(await bench.step()).toBe(2);
    const done = bench.stored().rounds[0]!.steps[1]!;
    expect(done.application?.channels.co?.plateau.mean).toBeCloseTo(1001, 0);
    expect(done.application?.channels.co?.response).toBeUndefined();
    expect(done.linesMissing).toEqual(['o2', 'co']);
  });

  it('a gap in a batch counts where it was, not before the lines ahead of it', async () => {
    const bench = await openBench();
    await bench.press('s1');
    // up to the last second of the hold
    for (let i = 0; i < 80 && ((await bench.state())[0]?.columns[0]?.leftS ?? 0) > 1; i++) await bench.read(1, AIR);
    expect(await bench.step()).toBe(0);
    // the line that ends the step, then the plug was pulled
    const timeMs = bench.now() + 1000;
    bench.at(timeMs);
    bench.send('run-1', {
      samples: [
        { timeMs, values: AIR },
        { timeMs: timeMs + 100, values: AIR },
      ],
      gaps: [{ fromMs: timeMs + 200, reason: 'unplugged' }],
    });
    await settle();
    expect(await bench.step()).toBe(1);
  });

  it('waits at the wrong gas; goes on without the step once a reason is given, and saves the reason', async () => {
    const bench = await openBench();
    await bench.press('s1');
    await bench.read(80, AIR);
    await bench.press('s2');
    await bench.read(120, { o2: 12, co: 300 });
    expect(await bench.step()).toBe(1);
    await bench.call('bench.skip', { testIds: [...bench.testIds], stepId: 's2', how: 'not-reached', why: 'bottle empty' });
    expect(await bench.step()).toBe(2);
    expect(bench.stored().rounds[0]!.steps[1]).toMatchObject({ end: 'not-reached', why: 'bottle empty' });
    expect(bench.stored().rounds[0]!.steps[1]!.application).toBeUndefined();
  });

  it('a repeated step comes after the others and opens the test again', async () => {
    const bench = await openBench();
    await bench.press('s1');
    await bench.read(80, AIR);
    await bench.call('bench.skip', { testIds: [...bench.testIds], stepId: 's2', how: 'rest', why: 'noon' });
    await bench.call('bench.repeat', { testIds: [...bench.testIds], stepId: 's2' });
    expect(bench.stored()).toMatchObject({ status: 'open' });
    expect(bench.stored().endedWallMs).toBeUndefined();
    expect(await bench.step()).toBe(2);
    expect(bench.stored().plan.steps.map(({ slot }) => slot)).toEqual(['air', 'high', 'high']);
  });

  it('a drift goes on by the wall clock on another run; a hold starts again', async () => {
    for (const [purpose, ends] of [
      ['drift', 2],
      ['noise', 1],
    ] as const) {
      const plan: BenchPlan = { ...twoGases, steps: [twoGases.steps[0]!, { id: 's2', purpose, slot: 'air', holdS: 3600 }] };
      const bench = await openBench({ plan });
      await bench.press('s1');
      await bench.read(80, AIR);
      expect(await bench.step()).toBe(1);
      // an hour later, after the program was started again
      bench.at(3_600_000);
      bench.connect('run-2', { startWallMs: 3_600_000 });
      await bench.call('bench.move', { testId: bench.testIds[0]!, runId: 'run-2' });
      await bench.read(60, AIR, ['run-2']);
      expect(await bench.step(), purpose).toBe(ends);
    }
  });

  it('starts once, however often the button is pressed, in however many windows', async () => {
    const bench = await openBench({ start: false });
    const both = await Promise.all([bench.call('bench.start', bench.startInput()), bench.call('bench.start', bench.startInput())]);
    expect(both.map(({ ok }) => ok)).toEqual([true, false]);
    expect(bench.store.size).toBe(1);
  });

  it('two windows press for one change of gas: it was switched once', async () => {
    const bench = await openBench();
    await bench.press('s1');
    await bench.read(5, AIR);
    await bench.press('s1');
    expect(bench.marks).toHaveLength(1);
    await bench.read(75, AIR);
    // a press that was meant for the step before changes nothing
    await bench.press('s1');
    expect(bench.marks).toHaveLength(1);
    expect(bench.stored().mark).toBeUndefined();
  });

  it('refuses a start that its set-up would refuse', async () => {
    const bench = await openBench({ start: false });
    const input = bench.startInput();
    expect(await codeOf(bench.call('bench.start', { ...input, gases: [] }))).toBe('bench-not-ready');
    expect(await codeOf(bench.call('bench.start', { ...input, room: { dried: true } }))).toBe('bench-not-ready');
    expect(await codeOf(bench.call('bench.start', { ...input, seats: [...input.seats, ...input.seats] }))).toBe('bench-not-ready');
    expect(await codeOf(bench.call('bench.start', { ...input, seats: [{ ...input.seats[0]!, runId: 'gone' }] }))).toBe('bench-not-ready');
    expect(bench.store.size).toBe(0);
  });
});

describe('a host that is killed', () => {
  it('goes on in the middle of a step from what was saved, with the lines that were captured before', async () => {
    const before = await openBench();
    await before.press('s1');
    await before.read(80, AIR);
    await before.press('s2');
    await before.read(10, HIGH);
    // kill -9: nothing but the records and the run file is left
    const after = await openBench({ store: before.store, start: false });
    after.at(before.now());
    expect(await after.state()).toEqual([]);
    await after.call('bench.resume', { testIds: [...before.testIds] });
    expect(await after.step()).toBe(1);
    expect((await after.state())[0]?.columns[0]?.phase).toBe('arriving');
    await after.read(60, HIGH);
    expect(after.stored(before.testIds[0])).toMatchObject({ status: 'done' });
    expect(after.stored(before.testIds[0]).rounds[0]!.steps.map(({ end }) => end)).toEqual(['reached', 'reached']);
  });

  it('a second window that goes on with the same test only looks on', async () => {
    const bench = await openBench();
    await bench.press('s1');
    await bench.read(20, AIR);
    const state = await bench.state();
    await bench.call('bench.resume', { testIds: [...bench.testIds] });
    expect(await bench.state()).toEqual(state);
  });
});

describe('saved is what the disk holds', () => {
  it('a save that fails is an alarm that stays, and the step is not lost', async () => {
    const bench = await openBench();
    await bench.press('s1');
    bench.refuse(problem('disk-full'));
    await bench.read(80, AIR);
    expect([...bench.alarms.values()].map(({ code }) => code)).toEqual(['bench-unsaved']);
    expect((await bench.state())[0]?.unsaved).toEqual(bench.testIds);
    await bench.clock.advance(10_000);
    expect(bench.alarms.size).toBe(1);
    expect(bench.stored().rounds[0]!.steps).toHaveLength(0);
    expect(await codeOf(bench.call('bench.sign', { testId: bench.testIds[0]!, name: 'B. Tester' }))).toBe('bench-unsaved');
    bench.refuse(undefined);
    await bench.clock.advance(2000);
    expect(bench.alarms.size).toBe(0);
    expect((await bench.state())[0]?.unsaved).toEqual([]);
    expect(bench.stored().rounds[0]!.steps).toHaveLength(1);
  });

  it('a signature that is refused is not shown as one', async () => {
    const bench = await openBench();
    await bench.call('bench.skip', { testIds: [...bench.testIds], stepId: 's1', how: 'rest', why: 'noon' });
    bench.refuse(problem('disk-full'));
    expect(await codeOf(bench.call('bench.sign', { testId: bench.testIds[0]!, name: 'B. Tester' }))).toBe('disk-full');
    await bench.call('bench.accept', { testId: bench.testIds[0]!, stepId: 's1' });
    expect(bench.told.flatMap(({ tests }) => tests).filter(({ body }) => body.signature !== undefined)).toEqual([]);
  });
});

describe('signed is signed', () => {
  async function signed() {
    const bench = await openBench();
    await bench.press('s1');
    await bench.read(80, AIR);
    await bench.call('bench.skip', { testIds: [...bench.testIds], stepId: 's2', how: 'rest', why: 'noon' });
    const testId = bench.testIds[0]!;
    expect(await codeOf(bench.call('bench.sign', { testId, name: 'B. Tester' }))).toBe('ok');
    return { ...bench, testId };
  }

  it('every window hears of the signature, with its hash', async () => {
    const { told, stored } = await signed();
    const last = told.flatMap(({ tests }) => tests).at(-1);
    expect(last?.body.signature).toMatchObject({ name: 'B. Tester', hash: hashOfTest(stored()) });
    expect(last?.altered).toBeUndefined();
  });

  it('no command changes it any more', async () => {
    const { call, testId, stored, startInput } = await signed();
    const before = structuredClone(stored());
    const limits = { format: 1 as const, name: 'x', date: '2026', decisionRule: 'simple' as const, lines: [] };
    void startInput;
    expect(await codeOf(call('bench.sign', { testId, name: 'Somebody else' }))).toBe('bench-signed');
    expect(await codeOf(call('bench.adjust', { testId, adjustment: 'afterwards' }))).toBe('bench-signed');
    expect(await codeOf(call('bench.limits', { testId, limits }))).toBe('bench-signed');
    expect(await codeOf(call('bench.close', { testId }))).toBe('bench-signed');
    expect(await codeOf(call('bench.repeat', { testIds: [testId], stepId: 's1' }))).toBe('bench-signed');
    expect(await codeOf(call('bench.resume', { testIds: [testId] }))).toBe('bench-signed');
    expect(stored()).toEqual(before);
  });

  it('a test that still has steps, or was simulated, is not signed', async () => {
    const open = await openBench();
    expect(await codeOf(open.call('bench.sign', { testId: open.testIds[0]!, name: 'B. Tester' }))).toBe('bench-open');
    const simulated = await openBench({ kind: 'simulated' });
    await simulated.call('bench.skip', { testIds: [...simulated.testIds], stepId: 's1', how: 'rest', why: 'noon' });
    expect(await codeOf(simulated.call('bench.sign', { testId: simulated.testIds[0]!, name: 'B. Tester' }))).toBe('bench-not-signable');
  });

  it('the hash tells what was changed afterwards; one from an earlier version has none', async () => {
    const { stored } = await signed();
    expect(isAltered(stored())).toBe(false);
    expect(isAltered({ ...stored(), person: 'Somebody else' })).toBe(true);
    expect(isAltered({ ...stored(), signature: { name: 'B. Tester', wallMs: 1 } })).toBe(false);
  });
});
