import { readFileSync, writeFileSync } from 'node:fs';
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { LiveBatch } from '../../../shared/ipc/run-documents.ts';
import { problem } from '../../../shared/problem.ts';
import { openApp, openWindow, toldTo } from './app-fixture.ts';

const emptyBatch = LiveBatch.parse({
  runId: 'a',
  timeMs: 0,
  samples: [],
  droppedCount: 0,
  states: [],
  readings: [],
  marks: [],
  edits: [],
  gaps: [],
  excluded: [],
  settled: [],
  counters: { lines: 0, understood: 0, rejected: 0, ignored: 0, bytes: 0, linesPerSecond: 0 },
});

describe('events', () => {
  it('go to every window that has said hello, and to no other', async () => {
    const { app, runService } = openApp();
    const [operator, viewer, silent] = [openWindow(app), openWindow(app, 'viewer'), openWindow(app, 'viewer')];
    await operator.client.call('session.hello', {});
    await viewer.client.call('session.hello', {});
    runService.parts.publish('live.batch', emptyBatch);
    expect([operator, viewer, silent].map((window) => toldTo(window, 'live.batch').length)).toEqual([1, 1, 0]);
  });

  it('stop when the window has gone', async () => {
    const { app, runService } = openApp();
    const window = openWindow(app);
    await window.client.call('session.hello', {});
    window.detach();
    runService.parts.publish('live.batch', emptyBatch);
    expect(toldTo(window, 'live.batch')).toEqual([]);
    expect(app.windows()).toBe(0);
    expect(runService.left).toHaveLength(1);
  });
});

describe('settings', () => {
  it('are changed by the operator, told to all, and still there at the next start', async () => {
    const first = openApp();
    const [operator, viewer] = [openWindow(first.app), openWindow(first.app, 'viewer')];
    await operator.client.call('session.hello', {});
    await viewer.client.call('session.hello', {});
    const changed = await operator.client.call('settings.change', { patch: { units: 'metric' } });
    expect(changed).toMatchObject({ ok: true, value: { units: 'metric', theme: 'system' } });
    expect(toldTo(viewer, 'settings.changed')).toMatchObject([{ units: 'metric' }]);
    expect(JSON.parse(readFileSync(join(first.folder, 'settings.json'), 'utf8'))).toMatchObject({ units: 'metric' });
    expect(first.runService.parts.settings().units).toBe('metric');
  });

  it('that were damaged are said so until it is dismissed', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'flueside-app-'));
    writeFileSync(join(folder, 'settings.json'), '{ half');
    const { app } = openApp({ dataFolder: folder });
    const window = openWindow(app);
    const hello = await window.client.call('session.hello', {});
    expect(hello.ok && hello.value.problems.map(({ problem: { code } }) => code)).toContain('settings-damaged');
    await window.client.call('problem.dismiss', { key: 'settings' });
    expect(toldTo(window, 'problem.cleared')).toEqual([{ key: 'settings' }]);
    const again = await window.client.call('session.hello', {});
    expect(again.ok && again.value.problems.map(({ problem: { code } }) => code)).not.toContain('settings-damaged');
  });
});

describe('a window of another version', () => {
  it('is told what is not understood, changes nothing by it, and is served on', async () => {
    const { app } = openApp();
    const [old, viewer] = [openWindow(app), openWindow(app, 'viewer')];
    await viewer.client.call('session.hello', {});
    expect(await old.client.call('session.hello', {})).toMatchObject({ ok: true });
    const made = await old.client.call('visit.begin', { kind: 'service' });
    if (!made.ok) throw new Error(made.error.code);
    const { visit } = made.value;
    const ask = async (name: string, input: object) => {
      const answer = await old.client.call(name as 'visit.edit', input as never);
      return answer.ok ? 'ok' : answer.error.code;
    };
    // commands that are no more, one that is not yet, and shapes of one that is
    expect(await ask('visit.save', { visit: { ...visit, fuelId: 'b20' } })).toBe('request-invalid');
    expect(await ask('visit.dictate', { id: visit.id })).toBe('request-invalid');
    expect(await ask('visit.edit', { id: visit.id, path: ['fuelId'], after: 'b20' })).toBe('request-invalid');
    expect(await ask('visit.edit', { id: visit.id, changes: [{ path: ['fuelId'], after: 'b20' }], quietly: true })).toBe('request-invalid');
    expect(await ask('visit.edit', { id: visit.id, changes: [{ path: ['burnerName'], after: 'x' }] })).toBe('value-out-of-range');
    const now = await viewer.client.call('visit.get', { id: visit.id });
    expect(now).toMatchObject({ ok: true, value: { visit } });
    expect(await ask('visit.edit', { id: visit.id, changes: [{ path: ['fuelId'], after: 'b20' }] })).toBe('ok');
    expect(toldTo(viewer, 'visit.changed').at(-1)).toMatchObject({ visit: { fuelId: 'b20' } });
  });
});

