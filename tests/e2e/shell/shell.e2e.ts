/**
 * The desktop app from outside: what its window shows, what its dialogs ask, what it leaves on the disk. `npm run shell` runs these journeys in
 * a real Electron; `npm run journeys` in plain Node over a stand-in (start.ts). No cheaper test shows: main process, preload and page together.
 */
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, afterEach, describe, expect, it, vi } from 'vitest';
import { LOCK_FILE } from '../../../main/session/instance-lock.ts';
import { desktop } from '../../../shared/words/desktop.ts';
import { noPty, startPty, type Pty } from '../../helpers/ports/pty.ts';
import { call } from './page-calls.ts';
import type { FakeShell } from './fake-shell.ts';
import type { Shell, ShellOptions } from './shell.ts';
import { endShells, isReal, startShell } from './start.ts';

let shell: Shell | undefined;
let pty: Pty | undefined;
afterEach(async () => {
  await shell?.clear();
  await pty?.stop();
  shell = pty = undefined;
});

afterAll(() => endShells());

async function start(options: ShellOptions): Promise<{ shell: Shell; page: Page }> {
  shell = await startShell(options);
  return { shell, page: await shell.page() };
}
const simulated = { args: ['--source', 'simulated'] };
/** The burner's name and a figure of O2, whatever it is by now: a busy computer may come to look after the flame. */
const shown = /Simulated burner[^]*O2\s*%, dry\s*\d+\.\d/;
const measures = (page: Page) => page.waitForFunction((looked) => looked.test(document.body.innerText), shown);

/** Times of a run's lines, ms, from its file. */
function lineTimes(dataFolder: string): number[] {
  const folder = join(dataFolder, 'runs');
  const [file = ''] = existsSync(folder) ? readdirSync(folder).filter((name) => /\.(flueside-)?run$/.test(name)) : [];
  if (file === '') return [];
  return readFileSync(join(folder, file), 'latin1')
    .split('\n')
    .map((line) => line.split('\t'))
    .filter(([, kind]) => kind === 'line')
    .map(([ms]) => Number(ms));
}
const longestGap = (times: readonly number[]): number => Math.max(...times.slice(1).map((ms, at) => ms - (times[at] ?? 0)));

describe('the window', () => {
  it('is shown, on its own page, with the simulated burner being measured; the computer is kept awake', async () => {
    const { shell, page } = await start(simulated);
    await measures(page);
    await expect.poll(() => shell.isVisible()).toBe(true);
    expect(await shell.isKeptAwake()).toBe(true);
    expect((await call<{ host: string }>(page, 'session.hello')).host).toBe('electron');
  });

  it('has one transport, and nothing of Node or Electron', async () => {
    const { page } = await start(simulated);
    const reach = await page.evaluate(() => ({
      node: ['require', 'process', 'module', 'Buffer', 'global'].filter((name) => name in window),
      ours: Object.keys((window as unknown as { flueside: object }).flueside).sort(),
    }));
    expect(reach).toEqual({ node: [], ours: ['onMessage', 'send'] });
  });

  // what Electron's own handlers forbid: a plain browser does not have them, so that only a real one shows it (tests/main/shell/harden.test.ts)
  it.skipIf(!isReal)('goes nowhere else and opens nothing', async () => {
    const { shell, page } = await start(simulated);
    await measures(page);
    const address = page.url();
    const opened = await page.evaluate(() => {
      const other = window.open('https://burner.example/');
      location.href = 'https://burner.example/';
      return other === null;
    });
    expect(opened).toBe(true);
    await measures(page);
    expect(page.url()).toBe(address);
    expect(await shell.windows()).toBe(1);
  });

  it('shows the same run after a reload and after its page crashed', async () => {
    const { shell, page } = await start(simulated);
    await measures(page);
    const runsOf = async () => (await call<{ runs: { runId: string; phase: string }[] }>(page, 'session.hello')).runs;
    const before = await runsOf();
    await page.reload();
    await measures(page);
    expect(await runsOf()).toMatchObject(before.map(({ runId, phase }) => ({ runId, phase })));
    await shell.crashPage();
    await vi.waitUntil(async () => shown.test(await shell.text()), { timeout: 20_000, interval: 200 });
    const folder = join(shell.dataFolder, 'runs');
    expect(readdirSync(folder).filter((name) => /run$/.test(name))).toHaveLength(before.length);
    const lines = lineTimes(shell.dataFolder).length;
    await vi.waitUntil(() => lineTimes(shell.dataFolder).length > lines + 1, 20_000);
    expect(longestGap(lineTimes(shell.dataFolder))).toBeLessThan(5 * 1000);
  });
});

