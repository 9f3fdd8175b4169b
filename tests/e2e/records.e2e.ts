/**
 * What the office does with the records, through the window: particulars and due dates, search, years compared, a person taken out, a visit
 * and an appliance deleted, a backup brought back. What is gone is looked for in the window, in the search, in newly made reports, and in
 * every byte of the data folder. No cheaper test shows: that nothing of a person is left in window, files, reports and every byte of the
 * folder at once; the single steps are in tests/main/store.
 * One story: what is made in one part is looked for in the next, so the parts stay together in one file (longer than 300 lines).
 */
import { execFileSync, spawnSync } from 'node:child_process';
import { copyFileSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Download, Locator, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { openDatabase } from '../../main/store/database.ts';
import { openRecords } from '../../main/store/open.ts';
import { createAppliances } from '../../main/store/appliances.ts';
import { SETTINGS_FILE } from '../../main/settings/settings-file.ts';
import { timeHere } from '../../renderer/views/records/due.ts';
import { readReportDocument, type ReportDocument } from '../../shared/report/report-json.ts';
import { figureOf } from '../../shared/tuning/trial/trial-figures.ts';
import type { Visit } from '../../shared/tuning/visit/visit.ts';
import { violationsOf } from '../helpers/browser/axe.ts';
import { startAppProcess, type AppProcess } from '../helpers/host/app-process.ts';
import { launchChromium } from '../helpers/browser/chromium.ts';
import { START_WALL_MS, fullVisit } from '../helpers/visits/full-visit.ts';
import { keepVisit } from '../helpers/visits/kept-visit.ts';
import { yearsBefore } from '../helpers/visits/years.ts';
import { problems } from '../../shared/words/problems.ts';
import { filesWith } from '../helpers/files-with.ts';
import { keepPicture } from '../helpers/browser/kept-pictures.ts';

const hasPdfTools = spawnSync('pdftotext', ['-v']).status === 0;
if (!hasPdfTools) console.warn('The PDF is not read back: pdftotext (poppler-utils) is not installed.');

/** invented, and found nowhere else in the program */
const person = { owner: 'Zebedee Quillfeather', place: '7 Marzipan Lane, Umbrellaford', contact: 'door bell 3, zq@umbrellaford.test' };
const PERSON_WORDS = ['zebedee', 'quillfeather', 'marzipan', 'umbrellaford'];
const VISIT_WORD = 'xylograph';

let browser: Browser;
let app: AppProcess;
let page: Page;
let folder: string;
const complaints: string[] = [];
const full = fullVisit({ source: 'port' });

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'flueside-office-'));
  const more = [1, 2, 3].map((years) => yearsBefore(full.visit, years, { stackK: -6 * years, o2: 0.3 * years }));
  const { signature: _signature, ...unsigned } = full.visit;
  const later: Visit = {
    ...unsigned,
    id: 'visit-later',
    number: 50,
    startedWallMs: START_WALL_MS + 86_400_000,
    runs: [],
    notes: [{ wallMs: START_WALL_MS, text: `${person.owner} of ${person.place} heard a ${VISIT_WORD}` }],
  };
  await keepVisit(folder, { ...full, appliance: { ...full.appliance, nextDue: undefined } }, { sign: true, more: [...more, later] });
  const opened = await openRecords({ folder, wallMs: START_WALL_MS });
  if (!opened.ok) throw new Error(opened.error.code);
  const appliances = createAppliances(opened.value.db);
  appliances.save('appliance-2', { format: 1, name: 'Furnace of the workshop', kind: 'furnace', nextDue: '2020-01-31' }, START_WALL_MS);
  appliances.save('appliance-3', { format: 1, name: 'Heater of the annexe', kind: 'water-heater' }, START_WALL_MS + 1);
  opened.value.close();
  writeFileSync(join(folder, SETTINGS_FILE), JSON.stringify({ technician: { name: 'B. Fitter' } }));
  [browser, app] = await Promise.all([launchChromium(), startAppProcess({ dataFolder: folder })]);
  page = await browser.newPage({ viewport: { width: 1280, height: 800 }, colorScheme: 'dark' });
  page.on('pageerror', ({ stack, message }) => complaints.push(stack ?? message));
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  await page.goto(app.link);
  await page.getByRole('button', { name: 'Records' }).click();
});
afterAll(async () => {
  await page?.close();
  await app?.stop();
  await browser?.close();
  if (folder !== undefined) rmSync(folder, { recursive: true, force: true });
});

