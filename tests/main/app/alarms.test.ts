/** Alarms come from the host: with the line that earns them, in every window, and still there after a reload. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { createApp } from '../../../main/app.ts';
import { openSerialPort } from '../../../main/source/open-port.ts';
import { systemClock } from '../../../main/system-clock.ts';
import type { Clock } from '../../../shared/clock.ts';
import type { LiveBatch } from '../../../shared/ipc/run-documents.ts';
import { SerialSettings } from '../../../shared/measurement/run.ts';
import type { Alarm } from '../../../shared/tuning/advice/alarms.ts';
import { createFakeClock, until } from '../../helpers/host/fake-clock.ts';
import { leader, noPty, startPty, watchedPort } from '../../helpers/ports/pty.ts';
import { openWindow, toldTo, type TestWindow } from './app-fixture.ts';
import { commaRecipe, NUMBERED } from '../../helpers/comma-recipe.ts';

const recipe = commaRecipe('numbered columns', NUMBERED);
/** With real runs and a real store; nothing stands in for anything. */
function realApp(folder = mkdtempSync(join(tmpdir(), 'flueside-alarms-')), clock: Clock = systemClock, openPort = openSerialPort) {
  const app = createApp({
    clock,
    dataFolder: folder,
    version: '0.0.0',
    host: 'memory',
    platform: 'linux',
    listPorts: () => Promise.resolve([]),
    openPort,
  });
  onTestFinished(async () => {
    await app.close('by-person');
    rmSync(folder, { recursive: true, force: true });
  });
  return { app, folder };
}
const alarmsOf = (window: TestWindow): Alarm[] => (toldTo(window, 'alarms.changed') as { alarms: Alarm[] }[]).at(-1)?.alarms ?? [];

describe.skipIf(noPty !== undefined)('CO steps from 12 to 650 ppm on a port', () => {
  it('the figure never leaves the lines, the alarm comes with the line that earns it, in every window, and lasts over a reload', async () => {
    const pty = await startPty('pty-instrument.py', ['{n},5.0,12,212.4,21.5']);
    const clock = createFakeClock();
    const port = watchedPort(openSerialPort);
    const { app } = realApp(undefined, clock, port.openPort);
    const goOnUntil = leader(pty, port, clock, 100);
    const [operator, viewer] = [openWindow(app), openWindow(app, 'viewer')];
    await operator.client.call('session.hello', {});
    await viewer.client.call('session.hello', {});
    const started = await operator.client.call('run.start', {
      source: { kind: 'serial', path: pty.path, settings: SerialSettings.parse({}) },
      recipe,
    });
    if (!started.ok) throw new Error(started.error.code);
    await operator.client.call('run.compareDisplay', { runId: started.value.runId, agrees: true });
    const batches = (): LiveBatch[] => toldTo(operator, 'live.batch') as LiveBatch[];
    const coLines = (): { timeMs: number; co: number }[] =>
      batches().flatMap(({ samples }) =>
        samples.flatMap(({ timeMs, values }) => (values.co === undefined ? [] : [{ timeMs, co: values.co }])),
      );
    await pty.ask('rate 10');
    await goOnUntil(() => coLines().length >= 60);
    expect(alarmsOf(operator)).toEqual([]);
    await pty.ask('line {n},5.0,650,212.4,21.5');
    await goOnUntil(() => coLines().filter(({ co }) => co === 650).length >= 60);
    await pty.ask('rate 0');
    await pty.stop();

    // the figure: between the lowest and the highest line of the second before it
    const lines = coLines();
    let looked = 0;
    for (const { timeMs, states } of batches()) {
      const shown = states.find(({ channel }) => channel === 'co')?.value;
      const newest = lines.findLast((line) => line.timeMs <= timeMs)?.timeMs;
      if (shown === undefined || newest === undefined) continue;
      const near = lines.filter((line) => line.timeMs > newest - 1100 && line.timeMs <= newest).map(({ co }) => co);
      looked++;
      expect(shown).toBeGreaterThanOrEqual(Math.min(...near) - 1e-9);
      expect(shown).toBeLessThanOrEqual(Math.max(...near) + 1e-9);
    }
    expect(looked).toBeGreaterThan(50);

    // 400 ppm air-free at 5 % O2 are 304 measured: the mean of the last second earns it within that second
    const firstHigh = lines.find(({ co }) => co === 650)?.timeMs ?? 0;
    const rung = (toldTo(operator, 'alarms.changed') as { alarms: Alarm[] }[])
      .flatMap(({ alarms }) => alarms)
      .find(({ level }) => level === 'alarm');
    expect(rung).toMatchObject({ key: 'flue-co', isAirFree: true, overRange: false });
    const sinceMs = rung?.key === 'flue-co' ? rung.sinceMs : Infinity;
    expect(sinceMs).toBeGreaterThanOrEqual(firstHigh);
    const earning = lines.find(({ timeMs }) => {
      const second = lines.filter((line) => line.timeMs > timeMs - 900 && line.timeMs <= timeMs);
      return (second.reduce((sum, { co }) => sum + co, 0) / second.length) * (20.9 / 15.9) >= 400;
    });
    expect(sinceMs).toBe(earning?.timeMs);
    expect(alarmsOf(viewer)).toEqual(alarmsOf(operator));

    const again = openWindow(app, 'viewer');
    const hello = await again.client.call('session.hello', {});
    expect(hello.ok && hello.value.alarms.map(({ key }) => key)).toEqual(alarmsOf(operator).map(({ key }) => key));
  });
});

describe('CO in the room', () => {
  it('that was written down in a visit is an alarm in every window, and in the next host too, until it is lower', async () => {
    const first = realApp();
    const operator = openWindow(first.app);
    await operator.client.call('session.hello', {});
    const visit = await operator.client.call('visit.create', { kind: 'service' });
    if (!visit.ok) throw new Error(visit.error.code);
    const { id } = visit.value.visit;
    const write = (index: number, ppm: number) =>
      operator.client.call('visit.edit', { id, changes: [{ path: ['roomCo', index], after: { wallMs: 1, ppm } }] });
    await write(0, 120);
    expect(alarmsOf(operator)).toEqual([{ key: 'room-co', visitId: id, level: 'out', ppm: 120 }]);
    const later = openWindow(first.app, 'viewer');
    const hello = await later.client.call('session.hello', {});
    expect(hello.ok && hello.value.alarms).toEqual(alarmsOf(operator));
    await write(1, 4);
    expect(alarmsOf(operator)).toEqual([]);
    await write(2, 40);
    await first.app.close('by-person');

    const second = realApp(first.folder);
    const window = openWindow(second.app);
    await window.client.call('session.hello', {});
    const now = async (): Promise<readonly Alarm[]> => {
      const said = await window.client.call('session.hello', {});
      return said.ok ? said.value.alarms : [];
    };
    let seen: readonly Alarm[] = [];
    await until(() => {
      void now().then((alarms) => (seen = alarms));
      return seen.length > 0;
    });
    expect(seen).toEqual([{ key: 'room-co', visitId: id, level: 'stop', ppm: 40 }]);
  });
});
