/**
 * From the press that opens the Report step to its first page on screen, after a visit of half an hour whose instrument goes on sending: the real host, a
 * real browser; for the first time, again, and busy: with two programs that never rest beside it.
 */
import { spawn, type ChildProcess } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { startAppProcess, type AppProcess } from '../helpers/host/app-process.ts';
import { launchChromium } from '../helpers/browser/chromium.ts';
import { createLedTime, type LedTime } from '../helpers/host/led-time.ts';
import { pressEnter } from '../helpers/browser/main-button.ts';
import { startPtyBurner, type PtyBurner } from '../helpers/ports/pty-burner.ts';
import { mainButton, workUntil, type Work } from '../helpers/visits/tuning.ts';
import type { SpeedReport } from './speed-report.ts';

const VISIT_MS = 30 * 60_000;
const ROUNDS = Number(process.env['FLUESIDE_ROUNDS'] ?? 10);
const BUSY = 2;

/** ms after the press: the pages' address is known, their file is there, the first page is drawn, all are numbered */
type Seen = { asked: number; loaded: number; shown: number; numbered: number };

/** Watched inside the page, frame by frame, from the press on. */
const openReport = (page: Page): Promise<Seen> =>
  page.evaluate(
    () =>
      new Promise<Seen>((resolve, reject) => {
        const button = [...document.querySelectorAll<HTMLElement>('.thread-step')].find((one) => one.textContent.startsWith('Report'));
        if (button === undefined) return reject(new Error('no Report step'));
        const from = performance.now();
        const seen: Partial<Seen> = {};
        const at = (which: keyof Seen): void => void (seen[which] ??= performance.now() - from);
        const look = (): void => {
          const frame = document.querySelector<HTMLIFrameElement>('iframe.report-page');
          if (frame !== null) at('asked');
          const shown = frame?.contentDocument;
          const sheet = shown?.querySelector('.sheet');
          if (sheet) at('loaded');
          if (sheet && shown?.fonts.status === 'loaded' && sheet.getBoundingClientRect().height > 0) {
            if (seen.shown === undefined) return void requestAnimationFrame(() => requestAnimationFrame(() => (at('shown'), look())));
            if (shown.querySelector('.page-number')?.textContent !== '') at('numbered');
          }
          if (seen.numbered !== undefined) return resolve(seen as Seen);
          if (performance.now() - from > 120_000) return reject(new Error(`no page within two minutes: ${JSON.stringify(seen)}`));
          requestAnimationFrame(look);
        };
        button.click();
        look();
      }),
  );

/** As-found, a curve, as-left: by mouse, with the lines of the simulated burner over a pseudo-terminal. @returns what a speed program goes on with */
async function toAsLeft(page: Page, time: LedTime, instrument: PtyBurner): Promise<void> {
  const press = (name: RegExp): Promise<void> => page.getByRole('button', { name }).first().click();
  const fill = (label: string, text: string): Promise<void> => page.getByLabel(label, { exact: true }).fill(text);
  const dialog = page.getByRole('dialog');
  const gone = (): Promise<void> => dialog.waitFor({ state: 'detached' });
  const typeSmoke = async (): Promise<void> => {
    await fill('Spot 1', String(instrument.burner.smokeSpot(time.nowMs()).number));
    await dialog.getByRole('button', { name: /ave smoke/ }).click();
    await gone();
  };
  const typeDraft = async (): Promise<void> => {
    await page.getByRole('dialog', { name: 'Draft' }).waitFor();
    const { overFirePa, breechPa } = instrument.burner.gauges(time.nowMs());
    await fill('Over fire', (-overFirePa).toFixed(1));
    await fill('Breech', (-breechPa).toFixed(1));
    await dialog.getByRole('button', { name: /^Save draft/ }).click();
    await gone();
  };
  const work: Work = {
    press: (text) =>
      page
        .locator('.button.main:visible', { hasText: text })
        .last()
        .click({ timeout: 3000 })
        .catch(() => undefined),
    async typeSetting(shutter) {
      await dialog.getByLabel(/^shutter$/i).fill(shutter);
      await press(/^Mark it/);
    },
    typeSmoke,
    turned: (shutter) => void instrument.burner.setAdjuster('shutter', shutter, time.nowMs()),
  };
  await press(/I have read this/);
  const agrees = page.getByRole('button', { name: /^Yes, the display agrees/ });
  await time.until('the lines are understood', () => agrees.isVisible());
  await agrees.click();
  await press(/^Begin a visit/);
  await press(/^Read and understood/);
  await fill('Appliance', 'Boiler in Training house B');
  await press(/^New: Boiler/);
  await page.getByRole('button', { name: 'Change', exact: true }).waitFor();
  await page.getByLabel('Units', { exact: true }).selectOption('metric');
  await fill('CO in the room', '2');
  await pressEnter(page);
  await page.getByText(/^2\sppm at/).waitFor();
  await page.getByLabel('Instrument zeroed', { exact: true }).selectOption({ label: 'outdoors' });
  await mainButton(page).click();
  await typeSmoke();
  const isReady = page.getByRole('group', { name: 'Measuring' }).getByText('Full reading is ready.');
  await time.until('a full reading is ready', () => isReady.isVisible());
  await mainButton(page).click();
  await typeDraft();
  await fill('Shutter', '7.2');
  await fill('Band', '3');
  await page.locator('.thread-step', { hasText: 'Air curve' }).click();
  await press(/^Open the curve/);
  await workUntil(page, time, /^Leave it at trial/, work);
  await time.forward(Math.max(0, VISIT_MS - time.nowMs()));
  await mainButton(page).click();
  await typeDraft();
}

