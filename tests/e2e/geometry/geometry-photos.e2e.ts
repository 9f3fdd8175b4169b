/** Photographs that outlive a kill, cards that contradict themselves, and three burners told by keyboard alone. No cheaper test shows that a real browser and a new host have all of it. */
import { execFileSync } from 'node:child_process';
import { readdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { beginLesson, burnerOf, checkTold, nextBurner, turnTold } from '../../../shared/geometry/lesson.ts';
import { errorKinds, tellByMeasuring } from '../../../shared/geometry/look-and-tell.ts';
import { trainingCards } from '../../../shared/geometry/training-cards.ts';
import { seededRandom } from '../../../shared/tuning/training/random.ts';
import { violationsOf } from '../../helpers/browser/axe.ts';
import { browser, app, startApp, look, begin, heading, space, withBrowser } from './geometry-parts.ts';

withBrowser();

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

describe('electrodes, nozzle and head: photographs, cards, and what is told of them', () => {
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
    const next = await startApp({ dataFolder, source: 'none' });
    const again = await browser.newPage({ viewport: { width: 1280, height: 800 } });
    await again.goto(next.link);
    await again
      .getByRole('button', { name: /Go on with visit 1/ })
      .first()
      .click();
    await heading(again, 'A photo, before anything moves');
    await again.locator('.photos img').nth(1).waitFor();
    expect(await sizes(again)).toHaveLength(2);
    await again.getByRole('button', { name: 'Remove front.jpg' }).click();
    await again.getByRole('dialog').getByRole('button', { name: 'Remove', exact: true }).click();
    await again.getByText('front.jpg was removed.').waitFor();
    await expect.poll(() => again.locator('.photos img').count()).toBe(1);
    rmSync(dataFolder, { recursive: true, force: true });
  });

  it('take no card that contradicts itself', async () => {
    const app = await startApp({ source: 'none' });
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
    // the main button leads there; nothing can be saved meanwhile
    const there = page.getByRole('button', { name: 'Go to the first one' });
    await there.press('Enter');
    await page.locator('input[aria-label^="Electrode gap, "]:focus').waitFor();
    expect(await save.count()).toBe(0);
    await page.getByLabel('Electrode gap, ±').fill('1/32');
    await page.getByLabel('Settings by nozzle flow 1, to').fill('0.70');
    await page.getByText('is in two rows (1 and 2)', { exact: false }).waitFor();
    await there.waitFor();
    expect(await save.count()).toBe(0);
    await page.getByLabel('Settings by nozzle flow 1, to').fill('0.60');
    await page.getByText('Nothing contradicts itself', { exact: false }).waitFor();
    await save.press('Enter');
    await page.getByText('Saved.', { exact: true }).first().waitFor();
    expect(await violationsOf(page)).toEqual([]);
  });

  it('are looked at and told by keyboard alone, three burners, and one is fired as it was left', async () => {
    const wallMs = Date.UTC(2026, 0, 1);
    const app = await startApp({ source: 'none' });
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
