/**
 * Electrodes, nozzle and head in the real window: from as found to locked by Space and digits alone, and a new nozzle that moves the head
 * setting. No cheaper test shows: that hands in gloves come through by Space and digits alone, with the drawing beside them. The verdicts
 * are in tests/shared/geometry.
 */
import { execFileSync } from 'node:child_process';
import { readdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { beginLesson, burnerOf, checkTold, nextBurner, turnTold } from '../../shared/geometry/lesson.ts';
import { errorKinds, tellByMeasuring } from '../../shared/geometry/look-and-tell.ts';
import { trainingCards } from '../../shared/geometry/training-cards.ts';
import { seededRandom } from '../../shared/tuning/training/random.ts';
import { violationsOf } from '../helpers/axe.ts';
import { startAppProcess, type AppProcess } from '../helpers/app-process.ts';
import { launchChromium } from '../helpers/chromium.ts';

let browser: Browser;
let app: AppProcess | undefined;
beforeAll(async () => {
  browser = await launchChromium();
});
afterAll(async () => {
  await browser?.close();
});
afterEach(async () => {
  for (const context of browser.contexts()) await context.close();
  await app?.stop();
  app = undefined;
});

/** Pictures of each screen in both themes and two sizes, where somebody asks for them. */
async function look(page: Page, name: string): Promise<void> {
  const folder = process.env['GEOMETRY_PICTURES'];
  if (folder === undefined) return;
  for (const colorScheme of ['dark', 'light'] as const)
    for (const [width, height] of [
      [1280, 800],
      [1024, 700],
    ] as const) {
      await page.emulateMedia({ colorScheme });
      await page.setViewportSize({ width, height });
      await page.screenshot({ path: `${folder}/${name}-${width}-${colorScheme}.png` });
    }
  await page.setViewportSize({ width: 1280, height: 800 });
}

/** Sizes of the photos in the printed technical record of visit 1, in pixels; the app's own signs are drawn, not pictures. */
function printedPhotos(dataFolder: string): string[] {
  const out = join(dataFolder, 'printed');
  execFileSync(process.execPath, ['main/scripts/cli.mjs', 'report', '1', '--out', out, '--data', dataFolder]);
  const pdf = readdirSync(out).find((name) => name.endsWith('.pdf')) ?? 'no PDF';
  const list = execFileSync('pdfimages', ['-list', join(out, pdf)], { encoding: 'utf8' });
  return list
    .split('\n')
    .map((line) => line.trim().split(/\s+/))
    .filter((columns) => columns[2] === 'image')
    .map((columns) => `${columns[3]} ${columns[4]}`)
    .sort();
}

/** A training visit with training card B, at the first step of the hands. */
async function begin(colorScheme: 'dark' | 'light'): Promise<Page> {
  app = await startAppProcess({ source: 'simulated' });
  const page = await browser.newPage({ viewport: { width: 1280, height: 800 }, colorScheme });
  await page.goto(app.link);
  await page.getByRole('button', { name: /^Begin a training visit/ }).click();
  await page.getByRole('button', { name: /^Read and understood/ }).click();
  await page.getByLabel('Figures card of the burner').selectOption({ label: 'Training card B, invented' });
  await page.getByLabel('Tube end of this burner').selectOption({ label: 'straight' });
  await page.getByLabel('Electrodes', { exact: true }).selectOption({ label: 'two' });
  await look(page, `start-${colorScheme}`);
  await page.locator('.thread-step', { hasText: 'Set-up sheet' }).click();
  const read = page.getByRole('button', { name: /^Read and understood/ });
  await read.click();
  await read.waitFor({ state: 'detached' });
  await heading(page, 'Power off, proven dead');
  return page;
}
const heading = (page: Page, name: string): Promise<void> => page.getByRole('heading', { level: 1, name, exact: true }).waitFor();
const space = (page: Page): Promise<void> => page.keyboard.press('Space');

/** Types over what is in the field, as a person does who measures again. */
async function type(page: Page, text: string): Promise<void> {
  await page.locator('.fraction-field input:focus').waitFor();
  await page.keyboard.type(text);
  await page.waitForFunction((typed) => document.querySelector<HTMLInputElement>('.fraction-field input')?.value === typed, text);
}

async function toElectrodes(page: Page, flow: string): Promise<void> {
  for (const next of ['Oil shut', 'Cool, no oil in the chamber', 'Hands and eyes protected', 'Position of the head adjuster']) {
    await space(page);
    await heading(page, next);
  }
  await type(page, '2');
  for (const next of [
    'Mark every part that comes off',
    'A photo, before anything moves',
    'Assembly out',
    'What is stamped on the nozzle',
  ]) {
    await space(page);
    await heading(page, next);
  }
  await type(page, flow);
}

describe('electrodes, nozzle and head', () => {
  it('are led from as found to locked by Space and digits alone', async () => {
    const page = await begin('dark');
    await look(page, 'lead-safe');
    await toElectrodes(page, '0.75');
    await look(page, 'lead-nozzle');
    await space(page);
    await heading(page, 'Porcelain, tips, cables, head');
    await look(page, 'lead-look-over');
    await space(page);
    await heading(page, 'Electrode gap');
    await type(page, '7/64');
    await page.getByText('Matches the card').waitFor();
    await space(page);
    await heading(page, 'Height of the tips');
    await type(page, '7/16');
    await page.getByText('1/16\u2009in too low', { exact: true }).waitFor();
    await look(page, 'lead-height-fail');
    expect(await violationsOf(page)).toEqual([]);
    await page.keyboard.press('v');
    await page.getByText('Raise both tips 1/16\u2009in.').first().waitFor();
    await look(page, 'far-height-fail');
    await page.keyboard.press('v');
    await heading(page, 'Height of the tips');
    // leaving and coming back in the middle of a step
    await page.reload();
    await heading(page, 'Height of the tips');
    await expect.poll(() => page.locator('.fraction-field input').inputValue()).toBe('7/16');
    await space(page);
    await page.getByLabel('Measured again, as left').waitFor();
    await type(page, '1/2');
    await page.getByText('Matches the card').waitFor();
    await look(page, 'lead-height-pass');
    const measured = [
      ['Tips ahead of the nozzle face', '3/32'],
      ['Tip to nearest metal', '5/16'],
      ['Both tips alike', '0'],
      ['Nozzle to head', '15/16'],
      ['Nozzle in the middle of the head', '0'],
    ] as const;
    for (const [title, figure] of measured) {
      await space(page);
      await heading(page, title);
      await type(page, figure);
      await look(page, `lead-${title.replaceAll(' ', '-').toLowerCase()}`);
    }
    for (const next of ['Assembly back in', 'Coarse plate to its zero', 'Fine adjuster to its zero', 'Head to tube end, at zero']) {
      await space(page);
      await heading(page, next);
    }
    await expect.poll(() => page.getByRole('group', { name: 'Loose now: 2' }).innerText()).toContain('head lock');
    await type(page, '11/16');
    await look(page, 'lead-head-to-tube-end');
    for (const next of ['Zero tight and marked', 'Head setting']) {
      await space(page);
      await heading(page, next);
    }
    await type(page, '2');
    await page.getByText('Matches the card').waitFor();
    await look(page, 'lead-head-setting');
    await space(page);
    await heading(page, 'Shutter, start position');
    await type(page, '5.5');
    await space(page);
    await heading(page, 'Band, start position');
    await type(page, '3');
    await space(page);
    await heading(page, 'Tighten what is loose');
    await look(page, 'lead-tighten');
    await space(page);
    await page.getByText('Nothing is loose.').first().waitFor();
    await space(page);
    await heading(page, 'As left');
    // the height was set anew, so the gap, measured before it, is asked for again
    await page.getByText('Electrode gap: do it again, the electrodes were moved.').waitFor();
    await look(page, 'lead-as-left');
    await space(page);
    await heading(page, 'Electrode gap');
    await type(page, '7/64');
    await space(page);
    await page.keyboard.press('t');
    await page.getByRole('button', { name: /^One at a time/ }).waitFor();
    await look(page, 'table-dark');
    await expect.poll(() => page.getByLabel('Height above centreline, as found').inputValue()).toBe('7/16');
    await expect.poll(() => page.getByLabel('Height above centreline, as left').inputValue()).toBe('1/2');
  });

  it('take another row of the card for the head when the nozzle is another one', async () => {
    const page = await begin('light');
    await toElectrodes(page, '0.75');
    await page.keyboard.press('n');
    await page.getByLabel('Nozzle flow, as stamped, as left').waitFor();
    await type(page, '0.85');
    await page
      .locator('.hand-steps')
      .getByRole('button', { name: /Head setting/ })
      .click();
    await heading(page, 'Head setting');
    await type(page, '2');
    await page.getByText('1 too low', { exact: true }).waitFor();
    await page.getByText('Set it to 3.', { exact: true }).first().waitFor();
    await look(page, 'lead-head-light');
    await page.keyboard.press('v');
    await look(page, 'far-head-light');
    await page.keyboard.press('v');
    await space(page);
    await type(page, '3');
    await page.getByText('Matches the card').waitFor();
    await page.keyboard.press('t');
    await page.getByRole('button', { name: /^One at a time/ }).waitFor();
    await look(page, 'table-light');
    // the figure does not change with the unit shown
    await expect.poll(() => page.getByLabel('Head setting, as left').inputValue()).toBe('3');
  });

  it('say what is wrong with a figure that cannot be, keep what was typed, and judge nothing until it is mended', async () => {
    const page = await begin('dark');
    await toElectrodes(page, '0.75');
    for (const next of ['Porcelain, tips, cables, head', 'Electrode gap']) {
      await space(page);
      await heading(page, next);
    }
    await type(page, '3/16');
    await page.getByText('5/64\u2009in too wide', { exact: true }).waitFor();
    const field = page.locator('.fraction-field input');
    for (const [typed, says] of [
      ['5/0', '"5/0" is not a length'],
      ['1 3/8 mm', '"1 3/8 mm" is a fraction in mm'],
      ['-3/32', '"-3/32" is below zero'],
    ] as const) {
      await field.fill(typed);
      await page.getByRole('alert').filter({ hasText: says }).waitFor();
      // the verdict of the figure before does not stand beside one that cannot be read
      await expect.poll(() => page.getByText('5/64\u2009in too wide').count()).toBe(0);
      await page.getByText('Correct the figure. 3/16 counts until then.').waitFor();
      await space(page);
      await heading(page, 'Electrode gap');
      await expect.poll(() => field.inputValue()).toBe(typed);
    }
    await type(page, '7/64');
    await page.getByText('Matches the card').waitFor();
    // the figures of no card: shown as measured
    await page.locator('.thread-step', { hasText: 'Start' }).click();
    await page.getByLabel('Figures card of the burner').selectOption({ label: 'none' });
    await page.locator('.thread-step', { hasText: 'Set-up sheet' }).click();
    await heading(page, 'Electrode gap');
    await page.getByText('Shown as measured').waitFor();
    await expect.poll(() => field.inputValue()).toBe('7/64');
    expect(await violationsOf(page)).toEqual([]);
  });

  it('are photographed first: the files are saved smaller, are there in another window after a kill, and gone when taken out', async () => {
    const page = await begin('light');
    for (const next of ['Oil shut', 'Cool, no oil in the chamber', 'Hands and eyes protected', 'Position of the head adjuster']) {
      await space(page);
      await heading(page, next);
    }
    await page
      .locator('.hand-steps')
      .getByRole('button', { name: /^Photo/ })
      .click();
    await heading(page, 'A photo, before anything moves');
    const drawn = (width: number, height: number, form: string): Promise<number[]> =>
      page.evaluate(
        async (ask) => {
          const canvas = document.createElement('canvas');
          canvas.width = ask.width;
          canvas.height = ask.height;
          const pen = canvas.getContext('2d');
          pen?.fillRect(20, 20, ask.width / 3, ask.height / 2);
          const blob = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, ask.form));
          return [...new Uint8Array((await blob?.arrayBuffer()) ?? new ArrayBuffer(0))];
        },
        { width, height, form },
      );
    const file = (name: string, bytes: number[]) => ({ name, mimeType: 'image/jpeg', buffer: Buffer.from(bytes) });
    // asked for before anything else is: the press must not be quicker than the browser's word that somebody waits for it
    const chooser = page.waitForEvent('filechooser');
    // told by what is in it: a PNG that calls itself JPEG is one, text that does is none
    const files = [
      file('front.jpg', await drawn(3200, 2400, 'image/jpeg')),
      file('side.jpg', await drawn(300, 400, 'image/png')),
      file('text.jpg', [...Buffer.from('<svg xmlns="http://www.w3.org/2000/svg"/>')]),
    ];
    const button = page.getByRole('button', { name: 'Attach photos' });
    await button.focus();
    await page.keyboard.press('Enter');
    await (await chooser).setFiles(files);
    await page.getByText('text.jpg is not a JPEG or PNG photo that can be read.').waitFor();
    const sizes = (on: Page): Promise<number[][]> =>
      on
        .locator('.photos img')
        .evaluateAll((all) => all.map((one) => [(one as HTMLImageElement).naturalWidth, (one as HTMLImageElement).naturalHeight]));
    await page.locator('.photos img').nth(1).waitFor();
    expect(await sizes(page)).toEqual([
      [1600, 1200],
      [300, 400],
    ]);
    expect(await violationsOf(page)).toEqual([]);
    // what was said to be saved is there after kill -9
    const { dataFolder } = app!;
    await app!.kill();
    expect(printedPhotos(dataFolder)).toEqual(['1600 1200', '300 400']);
    app = await startAppProcess({ dataFolder, source: 'none' });
    const again = await browser.newPage({ viewport: { width: 1280, height: 800 } });
    await again.goto(app.link);
    await again
      .getByRole('button', { name: /Go on with visit 1/ })
      .first()
      .click();
    await heading(again, 'A photo, before anything moves');
    await again.locator('.photos img').nth(1).waitFor();
    expect(await sizes(again)).toHaveLength(2);
    await again.getByRole('button', { name: 'Take out front.jpg' }).click();
    await again.getByRole('dialog').getByRole('button', { name: 'Take out', exact: true }).click();
    await again.getByText('front.jpg was taken out.').waitFor();
    await expect.poll(() => again.locator('.photos img').count()).toBe(1);
    rmSync(dataFolder, { recursive: true, force: true });
  });

  it('take no card that contradicts itself', async () => {
    app = await startAppProcess({ source: 'none' });
    const page = await browser.newPage({ viewport: { width: 1280, height: 800 }, colorScheme: 'light' });
    await page.goto(app.link);
    await page.getByRole('button', { name: 'Records', exact: true }).waitFor();
    await page.keyboard.press('Control+4');
    await page.getByRole('button', { name: 'Figures cards' }).press('Enter');
    await page.getByRole('button', { name: 'Training card B' }).press('Enter');
    await page.getByRole('button', { name: 'Copy', exact: true }).press('Enter');
    await page.getByRole('heading', { name: 'Training card B, copy' }).waitFor();
    const save = page.getByRole('button', { name: 'Save card' });
    await page.getByLabel('Electrode gap, ±').fill('1/2');
    await page.getByText('a tolerance of 1/2 is more than the figure 7/64').waitFor();
    await expect.poll(() => save.isDisabled()).toBe(true);
    await page.getByLabel('Electrode gap, ±').fill('1/32');
    await page.getByLabel('Settings by nozzle flow 1, to').fill('0.70');
    await page.getByText('is in two rows (1 and 2)', { exact: false }).waitFor();
    await expect.poll(() => save.isDisabled()).toBe(true);
    await page.getByLabel('Settings by nozzle flow 1, to').fill('0.60');
    await page.getByText('Nothing contradicts itself', { exact: false }).waitFor();
    await save.press('Enter');
    await page.getByText('Saved.', { exact: true }).first().waitFor();
    expect(await violationsOf(page)).toEqual([]);
  });

  it('are looked at and told by keyboard alone, three burners, and one is fired as it was left', async () => {
    const wallMs = Date.UTC(2026, 0, 1);
    app = await startAppProcess({ source: 'none' });
    const page = await browser.newPage({ viewport: { width: 1280, height: 800 }, colorScheme: 'dark' });
    await page.clock.setFixedTime(wallMs);
    await page.goto(app.link);
    await page.getByRole('button', { name: 'Warm-up', exact: true }).waitFor();
    await page.keyboard.press('Control+3');
    await page.getByRole('button', { name: /^Look and tell/ }).waitFor();
    await page.keyboard.press('t');
    // the lesson is drawn from the clock: what is planted is known here too
    let lesson = beginLesson(1 + (wallMs % 100_000));
    for (let at = 1; at <= 3; at += 1) {
      await page.getByText(`burner ${at} of 12`, { exact: false }).waitFor();
      const burner = burnerOf(lesson, trainingCards, seededRandom);
      const wrong = tellByMeasuring(burner);
      // the last burner is told wrong by one
      const told = at === 3 ? errorKinds.filter((kind) => (kind === 'gap') !== wrong.includes(kind)) : wrong;
      if (at === 1) {
        await page.keyboard.press('ArrowRight');
        await page.keyboard.press('Shift+ArrowUp');
        await page.keyboard.press('r');
        await look(page, 'tell-dark');
      }
      for (const kind of told) {
        await page.keyboard.press(String((errorKinds.indexOf(kind) + 1) % 10));
        lesson = turnTold(lesson, kind);
      }
      await expect.poll(() => page.locator('.look-answers [aria-pressed=true]').count()).toBe(told.length);
      await space(page);
      lesson = checkTold(lesson, burner);
      await page.getByRole('button', { name: /^Next burner/ }).waitFor();
      const score = await page.locator('.look-score b').allInnerTexts();
      expect(score).toEqual([lesson.found, lesson.missed, lesson.falseAlarms].map(String));
      await expect.poll(() => page.locator('.look-list li').count()).toBe(new Set([...told, ...burner.planted]).size);
      if (at === 3) break;
      await space(page);
      lesson = nextBurner(lesson);
    }
    expect(await violationsOf(page)).toEqual([]);
    await look(page, 'tell-answer-dark');
    await page.keyboard.press('f');
    await page
      .getByText(/simulated/i)
      .first()
      .waitFor();
    // the window hears of the run before it is led to it
    await page.locator('.tab[aria-current=page]', { hasText: 'Tune' }).waitFor();
    await page.keyboard.press('Control+3');
    await page.getByText('burner 3 of 12', { exact: false }).waitFor();
  });
});