const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0;

/** A program that never rests. */
const busyProgram = (): ChildProcess => spawn(process.execPath, ['-e', 'for (;;);'], { stdio: 'ignore' });

export async function speedPreview(report: SpeedReport): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'flueside-preview-'));
  const instrument = await startPtyBurner();
  const busy: ChildProcess[] = [];
  let browser: Browser | undefined;
  let app: AppProcess | undefined;
  let time: LedTime | undefined;
  try {
    instrument.burner.setAdjuster('shutter', 7.2, 0);
    instrument.burner.setPart('chimneyDraftFactor', 0.6, 0);
    browser = await launchChromium({ whole: true });
    time = createLedTime({ instruments: [instrument] });
    app = await startAppProcess({ source: instrument.path, time, dataFolder: folder });
    const page = await browser.newPage({ viewport: { width: 1280, height: 800 }, colorScheme: 'dark' });
    time.shownIn(page);
    page.setDefaultTimeout(30_000);
    await page.goto(app.link);
    await toAsLeft(page, time, instrument);
    const tell = (what: string, all: readonly Seen[]): void => {
      const of = (which: keyof Seen): string => median(all.map((seen) => seen[which])).toFixed(0);
      const times = all.map(({ shown }) => shown);
      report(
        `Report step opened to its first page, ${what}`,
        median(times),
        'ms',
        `worst of ${all.length}: ${Math.max(...times).toFixed(0)}; address ${of('asked')}, file ${of('loaded')}, numbered ${of('numbered')}; load ${loadavg()[0]?.toFixed(1)}`,
        all.length,
      );
    };
    const round = async (): Promise<Seen> => {
      const seen = await openReport(page);
      await page.locator('.thread-step', { hasText: 'As-left' }).click();
      // a person looks at the step; lines come in meanwhile
      await time?.forward(3000);
      await new Promise((rest) => setTimeout(rest, 1500));
      return seen;
    };
    const rounds = async (): Promise<Seen[]> => {
      const all: Seen[] = [];
      for (let index = 0; index < ROUNDS; index++) all.push(await round());
      return all;
    };
    // screws are tightened before anybody looks at the report
    await time.forward(30_000);
    await new Promise((rest) => setTimeout(rest, 10_000));
    report('the visit', time.nowMs() / 60_000, 'minutes', 'one line a second');
    tell('first time', [await round()]);
    tell('again', await rounds());
    for (let index = 0; index < BUSY; index++) busy.push(busyProgram());
    tell('busy', await rounds());
  } finally {
    for (const one of busy) one.kill('SIGKILL');
    time?.stop();
    await browser?.close();
    await app?.stop();
    await instrument.stop();
    rmSync(folder, { recursive: true, force: true });
  }
}
