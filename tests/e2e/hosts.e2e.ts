/**
 * Host 2 from outside: the real program, a real browser, real signals. What the window shows is the business of the other journeys. No
 * cheaper test shows: links, sessions, content policy, signals and locks of the program as it is built, and how a browser takes them.
 */
import { spawn } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it, vi } from 'vitest';
import { LOCK_FILE } from '../../main/session/instance-lock.ts';
import { processStart } from '../../main/session/process-start.ts';
import { KEY_SLOT } from '../../shared/ipc/handshake.ts';
import { startAppProcess, type AppProcess } from '../helpers/host/app-process.ts';
import { launchChromium } from '../helpers/browser/chromium.ts';
import { PATIENCE_MS } from '../helpers/patience.ts';

let browser: Browser;
let app: AppProcess | undefined;
const folders: string[] = [];

beforeAll(async () => {
  browser = await launchChromium();
});
afterAll(() => browser.close());
afterEach(async () => {
  for (const context of browser.contexts()) await context.close();
  await app?.stop();
  app = undefined;
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
});

const newFolder = (): string => {
  const folder = mkdtempSync(join(tmpdir(), 'flueside-hosts-'));
  folders.push(folder);
  return folder;
};

/** Opens the address in a page of its own; anything that the page complains about fails the journey. */
async function open(address: string): Promise<{ page: Page; complaints: string[] }> {
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
  const page = await context.newPage();
  const complaints: string[] = [];
  page.on('console', (message) => ['error', 'warning'].includes(message.type()) && complaints.push(message.text()));
  page.on('pageerror', (error) => complaints.push(error.message));
  await page.goto(address);
  return { page, complaints };
}

const isConnected = (page: Page) => page.waitForFunction((slot) => sessionStorage.getItem(slot) !== null, KEY_SLOT);
const bodyText = (page: Page): Promise<string> => page.evaluate(() => document.body.innerText);

/** Another start in the same folder. @returns what it printed, and its exit code */
const startAgain = (dataFolder: string): Promise<{ output: string; code: number | null }> =>
  new Promise((resolve) => {
    const child = spawn(process.execPath, ['dist/main/node.mjs', '--no-open', '--data', dataFolder], { stdio: ['ignore', 'pipe', 'pipe'] });
    let output = '';
    child.stdout.on('data', (chunk: Buffer) => (output += chunk.toString()));
    child.stderr.on('data', (chunk: Buffer) => (output += chunk.toString()));
    child.on('close', (code) => resolve({ output, code }));
  });

describe('the window at the printed address', () => {
  it('shows samples of the simulated burner, without any complaint of the browser', async () => {
    app = await startAppProcess({ source: 'newcomer' });
    const { page, complaints } = await open(app.link);
    await page.waitForFunction(() => /O2\s*%, dry\s*\d+\.\d/.test(document.body.innerText));
    expect(await bodyText(page)).toContain('Simulated burner');
    expect(complaints).toEqual([]);
  });

  it('takes the code out of the address at once, and works after a reload', async () => {
    app = await startAppProcess();
    const { page } = await open(app.link);
    await isConnected(page);
    expect(page.url()).toBe(app.address);
    await page.reload();
    await page.waitForFunction(() => document.body.innerText.length > 50);
    const reloaded = await bodyText(page);
    expect(reloaded).not.toMatch(/was used before/);
    expect(reloaded).toContain('Records');
  });

  it('says in words that a link was used before, or that none was given', async () => {
    app = await startAppProcess();
    const first = await open(app.link);
    await isConnected(first.page);
    const second = await open(app.link);
    await second.page.waitForFunction(() => /link was used before/.test(document.body.innerText));
    const third = await open(app.address);
    await third.page.waitForFunction(() => document.body.innerText.length > 20);
    expect(await bodyText(third.page)).not.toContain('Records');
  });

  it('holds no way out: no inline script runs, nothing from elsewhere is loaded', async () => {
    app = await startAppProcess();
    const { page } = await open(app.link);
    await isConnected(page);
    const outcome = await page.evaluate(async () => {
      const inline = document.createElement('script');
      inline.textContent = 'window.inlineRan = true';
      document.head.append(inline);
      const elsewhere = await fetch('http://127.0.0.1:9/').then(
        () => 'loaded',
        () => 'refused',
      );
      return { inlineRan: 'inlineRan' in window, elsewhere };
    });
    expect(outcome).toEqual({ inlineRan: false, elsewhere: 'refused' });
  });

  it('gives the controls to the newest window and tells the old one', async () => {
    app = await startAppProcess({ source: 'simulated' });
    const first = await open(app.link);
    await isConnected(first.page);
    const again = await startAgain(app.dataFolder);
    const [link] = /http:\/\/127\.0\.0\.1:\d+\/#code=[\w-]+/.exec(again.output) ?? [''];
    expect(again).toMatchObject({ code: 0 });
    const before = await bodyText(first.page);
    const second = await open(link);
    await isConnected(second.page);
    await first.page.waitForFunction(
      (old) => document.body.innerText !== old && /[Tt]ake (over|the controls)/.test(document.body.innerText),
      before,
    );
  });
});

