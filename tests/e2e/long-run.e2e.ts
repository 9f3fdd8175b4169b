/**
 * A long stored run in the records: shown while it is read, left and come back to, looked at near and far, exported, an export stopped. No
 * cheaper test shows: that a window stays usable while the host reads and writes a long run, and that the browser gets whole files. The
 * reading itself is in tests/main/runs.
 */
import { mkdtempSync, readFileSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { WORK_FOLDER } from '../../main/store/work-folder.ts';
import { startAppProcess, type AppProcess } from '../helpers/host/app-process.ts';
import { violationsOf } from '../helpers/browser/axe.ts';
import { launchChromium } from '../helpers/browser/chromium.ts';
import { writeDayRun } from '../helpers/day-run.ts';
import { keepPicture } from '../helpers/browser/kept-pictures.ts';

/** eight hours at ten lines a second; the whole day is `npm run speed -- day-window` */
const LINES = 300_000;

let browser: Browser;
let app: AppProcess;
let page: Page;
let folder: string;
const complaints: string[] = [];

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'flueside-long-'));
  writeDayRun(folder, 'long', LINES);
  [browser, app] = await Promise.all([launchChromium(), startAppProcess({ dataFolder: folder })]);
  page = await browser.newPage({ viewport: { width: 1280, height: 800 }, colorScheme: 'dark' });
  page.on('pageerror', ({ stack, message }) => complaints.push(stack ?? message));
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  await page.goto(app.link);
  await page.getByRole('button', { name: 'Records' }).click();
  await page.getByRole('button', { name: 'Runs' }).click();
});
afterAll(async () => {
  await page?.close();
  await app?.stop();
  await browser?.close();
  if (folder !== undefined) rmSync(folder, { recursive: true, force: true });
});

const picture = (name: string): Promise<void> => keepPicture(page, name);
const stretch = (): Promise<string> => page.locator('.run-tools [role=status]').innerText();

describe('a long stored run', () => {
  it('shows what has been read of it and how far that is, and can be left and come back to', async () => {
    await page.getByRole('button', { name: 'Look' }).click();
    const reading = page.locator('.run-page .progress-line');
    await reading.waitFor();
    await expect.poll(() => page.getByRole('progressbar').isVisible()).toBe(true);
    await expect.poll(() => reading.innerText()).toMatch(/(Reading the lines|Finding settled readings)[\s\S]*\d+ %/);
    await page.getByText('Finding settled readings').waitFor();
    await page.getByRole('img', { name: /Trend of the run/ }).waitFor();
    await picture('long-run-reading');
    expect(await violationsOf(page)).toEqual([]);
    await page.getByRole('button', { name: 'Back to the runs' }).click();
    await page.getByRole('button', { name: 'Look' }).click();
    await page.getByRole('img', { name: /Trend of the run/ }).waitFor();
    await reading.waitFor({ state: 'detached' });
    await picture('long-run-whole');
  });

  it('is zoomed and scrolled by key and by mouse', async () => {
    const whole = await stretch();
    await page.keyboard.press('+');
    const closer = await stretch();
    expect(closer).not.toBe(whole);
    await page.keyboard.press('ArrowRight');
    const later = await stretch();
    expect(later).not.toBe(closer);
    const box = await page.locator('.run-trend canvas').boundingBox();
    if (box === null) throw new Error('no trend');
    await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
    await page.mouse.wheel(0, -300);
    await expect.poll(stretch).not.toBe(later);
    const before = await stretch();
    await page.mouse.down();
    await page.mouse.move(box.x + box.width / 2 + 200, box.y + box.height / 2, { steps: 5 });
    await page.mouse.up();
    await expect.poll(stretch).not.toBe(before);
    await page.keyboard.press('End');
    await expect.poll(stretch).toBe(whole);
  });

  it('is exported whole, in every form', async () => {
    await page.getByRole('button', { name: 'Back to the runs' }).click();
    const rowsOf = {
      CSV: (text: string) => text.split('\r\n').filter((row) => /^\d/.test(row)).length,
      JSON: (text: string) => (JSON.parse(text) as { samples: unknown[] }).samples.length,
      Lines: (text: string) => text.split('\r\n').filter((row) => /^\d/.test(row)).length,
      'Run file': (text: string) => text.split('\n').filter((row) => row.includes('\tline\t')).length,
    } as const;
    for (const [name, rows] of Object.entries(rowsOf)) {
      const [download] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name, exact: true }).click()]);
      expect(rows(readFileSync(await download.path(), 'latin1')), name).toBe(LINES);
    }
  });

  it('says how far an export is, and stops it with nothing left', async () => {
    // a whole day that nobody has opened: its readings have to be found first, so that it takes a while on any computer
    writeDayRun(folder, 'day');
    await page.getByRole('button', { name: 'Visits' }).click();
    await page.getByRole('button', { name: 'Runs' }).click();
    const rows = page.getByRole('row').filter({ has: page.getByRole('button', { name: 'JSON', exact: true }) });
    await expect.poll(() => rows.count()).toBe(2);
    const day = rows.filter({ hasText: /864\s?000/ });
    await day.getByRole('button', { name: 'JSON', exact: true }).click();
    const writing = page.locator('.export-lines .progress-line');
    await writing.waitFor();
    await expect.poll(() => writing.innerText()).toMatch(/Writing JSON[\s\S]*\d+ %/);
    await picture('long-run-export');
    expect(await violationsOf(page)).toEqual([]);
    await page.getByRole('button', { name: 'Stop' }).click();
    await writing.waitFor({ state: 'detached' });
    expect(readdirSync(join(folder, WORK_FOLDER)).filter((name) => name.endsWith('.part'))).toEqual([]);
    expect(complaints).toEqual([]);
  });
});