describe('ports', () => {
  it('are watched while somebody looks, once', () => {
    const { app, runService } = openApp();
    const [first, second] = [openWindow(app), openWindow(app)];
    expect(runService.portWatchers).toBe(1);
    first.detach();
    expect(runService.portWatchers).toBe(1);
    second.detach();
    expect(runService.portWatchers).toBe(0);
    openWindow(app);
    expect(runService.portWatchers).toBe(1);
  });
});

describe('the first run', () => {
  const begun = (runService: { called: { name: string; input: unknown }[] }) =>
    runService.called.filter(({ name }) => name === 'run.start').map(({ input }) => input);
  const stored = (kind: 'serial' | 'simulated') => ({ runId: 'a', header: { source: { kind } } }) as never;

  it('is the simulated burner for a newcomer, once, with the first operator', async () => {
    const { app, runService } = openApp({ firstRun: 'newcomer' });
    await openWindow(app, 'viewer').client.call('session.hello', {});
    expect(begun(runService)).toEqual([]);
    await openWindow(app).client.call('session.hello', {});
    await openWindow(app).client.call('session.hello', {});
    expect(begun(runService)).toMatchObject([{ source: { kind: 'simulated' } }]);
  });

  it('does not begin once a real instrument was measured', async () => {
    const { app, runService } = openApp({ firstRun: 'newcomer' }, (made) => (made.storedList = [stored('simulated'), stored('serial')]));
    await openWindow(app).client.call('session.hello', {});
    expect(begun(runService)).toEqual([]);
  });

  it('does not come between a person and a run that was cut off', async () => {
    const { app, runService } = openApp({ firstRun: 'newcomer' }, (made) => (made.interruptedList = [stored('simulated')]));
    await openWindow(app)
      .client.call('session.hello', {})
      .catch(() => undefined);
    expect(begun(runService)).toEqual([]);
  });

  it('is what was asked for at the start', async () => {
    const source = { kind: 'typed' } as const;
    const { app, runService } = openApp({ firstRun: source }, (made) => (made.storedList = [stored('serial')]));
    await openWindow(app).client.call('session.hello', {});
    expect(begun(runService)).toEqual([{ source }]);
  });

  it('that fails is said, and hello is answered all the same', async () => {
    const { app } = openApp({ firstRun: { kind: 'typed' } }, (made) => {
      const handlers = made.handlers;
      Object.assign(made, { handlers: { ...handlers, 'run.start': () => Promise.resolve({ ok: false, error: problem('disk-full') }) } });
    });
    const hello = await openWindow(app).client.call('session.hello', {});
    expect(hello.ok && hello.value.problems).toMatchObject([{ key: 'first-run', problem: { code: 'disk-full' } }]);
  });
});

describe('the end', () => {
  const running = (kind: string) => ({ phase: 'running', source: { kind } }) as never;

  it.each([
    { ended: 'by-person', kind: 'serial', endRuns: true },
    { ended: 'by-person', kind: 'simulated', endRuns: true },
    { ended: 'by-system', kind: 'simulated', endRuns: true },
    { ended: 'by-system', kind: 'serial', endRuns: false },
    { ended: 'by-system', kind: 'typed', endRuns: false },
  ] as const)('$ended with a $kind run: runs ended $endRuns', async ({ ended, kind, endRuns }) => {
    const { app, runService } = openApp();
    runService.runList = [running(kind)];
    await app.close(ended);
    expect(runService.closedWith).toEqual({ endRuns });
  });
});
