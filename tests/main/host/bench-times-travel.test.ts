/** What a bench test found of an instrument, through the whole host: into the runs of its visits, into a replay, and to other computers. */
import { copyFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it, onTestFinished, vi } from 'vitest';
import { ApplianceKnowledge } from '../../../shared/measurement/knowledge.ts';
import { practiceTest } from '../../shared/bench/run-plan.ts';
import { FLUE, FRESH_AIR, must, openHost, SPAN, type Gas, type HostWindow, type WholeHost } from './whole-host.ts';

const plan = {
  format: 1 as const,
  name: 'two gases',
  steps: [
    { id: 's1', purpose: 'fresh-air' as const, slot: 'air' as const, holdS: 30 },
    { id: 's2', purpose: 'span' as const, slot: 'high' as const, holdS: 30 },
  ],
};
const TAU_S = 9;
const DEAD_S = 4;

/** the gas was switched now: dead time, then a cell of one time constant */
const onTheWay = (from: Gas, to: Gas, sinceS: number): Gas => {
  const part = sinceS <= DEAD_S ? 0 : 1 - Math.exp(-(sinceS - DEAD_S) / TAU_S);
  const at = (a: number, b: number): number => a + part * (b - a);
  return { o2: at(from.o2, to.o2), co: Math.round(at(from.co, to.co)), stack: to.stack };
};

function opened(...given: Parameters<typeof openHost>): WholeHost {
  const host = openHost(...given);
  onTestFinished(() => host.close());
  return host;
}
async function testInstrument(host: WholeHost, window: HostWindow): Promise<string> {
  const { instrument, gases, room } = practiceTest(plan);
  const { id } = must(await window.command('document.save', { kind: 'instrument', body: instrument as never }));
  const runId = await host.connect(window, 'bench', FRESH_AIR);
  const { testIds } = must(
    await window.command('bench.start', {
      seats: [{ runId, instrumentId: id, instrument }],
      plan,
      gases: gases.map((use) => ({ ...use, gas: { ...use.gas, serial: 'bottle 1' } })),
      room: { ...room, place: 'yard' },
      limits: 'none',
    }),
  );
  must(await window.command('bench.press', { testIds, stepId: 's1' }));
  await host.pass(50, { bench: FRESH_AIR });
  must(await window.command('bench.press', { testIds, stepId: 's2' }));
  for (let second = 1; second <= 110; second++) await host.pass(1, { bench: onTheWay(FRESH_AIR, SPAN, second) });
  must(await window.command('bench.sign', { testId: testIds[0]!, name: 'B. Tester' }));
  must(await window.command('run.end', { runId }));
  return id;
}
async function visitWith(window: HostWindow, instrumentId: string): Promise<string> {
  const { visit } = must(await window.command('visit.begin', { kind: 'service' }));
  must(await window.command('visit.edit', { id: visit.id, changes: [{ path: ['instrumentId'], after: instrumentId }] }));
  return visit.id;
}
const knownOf = async (window: HostWindow, id: string) =>
  ApplianceKnowledge.parse(must(await window.call('document.get', { kind: 'knowledge', id })).body);
/** does a run of this visit begin with it? */
async function knowsAtStart(host: WholeHost, window: HostWindow, visitId: string): Promise<boolean> {
  const runId = await host.connect(window, 'flue', FLUE, visitId);
  return window.last('run.changed', (run) => run.runId === runId)?.knowsInstrument === true;
}

it('times of a bench test are in the runs of its visits, also on a computer that has its visit or its backup; a replay reads the same', async () => {
  const uploads = new Map<string, string>();
  const take = (token: string) => (uploads.has(token) ? { path: uploads.get(token)! } : undefined);
  const host = opened();
  const window = await host.openWindow();
  const instrumentId = await testInstrument(host, window);
  const found = await knownOf(window, instrumentId);
  expect(Math.exp(found.knowledge.channels.co!.sensor.mean)).toBeGreaterThan(TAU_S - 1.5);
  expect(Math.exp(found.knowledge.channels.co!.sensor.mean)).toBeLessThan(TAU_S + 1.5);
  const visitId = await visitWith(window, instrumentId);
  expect(await knowsAtStart(host, window, visitId)).toBe(true);

  // the run and its replay give the same readings, to the last digit
  const { runId } = window.last('run.changed', ({ source }) => source.kind === 'serial')!;
  await host.pass(70, { flue: FLUE });
  for (let second = 1; second <= 90; second++) await host.pass(1, { flue: onTheWay(FLUE, { ...FLUE, o2: 3, co: 60, stack: 212 }, second) });
  const whole = { fromMs: 0, toMs: 1e9, buckets: 100 };
  must(await window.command('run.end', { runId }));
  const live = must(await window.call('run.history', { runId, ...whole })).readings;
  expect(live.length).toBeGreaterThan(1);
  const replay = must(await window.command('run.start', { source: { kind: 'replay', runId, speed: 1000 } }));
  await host.pass(2, {});
  // the file itself is read in real time
  await vi.waitFor(async () => {
    await host.settle();
    expect(window.last('run.changed', ({ runId: changed }) => changed === replay.runId)?.phase).toBe('paused');
  }, 60_000);
  expect(must(await window.call('run.history', { runId: replay.runId, ...whole })).readings).toEqual(live);

  // by visit
  const exported = must(await window.command('visit.export', { ids: [visitId] }));
  const there = opened({ takeUpload: take });
  uploads.set('visits', join(there.dataFolder, 'visits.zip'));
  copyFileSync(host.app.takeDownload(exported.download)!.filePath!, uploads.get('visits')!);
  const thereWindow = await there.openWindow();
  expect(must(await thereWindow.command('visit.import', { upload: 'visits' }))).toMatchObject({ added: 1 });
  expect(await knownOf(thereWindow, instrumentId)).toEqual(found);
  expect(await knowsAtStart(there, thereWindow, await visitWith(thereWindow, instrumentId))).toBe(true);

  // by backup
  const backup = must(await window.command('backup.make', {}));
  const restored = opened({ takeUpload: take });
  uploads.set('backup', join(restored.dataFolder, 'taken.zip'));
  copyFileSync(host.app.takeDownload(backup.download)!.filePath!, uploads.get('backup')!);
  const restoredWindow = await restored.openWindow();
  must(await restoredWindow.command('backup.restore', { upload: 'backup' }));
  expect(await knownOf(restoredWindow, instrumentId)).toEqual(found);
  expect(await knowsAtStart(restored, restoredWindow, visitId)).toBe(true);
});
