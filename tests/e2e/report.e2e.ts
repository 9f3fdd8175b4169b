/**
 * What remains when the van has left: the records window, the report's page in it, and the PDF, against the record that is kept. No cheaper
 * test shows: the page in its frame, what a browser downloads, and the text that is in the PDF. What the report says is in
 * tests/shared/report.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openRecords } from '../../main/store/open.ts';
import { createVisits } from '../../main/store/visits.ts';
import { violationsOf } from '../helpers/browser/axe.ts';
import { startAppProcess, type AppProcess } from '../helpers/host/app-process.ts';
import { launchChromium } from '../helpers/browser/chromium.ts';
import { START_WALL_MS, fullVisit } from '../helpers/visits/full-visit.ts';
import { keepVisit } from '../helpers/visits/kept-visit.ts';
import { hasPdfTools, pdfPages, previewPages } from '../helpers/browser/preview-pages.ts';
import { yearsBefore } from '../helpers/visits/years.ts';
import { keepPicture } from '../helpers/browser/kept-pictures.ts';

let browser: Browser;
let app: AppProcess;
let page: Page;
let folder: string;
const complaints: string[] = [];

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'flueside-records-'));
  const full = fullVisit({ source: 'port' });
  const more = [1, 2, 3, 4].map((years) => yearsBefore(full.visit, years, { stackK: -6 * years, o2: years % 2 === 0 ? -0.3 : 0.4 }));
  await keepVisit(folder, full, { sign: true, more });
  await damageVisit(folder);
  [browser, app] = await Promise.all([launchChromium({ whole: true }), startAppProcess({ dataFolder: folder })]);
  page = await browser.newPage({ viewport: { width: 1280, height: 800 }, colorScheme: 'dark' });
  page.on('pageerror', ({ stack, message }) => complaints.push(stack ?? message));
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  await page.goto(app.link);
});
afterAll(async () => {
  await page?.close();
  await app?.stop();
  await browser?.close();
  if (folder !== undefined) rmSync(folder, { recursive: true, force: true });
});

/** An old visit of another appliance whose body was cut: the other visits are not touched by that. */
async function damageVisit(dataFolder: string): Promise<void> {
  const opened = await openRecords({ folder: dataFolder, wallMs: START_WALL_MS });
  if (!opened.ok) throw new Error(opened.error.code);
  const { db, close } = opened.value;
  const cut = {
    ...fullVisit().visit,
    id: 'visit-cut',
    number: 13,
    applianceId: undefined,
    startedWallMs: START_WALL_MS - 10 * 366 * 86_400_000,
  };
  createVisits(db, () => undefined).adopt(cut, START_WALL_MS);
  db.run('UPDATE visit SET body = ? WHERE id = ?', JSON.stringify(cut).slice(0, 500), cut.id);
  close();
}

const picture = (name: string): Promise<void> => keepPicture(page, name);
const violations = (): Promise<string[]> => violationsOf(page);

