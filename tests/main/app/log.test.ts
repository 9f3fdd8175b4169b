import { appendFileSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { homedir, tmpdir } from 'node:os';
import { join } from 'node:path';
import { strFromU8, unzipSync } from 'fflate';
import { describe, expect, it, onTestFinished } from 'vitest';
import { handleUncaught } from '../../../main/log/last-words.ts';
import { openLog, type Log } from '../../../main/log/log.ts';
import { createFakeClock, until } from '../../helpers/host/fake-clock.ts';
import { openApp, openWindow } from './app-fixture.ts';
import { problems } from '../../../shared/words/problems.ts';

const logIn = (folder = mkdtempSync(join(tmpdir(), 'flueside-log-'))): { log: Log; folder: string } => {
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return { log: openLog(folder, createFakeClock()), folder };
};
const textOf = (folder: string): string => {
  try {
    return readFileSync(join(folder, 'logs', 'flueside.log'), 'utf8');
  } catch {
    return '';
  }
};

describe('a crash in a handler', () => {
  it('gives the window a plain sentence and keeps its stack in the log', async () => {
    const { log, folder } = logIn();
    const { app, runService } = openApp({ log });
    Object.assign(runService, { interrupted: () => Promise.reject(new TypeError('nothing of undefined')) });
    const window = openWindow(app);
    const answer = await window.client.call('session.hello', {});
    expect(answer).toEqual({ ok: false, error: { code: 'internal' } });
    expect(problems.internal.title).not.toMatch(/undefined|Error/);
    await until(() => textOf(folder) !== '');
    const [line] = textOf(folder).split('\n');
    expect(JSON.parse(line ?? '')).toMatchObject({ level: 'error', where: 'session.hello' });
    expect(line).toMatch(/TypeError: nothing of undefined\\n\s+at /);
  });
  it('of a render in a window goes there too, from a window that only looks as well', async () => {
    const { log, folder } = logIn();
    const { app } = openApp({ log });
    const viewer = openWindow(app, 'viewer');
    expect((await viewer.client.call('session.windowFailed', { where: 'bench', text: 'Error: x\n at y' })).ok).toBe(true);
    await until(() => textOf(folder).includes('window: bench'));
  });
});

describe('the log', () => {
  it('rotates, keeps a few files, and says nothing of the person’s folder', async () => {
    const { log, folder } = logIn();
    for (let index = 0; index < 900; index++) log.failed('test', `${homedir()}/secret ${'x'.repeat(7000)}`);
    await log.close();
    const names = readdirSync(join(folder, 'logs')).filter((name) => name.endsWith('.log'));
    expect(names.length).toBeGreaterThan(1);
    expect(names.length).toBeLessThanOrEqual(5);
    expect(
      log
        .files()
        .map(({ name }) => name)
        .at(-1),
    ).toBe('flueside.log');
    if (homedir().length > 1) for (const { text } of log.files()) expect(text).not.toContain(homedir());
  });
  it('that cannot be written stops nothing', () => {
    const { folder } = logIn();
    writeFileSync(join(folder, 'logs'), 'a file in its place');
    const log = openLog(folder, createFakeClock());
    log.failed('test', new Error('x'));
    log.failedLast('test', new Error('x'));
    expect(log.files()).toEqual([]);
  });
});

describe('a failure that nobody caught', () => {
  it('is written down, then run files and store are closed, then it is said, and the process ends', async () => {
    const { log, folder } = logIn();
    const order: string[] = [];
    let fail: (failure: unknown) => void = () => undefined;
    handleUncaught(
      {
        on: (event, listener) => (event === 'uncaughtException' ? (fail = listener) : undefined),
        exit: (code) => order.push(`exit ${code}`),
      },
      {
        log,
        close: () => {
          order.push(textOf(folder).includes('nobody caught') ? 'closed after the log' : 'closed before the log');
          return Promise.resolve();
        },
        say: () => order.push('said'),
        sleep: () => new Promise(() => undefined),
      },
    );
    fail(new Error('nobody caught this'));
    fail(new Error('and a second one'));
    await until(() => order.length === 3);
    expect(order).toEqual(['closed after the log', 'said', 'exit 1']);
    expect(textOf(folder)).toContain('and a second one');
  });
});

describe('a store that does not close', () => {
  it('keeps the process alive for 5 s and no longer', async () => {
    const { log } = logIn();
    const clock = createFakeClock();
    const order: string[] = [];
    let fail: (failure: unknown) => void = () => undefined;
    handleUncaught(
      {
        on: (event, listener) => (event === 'unhandledRejection' ? (fail = listener) : undefined),
        exit: (code) => order.push(`exit ${code}`),
      },
      { log, close: () => new Promise(() => undefined), say: () => order.push('said'), sleep: (ms) => clock.sleep(ms) },
    );
    fail(new Error('while it hangs'));
    await clock.advance(4999);
    expect(order).toEqual([]);
    await clock.advance(1);
    expect(order).toEqual(['said', 'exit 1']);
  });
});

describe('the report for support', () => {
  it('has versions and log, no names, and no readings unless they are wanted', async () => {
    const { log, folder } = logIn();
    const { app } = openApp({ log, dataFolder: folder });
    mkdirSync(join(folder, 'runs'), { recursive: true });
    appendFileSync(join(folder, 'runs', 'a.run'), 'lines');
    const window = openWindow(app);
    await window.client.call('session.hello', {});
    await window.client.call('settings.change', { patch: { technician: { name: 'Jane Q. Tester', licence: 'L-77' } } });
    await window.client.call('session.windowFailed', { where: 'tune', text: 'Error: x' });
    await until(() => textOf(folder) !== '');
    const filesOf = async (withReadings: boolean): Promise<Record<string, string>> => {
      const made = await window.client.call('session.supportReport', { withReadings });
      const path = made.ok ? app.takeDownload(made.value.download)?.filePath : undefined;
      return Object.fromEntries(Object.entries(unzipSync(readFileSync(path ?? ''))).map(([name, content]) => [name, strFromU8(content)]));
    };
    const plain = await filesOf(false);
    expect(Object.keys(plain).toSorted()).toEqual(['about.json', 'logs/flueside.log']);
    expect(Object.values(plain).join()).not.toMatch(/Jane|L-77/);
    expect(JSON.parse(plain['about.json'] ?? '')).toMatchObject({ flueside: '0.0.0' });
    expect((await filesOf(true))['runs/a.run']).toBe('lines');
  });
});