describe('the program', () => {
  it('has one host per data folder, also after kill -9', async () => {
    const dataFolder = newFolder();
    app = await startAppProcess({ dataFolder });
    const again = await startAgain(dataFolder);
    expect(again.output).toContain('is running already');
    expect(again.output).toContain(app.address);
    await app.kill();
    expect(existsSync(join(dataFolder, LOCK_FILE))).toBe(true);
    app = await startAppProcess({ dataFolder });
    expect(JSON.parse(readFileSync(join(dataFolder, LOCK_FILE), 'utf8'))).toMatchObject({ pid: app.process.pid });
  });

  it('ends in an orderly way when asked to, and leaves no lock', async () => {
    const dataFolder = newFolder();
    app = await startAppProcess({ dataFolder });
    expect(await app.stop()).toBe(0);
    expect(app.output()).toContain('Flueside ends.');
    expect(existsSync(join(dataFolder, LOCK_FILE))).toBe(false);
    app = undefined;
  });

  it('ends after its last window was closed, when no run is under way', async () => {
    app = await startAppProcess({ extraArgs: ['--linger', '1'] });
    const ended = new Promise((resolve) => app?.process.once('exit', resolve));
    const { page } = await open(app.link);
    await isConnected(page);
    await page.close();
    expect(await ended).toBe(0);
  });

  it('goes on with a run after its last window was closed, and says where', async () => {
    app = await startAppProcess({ source: 'simulated', extraArgs: ['--linger', '1'] });
    const { page } = await open(app.link);
    await page.waitForFunction(() => /Simulated burner/.test(document.body.innerText));
    await page.close();
    const [, link] = await app.printed(/the run goes on\. Open it at (\S+)/);
    const later = await open(link ?? '');
    await later.page.waitForFunction(() => /Simulated burner/.test(document.body.innerText));
  });

  it('refuses what it does not understand with one line and code 2', async () => {
    const child = spawn(process.execPath, ['dist/main/node.mjs', '--spead', '60'], { stdio: ['ignore', 'pipe', 'pipe'] });
    let said = '';
    child.stderr.on('data', (chunk: Buffer) => (said += chunk.toString()));
    expect(await new Promise((resolve) => child.once('close', resolve))).toBe(2);
    expect(said.trim().split('\n')).toHaveLength(1);
    expect(said).toContain('--spead');
  });
});

describe('npm start', () => {
  const begin = (dataFolder: string) => {
    const env = { ...process.env, DISPLAY: '', WAYLAND_DISPLAY: '' };
    const starter = spawn(process.execPath, ['main/scripts/start.mjs', '--data', dataFolder], { stdio: ['ignore', 'pipe', 'pipe'], env });
    let output = '';
    const printed = new Promise<void>((resolve) =>
      starter.stdout.on('data', (chunk: Buffer) => {
        output += chunk.toString();
        if (output.includes('#code=')) resolve();
      }),
    );
    const ended = new Promise<number | null>((resolve) => starter.once('close', (code) => resolve(code)));
    return { starter, printed, ended, output: () => output };
  };
  const hostOf = (dataFolder: string): number => (JSON.parse(readFileSync(join(dataFolder, LOCK_FILE), 'utf8')) as { pid: number }).pid;

  it.skipIf(process.platform !== 'linux')(
    'without a display says the address and why this host, and ends everything when told to',
    async () => {
      const dataFolder = newFolder();
      const { starter, printed, ended, output } = begin(dataFolder);
      await printed;
      expect(output()).toContain('no display here, so neither Electron nor a browser window');
      starter.kill('SIGTERM');
      expect(await ended).toBe(0);
      expect(existsSync(join(dataFolder, LOCK_FILE))).toBe(false);
    },
  );

  it.skipIf(process.platform !== 'linux')('leaves no host behind when the starter itself is killed', async () => {
    const dataFolder = newFolder();
    const { starter, printed, ended } = begin(dataFolder);
    await printed;
    const host = hostOf(dataFolder);
    starter.kill('SIGKILL');
    await ended;
    await vi.waitUntil(() => processStart(host) === undefined, { timeout: PATIENCE_MS });
    expect(existsSync(join(dataFolder, LOCK_FILE))).toBe(false);
  });
});