describe('records', () => {
  it('show the newest visit against the one before, and the years in one picture', async () => {
    await page.getByRole('button', { name: 'Records' }).click();
    await page.getByRole('heading', { name: 'Boiler in Training house B' }).waitFor();
    await page.getByText('The stack was left hotter than at visit 35').waitFor();
    await expect.poll(() => page.getByRole('navigation', { name: 'Visits' }).getByRole('button').count()).toBe(6);
    await expect.poll(() => page.getByRole('img', { name: /2022: .*2026: / }).isVisible()).toBe(true);
    await picture('records');
    expect(await violations()).toEqual([]);
  });

  it('find a visit while it is typed, and say so when there is none', async () => {
    await page.keyboard.press('/');
    await page.keyboard.type('2024-11');
    const list = page.getByRole('navigation', { name: 'Visits' });
    await expect.poll(() => list.getByRole('button').count()).toBe(1);
    await page.keyboard.type('x');
    await page.getByText('Nothing is found for “2024-11x”.').waitFor();
    await page.getByRole('searchbox').fill('');
    await expect.poll(() => list.getByRole('button').count()).toBe(6);
  });

  it('show a signed visit as locked, with every change that was made', async () => {
    await page
      .getByRole('navigation', { name: 'Visits' })
      .getByRole('button', { name: /^Visit 42/ })
      .click();
    await page.getByText(/Signed by A\. Sample, 24 Nov 2026/).waitFor();
    await expect.poll(() => page.getByRole('button', { name: 'Delete' }).count()).toBe(0);
    await expect.poll(() => page.getByText('read again').isVisible()).toBe(true);
  });

  it('show the report as a page of its own that may do nothing', async () => {
    await page.getByRole('button', { name: 'Report', exact: true }).click();
    await page.getByRole('button', { name: 'A4' }).click();
    const frame = page.frameLocator('iframe:not([aria-hidden])');
    await frame.getByRole('heading', { name: 'Burner tune-up' }).waitFor();
    await frame.getByRole('heading', { name: 'For the owner' }).waitFor();
    const address = await page.locator('iframe:not([aria-hidden])').getAttribute('src');
    const answer = await fetch(new URL(address ?? '', app.address));
    expect(answer.headers.get('content-security-policy')).toContain("default-src 'none'");
    expect(await answer.text()).not.toContain('<script');
    await picture('report');
    expect(await violations()).toEqual([]);
  });

  it('hand the report out as files', async () => {
    for (const [name, ending] of [
      ['PDF', '.pdf'],
      ['CSV', '.csv'],
      ['JSON', '.json'],
    ] as const) {
      const [download] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name, exact: true }).click()]);
      expect(download.suggestedFilename()).toBe(`flueside-visit-42-2026-11-24${ending}`);
      const content = readFileSync(await download.path());
      if (ending === '.pdf') {
        expect(content.subarray(0, 5).toString()).toBe('%PDF-');
        const shown = await (await page.locator('iframe:not([aria-hidden])').elementHandle())?.contentFrame();
        // what is on a page of the preview is on that page of the PDF
        if (hasPdfTools) expect(await previewPages(shown!)).toEqual(pdfPages(content));
      }
      if (ending === '.json') expect(JSON.parse(content.toString())).toMatchObject({ format: 'flueside-report', visit: { number: 42 } });
    }
  });

  it('say what a backup did, and take visits of another computer in without overwriting', async () => {
    await page.getByRole('button', { name: 'Back to the records' }).click();
    const [packed] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: 'Export', exact: true }).click()]);
    const file = join(folder, 'moved.zip');
    writeFileSync(file, readFileSync(await packed.path()));
    await page.getByRole('button', { name: 'Storage' }).click();
    await picture('keeping');
    expect(await violations()).toEqual([]);
    await page.getByLabel('Add visits from a file', { exact: true }).last().setInputFiles(file);
    await page.getByText('No visit was added; 1 was here already.').waitFor();
    const [backup] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: 'Make a backup' }).click()]);
    expect(backup.suggestedFilename()).toMatch(/^flueside-backup-.*\.zip$/);
    await page.getByText(/is ready\.$/).waitFor();
  });

  it('shows appliances, runs and instruments', async () => {
    await page.getByRole('button', { name: 'Appliances' }).click();
    await page.getByRole('heading', { name: 'Boiler in Training house B' }).waitFor();
    await picture('appliance');
    expect(await violations()).toEqual([]);
    await page.getByRole('button', { name: 'Runs' }).click();
    await page.getByText('serial port').waitFor();
    await picture('runs');
  });

  it('open a stored run, near and far, by keys', async () => {
    await page.getByRole('button', { name: 'Look', exact: true }).click();
    const chart = page.getByRole('img', { name: /^Trend of the run/ });
    await chart.waitFor();
    const tools = page.getByRole('group', { name: 'Trend of the channels' });
    const stretch = (): Promise<string> => tools.getByRole('status').innerText();
    const whole = await stretch();
    await page.keyboard.press('+');
    await page.keyboard.press('+');
    await expect.poll(stretch).not.toBe(whole);
    const near = await stretch();
    await page.keyboard.press('ArrowRight');
    await expect.poll(stretch).not.toBe(near);
    await page.keyboard.press('End');
    await expect.poll(stretch).toBe(whole);
    await picture('run');
    expect(await violations()).toEqual([]);
    await page.getByRole('button', { name: 'Back to the runs' }).click();
    await page.getByRole('button', { name: 'Look', exact: true }).waitFor();
  });

  it('say so in its place when a visit cannot be read', async () => {
    await page.getByRole('button', { name: 'Visits', exact: true }).click();
    await page
      .getByRole('navigation', { name: 'Visits' })
      .getByRole('button', { name: /^Visit 13/ })
      .click();
    await page.getByRole('heading', { name: 'This visit cannot be read.' }).waitFor();
    expect(await violations()).toEqual([]);
  });

  it('without a complaint of the browser', () => {
    expect(complaints).toEqual([]);
  });
});

describe.skipIf(!hasPdfTools)('the PDF of the command line', () => {
  const text = (paper: string): string => {
    const out = join(folder, `out-${paper}`);
    execFileSync(process.execPath, ['main/scripts/cli.mjs', 'report', '42', '--out', out, '--paper', paper, '--data', folder]);
    const file = join(out, 'flueside-visit-42-2026-11-24.pdf');
    const facts = execFileSync('pdfinfo', [file], { encoding: 'utf8' });
    expect(facts).toMatch(/Tagged:\s+yes/);
    expect(facts).toMatch(paper === 'a4' ? /\(A4\)/ : /612 x 792 pts \(letter\)/);
    return execFileSync('pdftotext', ['-layout', file, '-'], { encoding: 'utf8' });
  };

  it.each(['a4', 'letter'])('says what the record holds, on %s', (paper) => {
    const page_ = text(paper);
    for (const words of [
      'Burner tune-up',
      'For the owner',
      'Technical record',
      'Boiler in Training house B',
      'A. Sample, T-100',
      'Signed in Flueside',
      'page 1 of',
      'Lockout, no ignition',
      'NORA, Oilheat Technicians Manual, p 153',
    ])
      expect(page_).toContain(words);
    // the list of changes is an annex, printed on request only
    expect(page_).not.toContain('read again');
  });
});
