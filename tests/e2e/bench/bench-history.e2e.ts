/**
 * An instrument with two years of tests: its trend, the end of its cell, and why it answers more slowly, in a real browser. No cheaper test
 * shows: the drawn trend of stored tests with nothing for axe to find in both themes. Its figures are in tests/shared/bench.
 */
import { execFile } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { promisify } from 'node:util';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openRecords } from '../../../main/store/open.ts';
import { violationsOf } from '../../helpers/browser/axe.ts';
import { startAppProcess, type AppProcess } from '../../helpers/host/app-process.ts';
import { launchChromium } from '../../helpers/browser/chromium.ts';
import { pressEnter } from '../../helpers/browser/main-button.ts';
import { testWith } from '../../shared/bench/made-test.ts';

const HALF_YEAR_MS = 182.625 * 86_400_000;
const FIRST_MS = Date.UTC(2024, 8, 10, 9);
/** A CO cell that loses about 5 % each half year and is set right every time; the filter clogs. */
const tests = [1000, 952, 947, 953, 949].map((co, i) => {
  const { watermark: _, ...test } = testWith({ wallMs: FIRST_MS + i * HALF_YEAR_MS, co, t90S: 30 + 6 * i, left: 1000 });
  return { ...test, session: `session-${i}`, status: 'done' as const, endedWallMs: test.startedWallMs + 600_000 };
});

let browser: Browser;
let app: AppProcess;
let page: Page;
const folder = mkdtempSync(join(tmpdir(), 'flueside-bench-'));

beforeAll(async () => {
  const opened = await openRecords({ folder, wallMs: FIRST_MS });
  if (!opened.ok) throw new Error(opened.error.code);
  const keep = (kind: string, id: string, body: unknown): void =>
    opened.value.db.run(
      'INSERT INTO document (kind, id, parent_id, changed_ms, revision, search, body) VALUES (?, ?, ?, ?, ?, ?, ?)',
      kind,
      id,
      kind === 'bench-test' ? 'i1' : null,
      0,
      1,
      '',
      JSON.stringify(body),
    );
  keep('instrument', 'i1', tests[0]!.instrument);
  tests.forEach((test, i) => keep('bench-test', `test-${i}`, test));
  opened.value.db.close();
  browser = await launchChromium();
  app = await startAppProcess({ source: 'none', dataFolder: folder });
  page = await browser.newPage({ viewport: { width: 1280, height: 800 }, colorScheme: 'dark', reducedMotion: 'reduce' });
  await page.goto(app.link);
});
afterAll(async () => {
  await browser?.close();
  await app?.stop();
  rmSync(folder, { recursive: true, force: true });
});

describe('an instrument over its tests', () => {
  it('shows the error test by test, when the cell will be worn out, and how sure that is', async () => {
    await page.getByRole('button', { name: 'Bench', exact: true }).waitFor();
    await page.keyboard.press('Control+2');
    await page.getByRole('button', { name: 'Open Instrument 3' }).first().click();
    // as left the last test is right; as found shows what the cell did
    await page.getByRole('button', { name: 'As found' }).click();
    const trend = page.getByRole('region', { name: 'Earlier tests' });
    await trend.getByRole('img', { name: /CO error at 1.000.ppm, test by test/ }).waitFor();
    const sentence = (await trend.getByText(/The cell loses sensitivity/).textContent()) ?? '';
    // sensitivity 1, 0.952, 0.902, 0.859, 0.815 by hand: 0.0927 a year, 0.7 about 1.25 years after the last test of September 2026
    const [when = '', from = '', to = ''] = sentence.match(/\d{4}-\d{2}-\d{2}/g) ?? [];
    expect(when > '2027-08' && when < '2028-04', sentence).toBe(true);
    expect(from < when && to > when, sentence).toBe(true);
    expect(sentence).toContain('95 %');
  });

  it('points to the filter first when it answers more slowly than at its first test', async () => {
    // 54 s against 30 s
    await page
      .getByText('CO answers 80 % slower than at its first test. Look at the filter and the hose first, then at the cell.')
      .waitFor();
    expect(await violationsOf(page)).toEqual([]);
    await page.emulateMedia({ colorScheme: 'light' });
    expect(await violationsOf(page)).toEqual([]);
  });

  it('opens an earlier test by keys, and that one tells what was known then', async () => {
    await page.keyboard.press('t');
    const rows = page.getByRole('dialog').getByRole('listitem');
    await rows.first().waitFor();
    await expect.poll(() => rows.count()).toBe(5);
    expect(await violationsOf(page)).toEqual([]);
    await rows.getByRole('button', { name: /2025-03-1/ }).focus();
    await pressEnter(page);
    await page.getByRole('button', { name: 'As found' }).click();
    await page.getByText('2 tests so far; three are needed for a forecast of the cell.').waitFor();
  });

  it('is signed in one window and seen to be signed in another, on the paper too', async () => {
    const args = [resolve('dist/main/node.mjs'), '--no-open', '--data', folder, '--as', 'viewer'];
    const { stdout } = await promisify(execFile)(process.execPath, args);
    const link = /http:\/\/127\.0\.0\.1:\d+\/#code=[\w-]+/.exec(stdout)?.[0] ?? '';
    const other = await (await browser.newContext({ viewport: { width: 1280, height: 800 } })).newPage();
    await other.goto(link);
    await page.reload();
    const windows = [page, other];
    for (const one of windows) {
      await one.getByRole('button', { name: 'Bench', exact: true }).click();
      await one.getByRole('button', { name: 'Open Instrument 3' }).first().click();
      await one.getByRole('button', { name: /^Certificate/ }).click();
      await one.frameLocator('iframe:not([aria-hidden])').getByText('Not signed yet').first().waitFor();
    }
    await expect.poll(() => other.getByRole('button', { name: /^Sign/ }).count()).toBe(0);
    await page.getByLabel('Name of the person who signs').fill('B. Tester');
    await page.getByRole('button', { name: /^Sign/ }).click();
    for (const one of windows) {
      await one.getByText('Signed by B. Tester').first().waitFor();
      const signed = one
        .frameLocator('iframe:not([aria-hidden])')
        .getByText(/^Signed by B. Tester/)
        .first();
      await signed.waitFor();
      // the signature is in view, not only on the paper
      const frame = await one.locator('iframe:not([aria-hidden])').boundingBox();
      const place = await signed.boundingBox();
      expect(place!.y).toBeGreaterThanOrEqual(frame!.y);
      expect(place!.y + place!.height).toBeLessThanOrEqual(frame!.y + frame!.height);
    }
    await other.context().close();
  });
});