const picture = (name: string): Promise<void> => keepPicture(page, `office-${name}`);
const press = (name: string | RegExp): Promise<void> => page.getByRole('button', { name, exact: true }).click();
const dialog = (): Locator => page.getByRole('dialog');
const section = (name: string): Promise<void> =>
  page.getByRole('group', { name: 'Parts of the records' }).getByRole('button', { name, exact: true }).click();
const rows = (list: 'Visits' | 'Appliances'): Locator => page.getByRole('navigation', { name: list }).getByRole('listitem');
const firstLines = async (list: 'Visits' | 'Appliances'): Promise<string[]> =>
  (await rows(list).allInnerTexts()).map((text) => text.split('\n')[0] ?? '');
const choose = (list: 'Visits' | 'Appliances', name: RegExp): Promise<void> =>
  page.getByRole('navigation', { name: list }).getByRole('button', { name }).click();
const changesOfAppliance = (): Locator => page.getByRole('region', { name: 'Changes to this appliance, and who made them' });
/** time, by, field, before, after of each */
const changeLines = async (): Promise<string[][]> => {
  const lines = await changesOfAppliance().locator('tbody tr').all();
  return Promise.all(
    lines.map(async (line) => (await line.getByRole('cell').allInnerTexts()).map((text) => text.replace(/[\s\u2009]+/g, ' ').trim())),
  );
};
const alerts = (): Promise<string[]> => page.locator('.alert-band').allInnerTexts();
const shown = async (): Promise<string> => (await page.locator('body').innerText()).toLowerCase();

/** The report of the visit on screen in one form, as text. */
async function reportText(form: 'PDF' | 'HTML' | 'CSV' | 'JSON'): Promise<string> {
  const [download] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: form, exact: true }).click()]);
  const path = await download.path();
  return form === 'PDF' ? execFileSync('pdftotext', ['-layout', path, '-'], { encoding: 'utf8' }) : readFileSync(path, 'utf8');
}
const forms = hasPdfTools ? (['PDF', 'HTML', 'CSV', 'JSON'] as const) : (['HTML', 'CSV', 'JSON'] as const);

async function reportsOf(visit: RegExp): Promise<Record<string, string>> {
  await section('Visits');
  await choose('Visits', visit);
  await press('Report');
  await page.frameLocator('iframe:not([aria-hidden])').getByRole('heading', { name: 'Technical record' }).waitFor();
  const made: Record<string, string> = {};
  for (const form of forms) made[form] = await reportText(form);
  await press('Back to the records');
  return made;
}

const documentOf = (text: string | undefined): ReportDocument => {
  const read = readReportDocument(text ?? '');
  if (!read.ok) throw new Error(read.error.code);
  return read.value;
};

let before: Record<string, string>;

