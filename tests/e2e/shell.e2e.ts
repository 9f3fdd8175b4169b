/** The desktop shell from outside, where Electron's runtime is installed; skipped (and counted as skipped) where it is not. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { _electron, type ElectronApplication, type Page } from 'playwright-core';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';

const { electronProgram } = (await import(resolve('main/scripts/electron-runtime.mjs'))) as { electronProgram: () => string | undefined };
const program = electronProgram();

describe.skipIf(program === undefined)('the desktop shell', () => {
  let folder = '';
  let shell: ElectronApplication;
  let page: Page;

  beforeEach(async () => {
    folder = mkdtempSync(join(tmpdir(), 'flueside-shell-'));
    const asRoot = process.getuid?.() === 0 ? ['--no-sandbox'] : [];
    shell = await _electron.launch({
      executablePath: program ?? '',
      args: [...asRoot, resolve('.'), '--data', folder, '--source', 'simulated'],
    });
    page = await shell.firstWindow();
  });
  afterEach(async () => {
    // no question is asked when the program itself is told to end
    await shell.evaluate(({ app }) => app.exit(0)).catch(() => undefined);
    rmSync(folder, { recursive: true, force: true });
  });

  it('shows the simulated burner being measured', async () => {
    await page.waitForFunction(() => /Simulated burner/.test(document.body.innerText) && /20\.\d|21\.0/.test(document.body.innerText));
    expect(page.url()).toBe('app://flueside/');
  });

  it('gives its page one transport, and nothing of Node or Electron', async () => {
    const reach = await page.evaluate(() => ({
      node: ['require', 'process', 'module', 'Buffer', 'global'].filter((name) => name in window),
      ours: Object.keys((window as unknown as { flueside: object }).flueside).sort(),
    }));
    expect(reach).toEqual({ node: [], ours: ['onMessage', 'send'] });
  });

  it('goes nowhere else and opens nothing', async () => {
    const opened = await page.evaluate(() => {
      const other = window.open('https://burner.example/');
      location.href = 'https://burner.example/';
      return other === null;
    });
    expect(opened).toBe(true);
    await page.waitForFunction(() => /Simulated burner/.test(document.body.innerText));
    expect(page.url()).toBe('app://flueside/');
    expect(shell.windows()).toHaveLength(1);
  });

  it('goes on with the same run after a reload', async () => {
    await page.waitForFunction(() => /Simulated burner/.test(document.body.innerText));
    await page.reload();
    await page.waitForFunction(() => /Simulated burner/.test(document.body.innerText));
  });

  it('keeps the machine awake while it measures', async () => {
    await page.waitForFunction(() => /Simulated burner/.test(document.body.innerText));
    const blocked = await shell.evaluate(({ powerSaveBlocker }) => [0, 1, 2, 3].some((id) => powerSaveBlocker.isStarted(id)));
    expect(blocked).toBe(true);
  });
});
