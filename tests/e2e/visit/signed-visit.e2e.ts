/**
 * A whole service visit with an instrument on a pseudo-terminal: read, tuned, judged, the run-through done, signed, printed; then the text
 * of the PDF is laid beside the record that is kept, number by number. The instrument's lines are those of the simulated burner, but
 * nothing tells the app so: the visit is a true one, and may be signed. No cheaper test shows: a whole true visit by mouse, on real lines,
 * whose paper is compared with what is stored to the last figure.
 * One story at one port, and its PDF at the end: the parts stay together in one file (longer than 300 lines).
 */
import { execFileSync, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { copyFileSync, readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { findFuel } from '../../../shared/combustion/fuel.ts';
import { readReportDocument, type ReportDocument } from '../../../shared/report/report-json.ts';
import { testTitle } from '../../../shared/report/safety-facts.ts';
import { figureOf } from '../../../shared/tuning/trial/trial-figures.ts';
import type { Visit } from '../../../shared/tuning/visit/visit.ts';
import { startAppProcess, type AppProcess } from '../../helpers/host/app-process.ts';
import { launchChromium } from '../../helpers/browser/chromium.ts';
import { pressEnter } from '../../helpers/browser/main-button.ts';
import { createLedTime, type LedTime } from '../../helpers/host/led-time.ts';
import { startPtyBurner, type PtyBurner } from '../../helpers/ports/pty-burner.ts';
import { noPty } from '../../helpers/ports/pty.ts';
import { mainButton as mainButtonOf, passSafetyTests, workUntil, type Work } from '../../helpers/visits/tuning.ts';
import { keepPicture, picturesFolder } from '../../helpers/browser/kept-pictures.ts';

const hasPdfTools = spawnSync('pdftotext', ['-v']).status === 0 && spawnSync('pdfinfo', ['-v']).status === 0;
if (!hasPdfTools) console.warn('The PDF is not read back: pdftotext and pdfinfo (poppler-utils) are not installed.');

let browser: Browser;
let instrument: PtyBurner;
let time: LedTime;
let app: AppProcess;
let page: Page;
const complaints: string[] = [];

beforeAll(async () => {
  if (noPty !== undefined) return;
  browser = await launchChromium();
  instrument = await startPtyBurner();
  instrument.burner.setAdjuster('shutter', 7.2, 0);
  instrument.burner.setPart('chimneyDraftFactor', 0.6, 0);
  time = createLedTime({ instruments: [instrument] });
  app = await startAppProcess({ source: instrument.path, time });
  page = await browser.newPage({ viewport: { width: 1280, height: 800 }, colorScheme: 'dark' });
  time.shownIn(page);
  page.on('pageerror', ({ stack, message }) => complaints.push(stack ?? message));
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  await page.goto(app.link);
});
// one visit, step after step: what follows a step that failed would only wait for what never comes
let isBroken = false;
beforeEach(() => {
  if (isBroken) throw new Error('a step before this one failed');
  isBroken = true;
});
afterEach(({ task }) => {
  if (task.result?.state !== 'fail') isBroken = false;
});
afterAll(async () => {
  time?.stop();
  await page?.close();
  await app?.stop();
  await instrument?.stop();
  await browser?.close();
});

const picture = (name: string): Promise<void> => keepPicture(page, `signed-${name}`);
const press = (name: RegExp | string): Promise<void> => page.getByRole('button', { name }).first().click();
const fill = (label: string, text: string): Promise<void> => page.getByLabel(label, { exact: true }).fill(text);
const mainButton = (): Locator => mainButtonOf(page);
const dialog = (): Locator => page.getByRole('dialog');
const readCautions = async (): Promise<void> => {
  const button = page.getByRole('button', { name: /^Read and understood/ }).first();
  await button.click();
  await button.waitFor({ state: 'detached' });
};

/** Pumps one spot, as a person does, and types what it shows. */
async function typeSmoke(): Promise<void> {
  await fill('Spot 1', String(instrument.burner.smokeSpot(time.nowMs()).number));
  await dialog()
    .getByRole('button', { name: /ave smoke/ })
    .click();
  await dialog().waitFor({ state: 'detached' });
}

/** The window of the gauge comes by itself where draft is needed. */
async function typeDraft(): Promise<void> {
  await page.getByRole('dialog', { name: 'Draft' }).waitFor();
  const { overFirePa, breechPa } = instrument.burner.gauges(time.nowMs());
  await fill('Over fire', (-overFirePa).toFixed(1));
  await fill('Breech', (-breechPa).toFixed(1));
  await dialog()
    .getByRole('button', { name: /^Save draft/ })
    .click();
  await dialog().waitFor({ state: 'detached' });
}

const work: Work = {
  // what the host does by itself may change the button between the look and the press; another deed is not pressed then
  press: (text) =>
    page
      .locator('.button.main:visible', { hasText: text })
      .last()
      .click({ timeout: 3000 })
      .catch(() => undefined),
  async typeSetting(shutter) {
    await dialog()
      .getByLabel(/^shutter$/i)
      .fill(shutter);
    await press(/^Mark it/);
  },
  typeSmoke,
  turned: (shutter) => void instrument.burner.setAdjuster('shutter', shutter, time.nowMs()),
};
const doUntil = (until: RegExp): Promise<number> => workUntil(page, time, until, work);

describe.skipIf(noPty !== undefined)('a visit with an instrument on a port', () => {
  it('begins where the instrument is understood', async () => {
    await press(/I have read this/);
    const agrees = page.getByRole('button', { name: /^Yes, the display agrees/ });
    await time.until('the lines are understood', () => agrees.isVisible());
    await agrees.click();
    await press(/^Begin a visit/);
    await press(/^Read and understood/);
    await fill('Appliance', 'Boiler in Training house B');
    await press(/^New: Boiler/);
    await page.getByRole('button', { name: 'Change', exact: true }).waitFor();
    await fill('Instrument, name or number', 'TR-1');
    await fill('Technician', 'A. Sample');
    await page.keyboard.press('Tab');
    await fill('Licence, if any', 'T-100');
    await page.getByLabel('Units', { exact: true }).selectOption('metric');
    await fill('CO in the room', '2');
    await pressEnter(page);
    await page.getByText(/^2\sppm at/).waitFor();
    await page.getByLabel('Instrument zeroed', { exact: true }).selectOption({ label: 'outdoors' });
    await page.getByText('Nothing is missing here.').first().waitFor();
    await picture('start');
  });

  it('is tuned from as-found to as-left', async () => {
    await mainButton().click();
    // the spot before the probe
    await typeSmoke();
    const isReady = page.getByRole('group', { name: 'Measuring' }).getByText('Full reading is ready.');
    await time.until('a full reading is ready', () => isReady.isVisible());
    await mainButton().click();
    await typeDraft();
    // where the adjusters stand is written down beside the reading, which is as-found by itself
    await fill('Shutter', '7.2');
    await fill('Band', '3');
    await page.getByRole('button', { name: /^On to Set-up sheet/ }).waitFor();
    await mainButton().click();
    await readCautions();
    // electrodes are not set within a second
    await time.forward(60_000);
    await page.getByRole('button', { name: /^Table/ }).click();
    await fill('Electrode gap, as found', '4.4');
    await fill('Electrode gap, as left', '3.6');
    await fill('Electrode gap, maker’s figure', '3.5');
    await fill('Electrode gap, ±', '0.5');
    await fill('Nozzle flow, as stamped, as found', '2.46');
    await fill('Pump pressure, as found', '9.7');
    await page
      .getByText(/\d\s*kg\/h/)
      .first()
      .waitFor();
    await picture('set-up');
    await mainButton().click();
    await press(/^The gauge reads zero/);
    await fill('Draft over the fire, as set', '-5');
    await page.getByLabel('Draft regulator', { exact: true }).selectOption({ label: 'set, swings free' });
    await picture('warm-up');
    await page.getByRole('button', { name: /^On to Air curve/ }).click();
    // the electrodes were set since as-found: a new spot before the probe goes back
    await typeSmoke();
    await page.getByRole('button', { name: /^Open the curve/ }).click();
    expect(await doUntil(/^Leave it at trial/)).toBeGreaterThanOrEqual(3);
    await picture('air-curve');
    await mainButton().click();
    // the gauge is read while the burner stands there
    await typeDraft();
    await page
      .getByRole('button', { name: /^Choose a card/ })
      .last()
      .click();
    await press(/^Use a copy: Training targets, retention head/);
    await dialog().waitFor({ state: 'detached' });
    await press(/^Screws are tight/);
    await doUntil(/on to Safety$/i);
    await page
      .getByText(/^Held\. After tightening/)
      .or(page.getByText(/^Shifted\./))
      .first()
      .waitFor();
    await picture('as-left');
  }, 900_000);

  it('shows an open bypass wherever one goes, and is not signed with it', async () => {
    await press(/^Safety/);
    await readCautions();
    await press(/^Bypass/);
    await dialog().getByRole('textbox').fill('detector unplugged');
    await pressEnter(page);
    await page.keyboard.press('Escape');
    const line = page.getByRole('alert').filter({ hasText: 'detector unplugged' });
    for (const workspace of ['Bench', 'Warm-up', 'Records', 'Tune']) {
      await page.getByRole('navigation', { name: 'Workspaces' }).getByRole('button', { name: workspace }).click();
      await line.waitFor();
      await picture(`bypass-${workspace.toLowerCase()}`);
    }
    await press(/^Report/);
    await line.waitFor();
    await page.getByText('Remove the bypass first: detector unplugged.').waitFor();
    await expect.poll(() => page.getByRole('button', { name: /^Sign/ }).count()).toBe(0);
    await press(/^Enter that it is removed/);
    await dialog().getByRole('button', { name: 'Removed' }).click();
    await page.keyboard.press('Escape');
    await line.waitFor({ state: 'detached' });
    // the safety tests are not made yet: that comes before the signature
    await page.getByRole('button', { name: /^Enter what was done/ }).waitFor();
    await press(/^Safety/);
  });

  it('has its safety tests done, the timed ones with the watch', async () => {
    const rated = page.getByLabel(/on the control$/).last();
    await passSafetyTests(page, time, {
      beforeWatch: () => rated.fill('15'),
      pressWatch: () => page.locator('.watch-main').click(),
      pass: () => press(/^Pass/),
    });
    await page.getByRole('button', { name: /on to Report/i }).click();
  });

  it('is signed and locked', async () => {
    const sign = page.getByRole('button', { name: /^Sign/ });
    await sign.waitFor();
    await page.frameLocator('iframe:not([aria-hidden])').getByText('Not signed yet').waitFor();
    await picture('before-signing');
    await sign.click();
    await page.getByText(/^Signed by A\. Sample/).waitFor();
    await page.frameLocator('iframe:not([aria-hidden])').getByText('Signed in Flueside').waitFor();
    await picture('signed');
    expect(complaints).toEqual([]);
  });
});

type Kept = ReportDocument & { readonly visit: Visit };
/** The record as it is kept: the JSON form, in inner units, not yet rounded. */
function keptRecord(out: string): Kept {
  const file = readdirSync(out).find((name) => name.endsWith('.json')) ?? '';
  const read = readReportDocument(readFileSync(join(out, file), 'utf8'));
  if (!read.ok) throw new Error(read.error.code);
  return read.value;
}

/** Thin spaces and true minus signs -> what Number reads. */
const plain = (text: string): string => text.replace(/(\d)[\u2009 ](?=\d{3}(?!\d))/g, '$1').replace(/\u2212/g, '-');
/** A figure on paper says what it says to half of its last digit. */
function expectShown(shown: string | undefined, inner: number | undefined, what: string): void {
  if (inner === undefined) return expect(shown, what).toBe('–');
  const text = (shown ?? '').trim();
  expect(text, what).toMatch(/^-?[\d.]+$/);
  const decimals = text.split('.')[1]?.length ?? 0;
  // 1 620 ±90 is written in tens
  const step = decimals > 0 ? 10 ** -decimals : /0$/.test(text) ? 10 ** (text.length - text.replace(/0+$/, '').length) : 1;
  expect(Math.abs(Number(text) - inner), `${what}: ${text} on paper, ${inner} kept`).toBeLessThanOrEqual(step / 2 + 1e-9);
}

describe.skipIf(noPty !== undefined || !hasPdfTools)('its PDF', () => {
  const out = (paper: string): string => join(app.dataFolder, `out-${paper}`);
  const made = new Map<string, { text: string; raw: string; facts: string; outline: string; record: Kept }>();
  beforeAll(() => {
    for (const paper of ['a4', 'letter']) {
      const cli = ['main/scripts/cli.mjs', 'report', '1', '--out', out(paper), '--paper', paper, '--form', 'pdf,html,json', '--data'];
      execFileSync(process.execPath, [...cli, app.dataFolder]);
      const file = join(out(paper), readdirSync(out(paper)).find((name) => name.endsWith('.pdf')) ?? '');
      if (picturesFolder !== undefined) copyFileSync(file, join(picturesFolder, `signed-${paper}.pdf`));
      made.set(paper, {
        text: plain(execFileSync('pdftotext', ['-layout', file, '-'], { encoding: 'utf8' })),
        // cell after cell, so that a hash of two lines stands together
        raw: execFileSync('pdftotext', [file, '-'], { encoding: 'utf8' }),
        facts: execFileSync('pdfinfo', [file], { encoding: 'utf8' }),
        outline: execFileSync('pdfinfo', ['-struct', file], { encoding: 'utf8' }),
        record: keptRecord(out(paper)),
      });
    }
  });
  const of = (paper: string) => made.get(paper) ?? { text: '', raw: '', facts: '', outline: '', record: {} as Kept };

  it.each(['a4', 'letter'])('is tagged, has selectable text and numbered pages, on %s', (paper) => {
    const { text, facts, outline } = of(paper);
    expect(facts).toMatch(/Tagged:\s+yes/);
    expect(facts).toMatch(paper === 'a4' ? /\(A4\)/ : /612 x 792 pts \(letter\)/);
    const pages = Number(/Pages:\s+(\d+)/.exec(facts)?.[1]);
    for (let page_ = 1; page_ <= pages; page_++) expect(text).toContain(`page ${page_} of ${pages}`);
    // headings, tables and their cells are marked as what they are
    for (const tag of ['H1', 'H2', 'H3', 'Table', 'TH', 'TD', 'LI', 'Figure']) expect(outline).toMatch(new RegExp(`^ *${tag}\\b`, 'm'));
  });

  // what is too wide makes the printer shrink the whole page
  it.each([
    ['a4', 210],
    ['letter', 215.9],
  ])('fits between the margins, on %s', async (paper, width) => {
    const html = readFileSync(join(out(paper), readdirSync(out(paper)).find((name) => name.endsWith('.html')) ?? ''), 'utf8');
    const sheet = await browser.newPage({ viewport: { width: Math.floor(((width - 30) / 25.4) * 96), height: 900 } });
    await sheet.emulateMedia({ media: 'print' });
    await sheet.setContent(html);
    await sheet.evaluate(() => document.fonts.ready);
    const tooWide = await sheet.evaluate(() =>
      [...document.querySelectorAll('main *')]
        .filter((element) => element.getBoundingClientRect().right > innerWidth + 0.5 && element.closest('svg') === null)
        .map((element) => `${element.tagName} ${element.textContent?.slice(0, 60) ?? ''}`),
    );
    await sheet.close();
    expect(tooWide).toEqual([]);
  });

  it.each(['a4', 'letter'])('holds every trial as it is kept, on %s', (paper) => {
    const { text, record } = of(paper);
    const { visit } = record;
    expect(visit.trials.length).toBeGreaterThanOrEqual(4);
    expect(text.indexOf('Trials are in the order taken')).toBeGreaterThan(0);
    const lines = new Map<number, string[]>();
    let row: string[] = [];
    for (const line of text.slice(text.indexOf('\nTrials'), text.indexOf('Trials are in the order taken')).split('\n')) {
      const begins = /^\s*(\d+)(?:, [a-z ]+?)?\s{2,}(\S.*)$/.exec(line);
      // of several spots the last one is read: '0, 0; by' -> '0'
      const cellsOf = (cells: string): string[] => cells.replace(/(?:\d½?, )+(\d½?); \w+/, '$1').split(/\s{1,}(?![±])/);
      if (begins !== null) lines.set(Number(begins[1]), (row = cellsOf(begins[2] ?? '')));
      // the text of one row may come in two lines
      else if (row.length > 0 && row.length < 11) row.push(...cellsOf(line.trim()).filter((cell) => /^(–|[−-]?[\d.]+)$/.test(cell)));
    }
    visit.trials.forEach((trial, index) => {
      const cells = lines.get(index + 1) ?? [];
      const what = (name: string): string => `trial ${index + 1}, ${name} (${cells.join(' | ')})`;
      const [shutter, band, o2, co2, co, airFree, stack, air, smoke, overFire, breech] = cells.map((cell) => cell.replace(/ ±.*/, ''));
      const position = (name: string): number | undefined => trial.setting.positions.find((one) => one.name.toLowerCase() === name)?.value;
      const [o2Kept, coKept] = [figureOf(trial, 'o2')?.mean, figureOf(trial, 'co')?.mean];
      expectShown(shutter, position('shutter'), what('shutter'));
      expectShown(band, position('band'), what('band'));
      expectShown(o2, o2Kept, what('O2'));
      // No. 2 oil, complete combustion: worked from the published CO2max of this fuel, not by the app's own function
      const co2Max = findFuel('no2')?.stoichiometry.co2MaxPercent ?? NaN;
      expectShown(co2, o2Kept === undefined ? undefined : co2Max * (1 - o2Kept / 20.946), what('CO2'));
      expectShown(co, coKept, what('CO'));
      // CO 20.9/(20.9 - O2): the trade's form has the constant of the EPA methods
      expectShown(airFree, o2Kept === undefined || coKept === undefined ? undefined : (coKept * 20.9) / (20.9 - o2Kept), what('air-free'));
      expectShown(stack, figureOf(trial, 'stackTemperature')?.mean, what('stack'));
      expectShown(air, figureOf(trial, 'airTemperature')?.mean, what('air'));
      const spot = trial.smoke?.spots.at(-1)?.number;
      expect(
        smoke?.replace(/^(\d*)½$/, (_, whole: string) => String(Number(whole) + 0.5)),
        what('smoke'),
      ).toBe(spot === undefined ? '–' : String(spot));
      expectShown(overFire, trial.draft?.overFirePa, what('over fire'));
      expectShown(breech, trial.draft?.breechPa, what('breech'));
    });
  });

  it.each(['a4', 'letter'])('holds the card, the run-through and the hashes as they are kept, on %s', (paper) => {
    const { text, record } = of(paper);
    const { visit } = record;
    const card = record.results.stages[0];
    const names = { o2Percent: 'O2', co2Percent: 'CO2', coPpm: 'CO', overFirePa: 'Draft over the fire', stackC: 'Stack, gross' } as const;
    const first = text.slice(0, text.indexOf('For the owner'));
    for (const { quantity, verdict } of card?.verdicts ?? []) {
      if (!(quantity in names)) continue;
      // a row of the card is as high as its source, so that its figures and its verdict stand some lines below its name
      const rows = first.split('\n');
      const at = rows.findIndex((one) => `${one} `.startsWith(`${names[quantity as keyof typeof names]} `) && !one.includes(' fails'));
      const line = rows.slice(at, at + 6).join(' ');
      const figures = [...line.matchAll(/(-?[\d.]+) ±/g)].map((found) => found[1]);
      const kept = [card?.asFound[quantity]?.value, card?.asLeft[quantity]?.value].filter((value) => value !== undefined);
      kept.forEach((value, which) => expectShown(figures[which], value, `${quantity}, figure ${which + 1}`));
      // a verdict of two words stands in two lines of its column
      expect(line).toMatch(
        { pass: /\bpass\b/, fail: /\bfail\b/, 'too-close': /\btoo\b.*\bclose\b/, 'not-known': /\bnot\b.*\bknown\b/ }[verdict],
      );
    }
    expect(card?.verdicts?.length).toBeGreaterThanOrEqual(5);

    const safety = text.slice(text.indexOf('Safety run-through\n'), text.indexOf('Bypass register'));
    const timed = visit.safety.filter(({ seconds }) => seconds !== undefined);
    expect(timed.length).toBeGreaterThanOrEqual(2);
    const rows = safety.split('\n');
    // a long name goes on in the next line; the figures stand in its first one
    const rowOf = (title: string): string => {
      // two tests beside each other
      const begins = title.split(' ').slice(0, 2).join(' ');
      const first = rows.findIndex((row) => row.includes(begins));
      expect(first, `${title} in:\n${safety}`).toBeGreaterThanOrEqual(0);
      expect(rows.slice(first, first + 3).join(' ')).toContain(title.split(' ').at(-1));
      return (rows[first] ?? '').slice((rows[first] ?? '').indexOf(begins));
    };
    for (const { test, seconds, markedSeconds } of timed)
      expect(rowOf(testTitle(test))).toMatch(new RegExp(`pass\\s+${seconds?.toFixed(1)}\\s+${markedSeconds?.toFixed(1)}\\s+\\d\\d:\\d\\d`));
    for (const { test } of visit.safety) expect(rowOf(testTitle(test))).toMatch(/^\D+ pass .* \d\d:\d\d/);
    expect(text.slice(text.indexOf('Bypass register'))).toContain('detector unplugged');

    const joined = of(paper).raw.replace(/\s+/g, '');
    expect(joined).toContain(visit.signature?.hash);
    const run = visit.runs[0];
    const file = readFileSync(join(app.dataFolder, 'runs', `${run?.id}.run`));
    expect(joined).toContain(run?.hash ?? createHash('sha256').update(file).digest('hex'));
  });
});