describe('the office', () => {
  // one story: what follows a step that failed would only wait for what never comes
  let isBroken = false;
  beforeEach(() => {
    if (isBroken) throw new Error('a step before this one failed');
    isBroken = true;
  });
  afterEach(({ task }) => {
    if (task.result?.state !== 'fail') isBroken = false;
  });

  it('finds what is due first, and what is overdue in words', async () => {
    await section('Appliances');
    await expect
      .poll(() => firstLines('Appliances'))
      .toEqual(['Furnace of the workshop', 'Boiler in Training house B', 'Heater of the annexe']);
    await expect.poll(() => rows('Appliances').nth(0).innerText()).toContain('overdue since 31 January 2020');
    await expect.poll(() => page.getByRole('navigation', { name: 'Appliances' }).innerText()).toContain('one is overdue');
    await page.getByLabel('Sorted by').selectOption('name');
    await expect
      .poll(() => firstLines('Appliances'))
      .toEqual(['Boiler in Training house B', 'Furnace of the workshop', 'Heater of the annexe']);
    await picture('appliances');
    expect(await violationsOf(page)).toEqual([]);
  });

  it('types the particulars of an appliance, and is told what cannot be', async () => {
    await choose('Appliances', /^Boiler in Training house B/);
    await press('Edit');
    for (const [label, text] of [
      ['Place: address, or your own name for it', person.place],
      ['Owner', person.owner],
      ['Contact', person.contact],
      ['Burner maker', 'Invented Burners'],
      ['Next visit due', '2027-02-30'],
    ] as const)
      await dialog().getByLabel(label, { exact: true }).fill(text);
    await press('Save');
    await dialog().getByText('This is no date. Type it like 2026-11-24.').waitFor();
    await picture('particulars');
    expect(await violationsOf(page)).toEqual([]);
    await dialog().getByLabel('Next visit due', { exact: true }).fill('2027-11-30');
    await press('Save');
    await dialog().waitFor({ state: 'detached' });
    const facts = page.locator('.records-page dl');
    for (const text of [...Object.values(person), 'Invented Burners', '30 November 2027', 'B-0042', /^100.000\sBtu.h$/])
      await facts.getByText(text).waitFor();
    await page.getByLabel('Sorted by').selectOption('due');
    await expect.poll(() => rows('Appliances').nth(1).innerText()).toContain('due 30 November 2027');
    await picture('appliance');
  });

  it('keeps what was changed of an appliance, by whom and when, in words', async () => {
    const from = Date.now();
    await choose('Appliances', /^Furnace of the workshop/);
    await changesOfAppliance().getByText('Nothing was changed after it was first saved.').waitFor();
    await press('Set date');
    await dialog().getByLabel('Next visit due', { exact: true }).fill('2020-02-29');
    await press('Save');
    await dialog().waitFor({ state: 'detached' });
    await press('Edit');
    await dialog().getByLabel('Maker', { exact: true }).fill('Other Works');
    await dialog().getByLabel('Rated input', { exact: true }).fill('120000');
    await press('Save');
    await dialog().waitFor({ state: 'detached' });
    await expect
      .poll(async () => (await changeLines()).map((line) => line.slice(1)))
      .toEqual([
        ['B. Fitter', 'Next visit due', '31 January 2020', '29 February 2020'],
        ['B. Fitter', 'Maker', '–', 'Other Works'],
        ['B. Fitter', 'Rated input', '–', '120 000 Btu/h'],
      ]);
    const times = (await changeLines()).map(([time]) => time);
    for (const time of times) expect([timeHere(from), timeHere(from + 60_000), timeHere(Date.now())]).toContain(time);
    await changesOfAppliance().scrollIntoViewIfNeeded();
    await picture('appliance-changes');
    expect(await violationsOf(page)).toEqual([]);
    await choose('Appliances', /^Boiler in Training house B/);
    await expect
      .poll(async () => (await changeLines()).map((line) => line.slice(1)))
      .toContainEqual(['B. Fitter', 'Owner', '–', person.owner]);
    // the visits come first
    const [visitsTop, changesTop] = await Promise.all(
      [page.locator('.records-page .records-rows'), changesOfAppliance()].map(async (part) => (await part.boundingBox())?.y ?? 0),
    );
    expect(changesTop).toBeGreaterThan(visitsTop ?? 0);
    await picture('appliance-changes-person');
  });

  it('searches while it types, in appliances and in visits', async () => {
    const field = page.getByRole('searchbox');
    await field.pressSequentially('zebed', { delay: 30 });
    await expect.poll(() => firstLines('Appliances')).toEqual(['Boiler in Training house B']);
    await section('Visits');
    await expect.poll(() => firstLines('Visits')).toEqual(['Visit 50 · 25 Nov 2026']);
    await field.fill('2025');
    await expect.poll(() => firstLines('Visits')).toEqual(['Visit 35 · 24 Nov 2025']);
    await field.fill('');
    await expect.poll(() => rows('Visits').count()).toBe(5);
  });

  it('lays any two years of one appliance beside each other, with the figures that are kept', async () => {
    await choose('Visits', /^Visit 42/);
    const table = page.getByRole('table').first();
    const kept = async (number: number): Promise<Visit> => {
      const opened = await openRecords({ folder, wallMs: START_WALL_MS, guest: true });
      if (!opened.ok) throw new Error(opened.error.code);
      const row = opened.value.db.one('SELECT body FROM visit WHERE number = ?', number);
      opened.value.db.close();
      return JSON.parse(String(row?.['body'])) as Visit;
    };
    const asLeftO2 = (visit: Visit): number => {
      const trial = visit.trials.find(({ id }) => id === visit.stages[0]?.asLeftTrialId);
      const figure = trial && figureOf(trial, 'o2');
      if (figure === undefined) throw new Error('no as-left O2');
      return figure.mean;
    };
    const cells = (): Promise<string[]> => table.locator('tr').filter({ hasText: 'dry' }).getByRole('cell').allInnerTexts();
    const near = (text: string | undefined, value: number): void =>
      expect(Math.abs(Number(/^\d+(\.\d+)?/.exec(text ?? '')?.[0]) - value), `${text} for ${value}`).toBeLessThanOrEqual(0.06);
    for (const [year, number] of [
      ['2025', 35],
      ['2023', 21],
    ] as const) {
      const choice = page.getByLabel('A, as-left');
      const value = await choice.locator('option', { hasText: year }).getAttribute('value');
      await choice.selectOption(value);
      const [a, , left] = await cells();
      near(a, asLeftO2(await kept(number)));
      near(left, asLeftO2(await kept(42)));
    }
    await picture('compared');
    const years = page.getByRole('img', { name: /2023: .*2024: .*2025: .*2026: / });
    await expect.poll(() => years.isVisible()).toBe(true);
    expect(await violationsOf(page)).toEqual([]);
  });

  it('reads in words what was changed, by whom and why', async () => {
    const changes = page.getByRole('table').last();
    const text = (await changes.innerText()).replace(/\u2009/g, ' ').replace(/\s+/g, ' ');
    expect(text).toContain('A. Sample Electrode gap, as left 3.9 mm 3.6 mm read again');
    expect(text).not.toMatch(/[{}"]/);
    await changes.scrollIntoViewIfNeeded();
    await picture('changes');
  });

  it('puts right what was signed wrong, beside it, with a reason', async () => {
    await press('Add a correction');
    await dialog().getByLabel('What is wrong').selectOption({ label: 'Electrode gap, as left' });
    await dialog().getByText('It says now: 3.6 mm').waitFor();
    await dialog().getByLabel('It should be').fill('3.7');
    await dialog().getByRole('button', { name: 'Add the correction' }).click();
    await dialog().getByText('Say why, in three letters or more.').waitFor();
    await picture('correction');
    expect(await violationsOf(page)).toEqual([]);
    await dialog().getByLabel('Reason').fill('read from the wrong line');
    await dialog().getByRole('button', { name: 'Add the correction' }).click();
    await dialog().waitFor({ state: 'detached' });
    const last = page.getByRole('table').last().getByRole('row').last();
    await expect
      .poll(async () => (await last.innerText()).replace(/\s+/g, ' '))
      .toContain('A. Sample Electrode gap, as left 3.6 mm 3.7 mm after signing: read from the wrong line');
  });

  it('has the person on paper while nobody took it out', async () => {
    before = await reportsOf(/^Visit 42/);
    for (const form of forms) expect(before[form]?.toLowerCase(), form).toContain(form === 'CSV' ? 'training house' : 'quillfeather');
    expect(documentOf(before['JSON']).visit.edits.at(-1)).toMatchObject({ before: 3.6, after: 3.7, reason: 'read from the wrong line' });
    expect(before['HTML']).toContain('Corrections after signing');
    expect(filesWith(folder, PERSON_WORDS)).not.toEqual([]);
  });

  it('takes a person out: nowhere in the window, the search, the reports or the data folder, and the figures stay', async () => {
    await section('Appliances');
    await choose('Appliances', /^Boiler in Training house B/);
    await press('Remove owner details');
    await picture('take-out');
    await dialog().getByRole('button', { name: 'Remove owner details', exact: true }).click();
    await page.getByRole('heading', { name: /^Unit / }).waitFor();
    expect(filesWith(folder, PERSON_WORDS)).toEqual([]);
    await expect.poll(shown).not.toMatch(/zebedee|quillfeather|marzipan|umbrellaford|training house/);
    expect(await shown()).toContain('b-0042');
    const said = (await changeLines()).map((line) => line.slice(1));
    expect(said).toContainEqual(['B. Fitter', 'Owner', 'taken out', 'taken out']);
    expect(said).toContainEqual(['B. Fitter', 'Burner maker', '–', 'Invented Burners']);
    expect(said.at(-1)).toEqual(['B. Fitter', 'Person', '–', 'owner details removed']);
    await expect.poll(() => page.getByRole('button', { name: 'Remove owner details' }).count()).toBe(0);
    await picture('taken-out');
    await changesOfAppliance().scrollIntoViewIfNeeded();
    await picture('taken-out-changes');
    expect(await violationsOf(page)).toEqual([]);
    const field = page.getByRole('searchbox');
    for (const word of [...PERSON_WORDS, 'training house']) {
      await field.fill(word);
      await page.getByText(`Nothing is found for “${word}”.`).first().waitFor();
      await section('Visits');
      await page.getByText(`Nothing is found for “${word}”.`).first().waitFor();
      await section('Appliances');
    }
    await field.fill('');
    await section('Visits');
    await expect.poll(() => rows('Visits').count()).toBe(5);
    expect(await shown()).not.toMatch(/zebedee|quillfeather|marzipan|umbrellaford|training house/);
    const after = await reportsOf(/^Visit 42/);
    for (const form of forms)
      expect(after[form]?.toLowerCase(), form).not.toMatch(/zebedee|quillfeather|marzipan|umbrellaford|training house/);
    const [was, is] = [documentOf(before['JSON']), documentOf(after['JSON'])];
    expect(is.visit).toEqual(was.visit);
    expect({ ...is, visit: undefined, appliance: undefined }).toEqual({ ...was, visit: undefined, appliance: undefined });
    expect(is.appliance).toMatchObject({ serial: 'B-0042', ratedInputKw: 29.3, pseudonymised: true });
    await press('Tune');
    expect(await shown()).not.toMatch(/zebedee|quillfeather|marzipan|umbrellaford|training house/);
    await press('Records');
  });

  it('deletes a visit that is not signed, and an appliance without visits, down to the last byte', async () => {
    await section('Visits');
    await choose('Visits', /^Visit 50/);
    expect(filesWith(folder, [VISIT_WORD])).not.toEqual([]);
    await press('Delete');
    await dialog().getByRole('button', { name: 'Delete', exact: true }).click();
    await expect.poll(() => rows('Visits').count()).toBe(4);
    expect(filesWith(folder, [VISIT_WORD, 'visit-later'])).toEqual([]);
    await section('Appliances');
    await choose('Appliances', /^Heater of the annexe/);
    await press('Delete appliance');
    await dialog().getByRole('button', { name: 'Delete', exact: true }).click();
    await expect.poll(() => rows('Appliances').count()).toBe(2);
    expect(filesWith(folder, ['annexe', 'appliance-3'])).toEqual([]);
    await choose('Appliances', /^Unit /);
    await page.getByRole('heading', { name: /^Unit / }).waitFor();
    await expect.poll(() => page.getByRole('button', { name: 'Delete appliance' }).count()).toBe(0);
    expect(await alerts()).toEqual([]);
  });

  it('says how long to keep, and that a signed visit cannot be deleted', async () => {
    await section('Storage');
    await page.getByRole('heading', { name: 'How long to keep' }).waitFor();
    expect(await shown()).toContain('nothing is deleted by itself');
    await section('Visits');
    await choose('Visits', /^Visit 42/);
    await page.getByText(/cannot be deleted here/).waitFor();
    await expect.poll(() => page.getByRole('button', { name: 'Delete', exact: true }).count()).toBe(0);
  });

  it('brings a backup back: what was there then is there again, what was there since is kept aside', async () => {
    await section('Storage');
    const [backup]: [Download, void] = await Promise.all([page.waitForEvent('download'), press('Make a backup')]);
    const file = join(folder, 'kept-elsewhere.zip');
    copyFileSync(await backup.path(), file);
    await page.getByText(/is ready\.$/).waitFor();
    const reports = await reportsOf(/^Visit 42/);
    await section('Appliances');
    await choose('Appliances', /^Furnace of the workshop/);
    await press('Edit');
    await dialog().getByLabel('Name', { exact: true }).fill('Furnace that came later');
    await press('Save');
    await expect.poll(() => firstLines('Appliances')).toContain('Furnace that came later');
    await section('Storage');
    await page.getByLabel('Choose a backup', { exact: true }).last().setInputFiles(file);
    await dialog().getByRole('button', { name: 'Restore', exact: true }).click();
    const said = await page.getByText(/files were restored/).innerText();
    const kept = /folder (before-restore-\S+?)\.?$/.exec(said)?.[1] ?? '';
    await picture('restored');
    expect(readdirSync(join(folder, kept)).sort()).toEqual(expect.arrayContaining(['records.db', 'runs']));
    await section('Appliances');
    await expect.poll(() => firstLines('Appliances')).toContain('Furnace of the workshop');
    expect(await shown()).not.toContain('came later');
    const again = await reportsOf(/^Visit 42/);
    expect(documentOf(again['JSON'])).toEqual(documentOf(reports['JSON']));
    await section('Visits');
    await expect.poll(() => rows('Visits').count()).toBe(4);
    expect(await alerts()).toEqual([]);
  });

  it('shows the copies that still hold everything, and deletes them', async () => {
    await section('Storage');
    const copies = page
      .locator('section')
      .filter({ has: page.getByRole('heading', { name: 'Copies in the data folder' }) })
      .last();
    await copies.scrollIntoViewIfNeeded();
    await picture('copies');
    expect(await violationsOf(page)).toEqual([]);
    const isCopy = (name: string): boolean => /^(flueside-backup-|before-restore-)/.test(name);
    const there = readdirSync(folder).filter(isCopy);
    expect(there.length).toBe(2);
    for (const name of there) {
      await copies.getByRole('button', { name: `Delete ${name}` }).click();
      await dialog().getByRole('button', { name: 'Delete', exact: true }).click();
      await expect.poll(() => readdirSync(folder)).not.toContain(name);
    }
    await copies.getByText('There are no copies.').waitFor();
    expect(readdirSync(folder)).toEqual(expect.arrayContaining(['records.db', 'runs', 'kept-elsewhere.zip']));
  });

  it('says so when a file is no backup, and changes nothing', async () => {
    const noBackup = join(folder, 'holiday.zip');
    writeFileSync(noBackup, 'no zip at all');
    await section('Storage');
    await page.getByLabel('Choose a backup', { exact: true }).last().setInputFiles(noBackup);
    await dialog().getByRole('button', { name: 'Restore', exact: true }).click();
    await page.getByText(problems['file-foreign'].title).waitFor();
    await picture('no-backup');
    expect(await violationsOf(page)).toEqual([]);
    await press('Close');
    await section('Visits');
    await expect.poll(() => rows('Visits').count()).toBe(4);
  });

  it('without a complaint of the browser', () => {
    expect(complaints).toEqual([]);
  });
});

describe('a records file that is not ours', () => {
  const OURS = 0x464c5545;
  const sql = (text: string) => (path: string) => {
    const other = openDatabase(path);
    other.exec(text);
    other.close();
  };
  const seen = async (prepare: (path: string) => void, work: (at: string, window: Page) => Promise<void>): Promise<void> => {
    const at = mkdtempSync(join(tmpdir(), 'flueside-foreign-'));
    prepare(join(at, 'records.db'));
    const host = await startAppProcess({ dataFolder: at });
    const window = await browser.newPage({ viewport: { width: 1280, height: 800 } });
    try {
      await window.goto(host.link);
      await window.getByRole('button', { name: 'Records', exact: true }).click();
      await work(at, window);
    } finally {
      await window.close();
      await host.stop();
      rmSync(at, { recursive: true, force: true });
    }
  };
  const others: [string, (path: string) => void][] = [
    ["another program's database", sql('PRAGMA application_id = 77; CREATE TABLE song (title TEXT); INSERT INTO song VALUES (1)')],
    ['a text file', (path) => writeFileSync(path, 'shopping: nozzle, filter\n')],
  ];

  it.each(others)('%s is kept under another name, and that is said', async (_what, prepare) => {
    let bytes = Buffer.alloc(0);
    await seen(
      (path) => {
        prepare(path);
        bytes = readFileSync(path);
      },
      async (at, window) => {
        await window.getByText(problems['store-foreign'].title).waitFor();
        const [name] = /records\.db\.set-aside-[\w-]+/.exec(await window.locator('.alert-band').innerText()) ?? [];
        expect(readFileSync(join(at, name ?? '')).equals(bytes)).toBe(true);
        await window.getByText('No visit yet.').waitFor();
      },
    );
  });

  it('of a newer version is left to the last byte, and the lists say why they are empty', async () => {
    let bytes = Buffer.alloc(0);
    await seen(
      (path) => {
        sql(`PRAGMA application_id = ${OURS}; PRAGMA user_version = 99; CREATE TABLE later (x)`)(path);
        bytes = readFileSync(path);
      },
      async (at, window) => {
        const list = window.getByRole('navigation', { name: 'Visits' });
        await list.getByText(problems['store-newer'].title).waitFor();
        await list.getByText('It has version 99').waitFor();
        expect(readFileSync(join(at, 'records.db')).equals(bytes)).toBe(true);
        expect(readdirSync(at).filter((name) => name.startsWith('records'))).toEqual(['records.db']);
        await keepPicture(window, 'office-newer');
      },
    );
  });
});
