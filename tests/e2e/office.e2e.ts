/**
 * Two laptops of one workshop and a shared folder. What one has signed the other sees beside its own as-found, without anybody carrying a file; and what
 * is only in the office is found in Records and said to be there. No cheaper test shows: two whole hosts and their windows at one folder; merging and the
 * queue are in tests/shared/office and tests/main/office.
 */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { initFolderOffice } from '../../main/office/folder/marker.ts';
import { SETTINGS_FILE } from '../../main/settings/settings-file.ts';
import { openRecords } from '../../main/store/open.ts';
import { storeTables } from '../../main/store/tables.ts';
import type { Visit } from '../../shared/tuning/visit/visit.ts';
import { sinceWords } from '../../shared/words/visit/since-last.ts';
import { officeWords as words } from '../../shared/words/records/office.ts';
import { startAppProcess, type AppProcess } from '../helpers/host/app-process.ts';
import { violationsOf } from '../helpers/browser/axe.ts';
import { launchChromium } from '../helpers/browser/chromium.ts';
import { fullVisit, START_WALL_MS } from '../helpers/visits/full-visit.ts';
import { keepVisit } from '../helpers/visits/kept-visit.ts';
import { keepPicture } from '../helpers/browser/kept-pictures.ts';

const DAY_MS = 86_400_000;
const full = fullVisit({ source: 'port' });
let root: string;
let browser: Browser;
let first: AppProcess;
let second: AppProcess;
let page: Page;
const complaints: string[] = [];

const picture = (name: string): Promise<void> => keepPicture(page, `two-laptops-${name}`);

const settings = (laptop: string, office: object): void =>
  writeFileSync(join(root, laptop, SETTINGS_FILE), JSON.stringify({ technician: { name: laptop }, office }));

beforeAll(async () => {
  root = mkdtempSync(join(tmpdir(), 'flueside-two-laptops-'));
  const office = { kind: 'folder', folder: join(root, 'office') };
  await initFolderOffice(office.folder, 'North');
  await keepVisit(join(root, 'A'), full, { sign: true });
  settings('A', office);
  // the second laptop knows nothing of the appliance but its id: today's visit there has its as-found
  const opened = await openRecords({ folder: join(root, 'B'), wallMs: START_WALL_MS });
  if (!opened.ok) throw new Error(opened.error.code);
  const { signature: _, endedWallMs: _ended, ...rest } = full.visit;
  const found = rest.stages[0]?.asFoundTrialId;
  const today: Visit = {
    ...rest,
    id: 'visit-today',
    number: 1,
    startedWallMs: START_WALL_MS + 300 * DAY_MS,
    runs: [],
    trials: rest.trials.filter(({ id }) => id === found),
    stages: [{ name: '1', ...(found !== undefined && { asFoundTrialId: found }) }],
    at: { step: 'as-found', stage: '1' },
    edits: [],
  };
  storeTables(opened.value).visits.adopt(today, today.startedWallMs);
  opened.value.close();
  settings('B', {});
  [browser, first] = await Promise.all([launchChromium(), startAppProcess({ dataFolder: join(root, 'A'), speed: 10 })]);
  second = await startAppProcess({ dataFolder: join(root, 'B'), speed: 10 });
  page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
  page.on('pageerror', ({ stack, message }) => complaints.push(stack ?? message));
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  await page.goto(second.link);
});
afterAll(async () => {
  await page?.close();
  await first?.stop();
  await second?.stop();
  await browser?.close();
  if (root !== undefined) rmSync(root, { recursive: true, force: true });
});

const records = async (section: string): Promise<void> => {
  await page.getByRole('button', { name: 'Records', exact: true }).click();
  await page.getByRole('group', { name: 'Parts of the records' }).getByRole('button', { name: section, exact: true }).click();
};

describe('two laptops of a workshop', () => {
  it('the second joins: one test, then it is used', async () => {
    await page
      .getByRole('button', { name: /^Settings/ })
      .first()
      .click();
    const part = page.getByRole('region', { name: words.title });
    await part.getByLabel(words.kind, { exact: true }).selectOption('folder');
    await part.getByLabel(words.folder).fill(join(root, 'nowhere'));
    await part.getByRole('button', { name: words.test }).click();
    await part.getByText('cannot be reached').first().waitFor();
    await part.getByLabel(words.folder).fill(join(root, 'office'));
    await part.getByRole('button', { name: words.test }).click();
    await part.getByText('The office "North" answers').waitFor();
    expect(await violationsOf(page)).toEqual([]);
    await part.getByRole('button', { name: words.use }).click();
    await part.getByText(words.phases.ready).waitFor();
    await picture('settings');
    await page.keyboard.press('Escape');
  });

  it('the appliance that the first has served is found, and is said to be there and not here', async () => {
    await records('Office');
    await page.getByLabel(words.search).fill(full.appliance.name.split(' ')[0] ?? '');
    // the first laptop sends by itself, in its own time
    await expect
      .poll(async () => {
        await page.getByRole('button', { name: words.searchNow }).click();
        return page.getByText(words.isThere).or(page.getByText(words.isHere)).count();
      })
      .toBeGreaterThan(0);
    expect(await violationsOf(page)).toEqual([]);
    await picture('records');
    await page.getByRole('button', { name: new RegExp(`^(${words.take}|${words.look})$`) }).click();
    await page.getByRole('heading', { level: 1, name: full.appliance.name }).waitFor();
  });

  it('opens its visit and sees what the first left beside what it found today', async () => {
    await page.getByRole('button', { name: 'Tune', exact: true }).click();
    await page
      .getByRole('button', { name: /Go on with visit 1/ })
      .first()
      .click();
    const table = page.getByRole('table', { name: sinceWords.title });
    await table.waitFor();
    await expect.poll(() => table.innerText()).toContain(sinceWords.lastLeft);
    await picture('as-found');
    expect(complaints).toEqual([]);
  });
});