describe('closing during a run', () => {
  it('with the cross asks; meanwhile the run goes on; "Keep measuring" changes nothing, the other ends it and the app', async () => {
    const { shell, page } = await start(simulated);
    await measures(page);
    await shell.pressCross();
    const first = await shell.question();
    expect(first).toMatchObject({ message: desktop.closing.message, buttons: [desktop.closing.stay, desktop.closing.end] });
    const before = lineTimes(shell.dataFolder).length;
    await vi.waitUntil(() => lineTimes(shell.dataFolder).length >= before + 3, 20_000);
    await shell.answer(first, desktop.closing.stay);
    await measures(page);
    expect(await shell.windows()).toBe(1);
    await shell.pressCross();
    await shell.answer(await shell.question(), desktop.closing.end);
    expect(await shell.ended()).toBe(0);
    expect(existsSync(join(shell.dataFolder, LOCK_FILE))).toBe(false);
  });

  it.skipIf(noPty !== undefined)('of an instrument: no line is stamped late while the question is shown', async () => {
    pty = await startPty();
    await pty.ask('rate 10');
    const { shell } = await start({ args: ['--source', pty.path] });
    await vi.waitUntil(() => lineTimes(shell.dataFolder).length > 10, 30_000);
    await shell.pressCross();
    const question = await shell.question();
    const before = lineTimes(shell.dataFolder).length;
    await vi.waitUntil(() => lineTimes(shell.dataFolder).length >= before + 40, 30_000);
    const shown = lineTimes(shell.dataFolder).slice(before);
    // A dialog that waits gave all of them one time, after a gap as long as the whole. How long the loop itself stands still is watched to 200 ms.
    expect(longestGap(shown)).toBeLessThan(((shown.at(-1) ?? 0) - (shown[0] ?? 0)) / 4);
    expect(new Set(shown).size).toBeGreaterThan(shown.length / 2);
    await shell.answer(question, desktop.closing.end);
    expect(await shell.ended()).toBe(0);
  });
});

describe('a second start', () => {
  it('shows the window of the first and hands its file over, seen from its own folder', async () => {
    const first = await start(simulated);
    await measures(first.page);
    await vi.waitUntil(() => lineTimes(first.shell.dataFolder).length > 5, 20_000);
    const folder = join(first.shell.dataFolder, 'runs');
    const [name = ''] = readdirSync(folder).filter((one) => /run$/.test(one));
    const copy = 'Kitchen.flueside-run';
    const text = readFileSync(join(folder, name), 'latin1');
    writeFileSync(join(first.shell.documents, copy), text, 'latin1');
    expect(await first.shell.startAgain([copy], first.shell.documents)).toBe(0);
    const told = await first.shell.question();
    expect(told.message).toBe(desktop.runAdded(copy, true));
    await first.shell.answer(told, told.buttons[0] ?? '');
    expect(await first.shell.windows()).toBe(1);
  });

  it('with --as instructor opens one more window, in that role', async () => {
    const { shell, page } = await start(simulated);
    await measures(page);
    expect(await shell.startAgain(['--as', 'instructor'])).toBe(0);
    await vi.waitUntil(async () => (await shell.windows()) === 2, 20_000);
    expect((await call<{ role: string }>(page, 'session.hello')).role).toBe('operator');
  });
});

describe('a file that is opened with the app', () => {
  it('is taken in, and that is said; one that is no run is refused in words', async () => {
    const { shell, page } = await start({ args: ['--source', 'none'] });
    const broken = join(shell.documents, 'Broken.flueside-run');
    writeFileSync(broken, 'no run at all\n');
    expect(await shell.startAgain([broken])).toBe(0);
    const refused = await shell.question();
    expect(refused.message).toBe(desktop.cannotOpen('Broken.flueside-run'));
    expect(refused.detail).not.toBe('');
    await shell.answer(refused, refused.buttons[0] ?? '');
    expect((await call<{ role: string }>(page, 'session.hello')).role).toBe('operator');
  });
});

describe('told to end by the system', () => {
  it.skipIf(process.platform === 'win32')('(SIGTERM) it flushes the run, asks nothing and gives the folder free', async () => {
    const { shell, page } = await start(simulated);
    await measures(page);
    process.kill(shell.pid, 'SIGTERM');
    expect(await shell.ended()).toBe(0);
    expect(existsSync(join(shell.dataFolder, LOCK_FILE))).toBe(false);
    expect(lineTimes(shell.dataFolder).length).toBeGreaterThan(0);
  });

  it('and killed, it starts again in the same folder without a word about a lock', async () => {
    const { shell: first, page } = await start(simulated);
    await measures(page);
    process.kill(first.pid, 'SIGKILL');
    await first.ended();
    expect(existsSync(join(first.dataFolder, LOCK_FILE))).toBe(true);
    const again = await startShell({ dataFolder: first.dataFolder, ...simulated });
    try {
      const fresh = await again.page();
      await fresh.waitForFunction(() => document.body.innerText.length > 50);
      expect((await call<{ host: string }>(fresh, 'session.hello')).host).toBe('electron');
    } finally {
      await again.clear();
    }
  });
});

describe.skipIf(isReal)('the stand-in', () => {
  it.each([
    ['a loop that stands still', { kind: 'stand-still', ms: 3000 }, /stood still for more than 1000 ms/],
    ['a dialog that waits', { kind: 'wait-in-dialog' }, /showMessageBoxSync/],
  ] as const)('would report %s during a run: the check can fail', async (_name, message, what) => {
    const { shell: fake, page } = await start(simulated);
    await measures(page);
    const { breaches } = fake as FakeShell;
    expect(breaches).toEqual([]);
    // what a thread waits for its turn is not counted: on a busy computer it may take more than one
    const isSeen = (): boolean => breaches.some((breach) => what.test(breach));
    for (let time = 0; time < 10 && !isSeen(); time++) {
      (fake as FakeShell).tell(message);
      await vi.waitUntil(isSeen, 5000).catch(() => undefined);
    }
    expect(isSeen()).toBe(true);
    await expect(fake.clear()).rejects.toThrow(what);
    shell = undefined;
  });
});
