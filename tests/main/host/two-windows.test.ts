/** Two windows at one host, through the wire: controls taken over in the middle of something, and commands that come too late. */
import { describe, expect, it, onTestFinished } from 'vitest';
import { practiceTest } from '../../shared/bench/run-plan.ts';
import { FLUE, FRESH_AIR, must, openHost } from './whole-host.ts';

async function opened() {
  const host = openHost();
  onTestFinished(() => host.close());
  const [first, second] = [await host.openWindow(), await host.openWindow()];
  return { host, first, second };
}
const codeOf = async (answer: Promise<{ ok: boolean; error?: { code: string } }>): Promise<string> => (await answer).error?.code ?? 'ok';

describe('controls taken over', () => {
  it('in the middle of a stopwatch: it runs on, the new operator stops it, the old one cannot, and both show the same', async () => {
    const { host, first, second } = await opened();
    const { id } = must(await first.command('visit.begin', { kind: 'service' })).visit;
    const press = { id, test: 'flame-failure', act: 'press' } as const;
    must(await first.command('visit.watch', press));
    await host.pass(9, {});
    must(await second.call('session.takeOver', {}));
    expect(first.last('session.changed')).toMatchObject({ role: 'viewer', reason: 'taken-over' });
    expect(await codeOf(first.call('visit.watch', press))).toBe('not-allowed');
    await host.pass(3, {});
    expect(must(await second.call('visit.watch', press)).watches).toMatchObject([{ elapsedS: 12, running: false }]);
    await host.settle();
    expect(first.last('visit.watches')).toEqual(second.last('visit.watches'));
    expect(first.last('visit.watches')?.watches).toMatchObject([{ elapsedS: 12, running: false }]);
  });

  it('in the middle of a bench step: the gas counts from the first press, and the step is saved once', async () => {
    const { host, first, second } = await opened();
    const { instrument, gases, room, plan } = practiceTest({
      format: 1,
      name: 'air',
      steps: [{ id: 's1', purpose: 'fresh-air', slot: 'air', holdS: 30 }],
    });
    const runId = await host.connect(first, 'bench', FRESH_AIR);
    const { testIds } = must(
      await first.command('bench.start', {
        seats: [{ runId, instrumentId: 'i1', instrument }],
        plan,
        gases,
        room: { ...room, place: 'yard' },
        limits: 'none',
      }),
    );
    must(await first.command('bench.press', { testIds, stepId: 's1' }));
    await host.pass(15, { bench: FRESH_AIR });
    must(await second.call('session.takeOver', {}));
    expect(await codeOf(first.call('bench.skip', { testIds, stepId: 's1', how: 'rest', why: 'noon' }))).toBe('not-allowed');
    must(await second.call('bench.press', { testIds, stepId: 's1' }));
    await host.pass(30, { bench: FRESH_AIR });
    const marks = must(await first.call('run.history', { runId, fromMs: 0, toMs: 1e9, buckets: 10 })).marks;
    expect(marks).toHaveLength(1);
    const body = first.last('bench.changed', ({ tests }) => tests.length > 0)?.tests[0]?.body;
    expect(body).toMatchObject({ status: 'done', rounds: [{ steps: [{ stepId: 's1', end: 'reached' }] }] });
    expect(second.last('bench.changed')).toEqual(first.last('bench.changed'));
  });
});

describe('commands that come too late', () => {
  it('for a visit that another window deleted, and for a run that it ended, are refused by name and change nothing', async () => {
    const { host, first, second } = await opened();
    const runId = await host.connect(first, 'flue', FLUE);
    const { id } = must(await first.command('visit.begin', { kind: 'service', runId })).visit;
    must(await second.command('visit.remove', { id }));
    const note = [{ path: ['notes', '-'], after: { wallMs: 1, text: 'x' } }];
    expect(await codeOf(first.command('visit.edit', { id, changes: note }))).toBe('not-found');
    expect(await codeOf(first.command('visit.sign', { id, name: 'A. Sample' }))).toBe('not-found');
    expect(await codeOf(first.command('visit.open', { id, runId }))).toBe('not-found');
    must(await second.command('run.end', { runId }));
    expect(await codeOf(first.command('run.takeReading', { runId }))).toBe('run-ended');
    expect(await codeOf(first.command('run.mark', { runId, body: { kind: 'smoke', spots: [{ number: 1 }] } }))).toBe('run-ended');
    expect(host.failures).toEqual([]);
    expect(must(await first.call('visit.now', {})).front).toEqual({});
  });

  it('for the same visit begun in two windows at once: one visit, and the run in it; later it is a second one', async () => {
    const { host, first, second } = await opened();
    const runId = await host.connect(first, 'flue', FLUE);
    const begun = await Promise.all([first, second].map((window) => window.command('visit.begin', { kind: 'service', runId })));
    const ids = begun.map((one) => must(one).visit.id);
    expect(new Set(ids).size).toBe(1);
    await host.pass(40, { flue: FLUE });
    must(await first.command('run.takeReading', { runId }));
    await host.settle();
    expect(must(await first.call('visit.now', {})).front.stored?.visit).toMatchObject({ id: ids[0], trials: [{ runId }] });
    expect(must(await first.command('visit.begin', { kind: 'service', runId })).visit.id).not.toBe(ids[0]);
  });

  it('for a spot, a draft or a note that was typed for a setting which is no longer the one: refused, and saved where the person says', async () => {
    const { host, first, second } = await opened();
    const runId = await host.connect(first, 'flue', FLUE);
    const { id } = must(await first.command('visit.begin', { kind: 'service', runId })).visit;
    await host.pass(40, { flue: FLUE });
    must(await first.command('run.takeReading', { runId }));
    await host.settle();
    const trials = () => first.last('visit.trials', (told) => told.runId === runId)?.trials ?? [];
    const meant = trials().at(-1)!;
    // the spot is typed in the first window; the second takes the controls, marks a setting and gives them back
    must(await second.call('session.takeOver', {}));
    const setting = { stage: '1', positions: [{ name: 'shutter', value: 5 }] };
    must(await second.command('run.mark', { runId, body: { kind: 'adjustment', setting } }));
    await host.pass(5, { flue: FLUE });
    must(await first.call('session.takeOver', {}));
    const spot = { runId, body: { kind: 'smoke' as const, spots: [{ number: 3 }] }, trialId: meant.id };
    expect(await codeOf(first.command('run.mark', spot))).toBe('trial-changed');
    await host.settle();
    expect(trials().filter(({ smoke }) => smoke !== undefined)).toEqual([]);
    // it was pumped before the shutter was turned: at the end of that setting
    const ended = trials().find((trial) => trial.id === meant.id)!;
    must(await first.command('run.mark', { ...spot, timeMs: ended.toMs! - 1 }));
    must(await first.command('run.mark', { runId, body: { kind: 'note', text: 'x' }, trialId: trials().at(-1)!.id }));
    await host.settle();
    expect(trials().map(({ id: trialId, smoke, notes }) => [trialId === meant.id, smoke?.spots[0]?.number, notes])).toEqual([
      [true, 3, []],
      [false, undefined, ['x']],
    ]);
    // nobody named a trial: as before
    must(await first.command('run.mark', { runId, body: { kind: 'note', text: 'y' } }));
    expect(must(await first.call('visit.get', { id })).visit.trials[0]?.smoke?.spots).toEqual([{ number: 3 }]);
  });
});
