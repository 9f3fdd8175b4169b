/**
 * Warm-up in the real window: from a cold burner to the library, curves over each other, Call it, a class and its instructor, replay. No cheaper test
 * shows: several windows at one burner, what each of them may not see, and that keys, files, pictures and dialogs of a real browser go together.
 */
import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { violationsOf } from '../../helpers/browser/axe.ts';
import { startAppProcess, type AppProcess } from '../../helpers/host/app-process.ts';
import { createLedTime, type LedTime } from '../../helpers/host/led-time.ts';
import { openWindow, press, openWarmUp, textOf, withBrowser } from './warm-up-parts.ts';

withBrowser();

const placeOf = async (page: Page): Promise<number> => Number(await page.locator('.replay-scrub').inputValue()) / 60_000;
/** From the source panel, as a person does it. */
async function startScenario(page: Page, title: string, seed: string): Promise<void> {
  await press(page, 'o');
  // one at a time: each run takes its share of the machine
  await page
    .getByRole('heading', { name: /source|readings come from/i })
    .first()
    .waitFor();
  const endRun = page.getByRole('button', { name: 'End this run' });
  if (await endRun.isVisible()) {
    await endRun.click();
    await press(page, 'o');
  }
  const kind = page.getByRole('button', { name: /^Simulated burner/ });
  await kind.last().click();
  await page.getByRole('radio', { name: new RegExp(`^${title}`) }).click();
  await page.getByLabel('Seed').fill(seed);
  const start = page.getByRole('button', { name: /^Start simulated burner/ });
  await start.click();
  // the run is there: time that is led on before is none of it
  await start.waitFor({ state: 'detached' });
}

describe('from a cold burner to the library and over each other', () => {
  let app: AppProcess;
  let time: LedTime;
  let page: Page;
  let complaints: string[];
  beforeAll(async () => {
    time = createLedTime();
    app = await startAppProcess({ source: 'none', time });
    ({ page, complaints } = await openWindow(app.link));
    time.shownIn(page);
  });
  afterAll(async () => {
    time?.stop();
    await page?.close();
    await app?.stop();
  });

  it('keeps the run under way as a curve, with what it has to be compared by', async () => {
    await startScenario(page, 'Cold start', '21');
    await openWarmUp(page);
    const isUnlit = page.getByText('No light-off yet', { exact: false });
    await time.until('light-off is seen', async () => !(await isUnlit.isVisible()));
    // enough for a full reading
    await time.forward(15 * 60_000);
    await page.getByRole('button', { name: /^Save this run/ }).click();
    const dialog = page.getByRole('dialog', { name: 'Save as a warm-up curve' });
    await dialog.getByText(/Light-off was found/).waitFor();
    await dialog.getByLabel('Name').fill('Boiler one');
    await dialog.getByLabel('Appliance').fill('steel boiler');
    await dialog.getByLabel('Outdoors').fill('23');
    await dialog.getByLabel('Tags, separated by commas').fill('winter, class');
    expect(await violationsOf(page)).toEqual([]);
    await press(page, 'Enter');
    await page.getByRole('button', { name: '1 Boiler one' }).waitFor();
  });

  it('tells the fit with its intervals, the honesty test, both criteria and what is left over', async () => {
    const fit = page.getByRole('region', { name: 'Fit of Boiler one' });
    await fit.waitFor();
    const told = await fit.innerText();
    expect(told).toMatch(/95 %: .* to /);
    expect(told).toMatch(/Honesty test (passed|failed)/);
    expect(told).toContain('10 CFR 430');
    expect(told).toContain('the first full reading was offered');
    expect(told).toMatch(/steel boiler · winter · class/);
    await fit.getByRole('img', { name: /Residuals: spread/ }).waitFor();
  });

  it('makes a curve of a stored run', async () => {
    await startScenario(page, 'Cold start', '22');
    await openWarmUp(page);
    await time.forward(12 * 60_000);
    await startScenario(page, 'Cold start', '23');
    await openWarmUp(page);
    await press(page, 'a');
    const library = page.getByRole('dialog', { name: 'Library' });
    await library.getByRole('button', { name: 'Stored runs' }).click();
    const stored = library.getByRole('listitem');
    await stored.first().waitFor();
    expect(await violationsOf(page)).toEqual([]);
    for (const name of ['Boiler two', 'Boiler three']) {
      if (!(await library.isVisible())) {
        await press(page, 'a');
        await library.getByRole('button', { name: 'Stored runs' }).click();
      }
      await stored
        .nth(name === 'Boiler two' ? 1 : 2)
        .getByRole('button', { name: 'Make a curve' })
        .click();
      const dialog = page.getByRole('dialog', { name: 'Save as a warm-up curve' });
      await dialog.getByLabel('Name').fill(name);
      await press(page, 'Enter');
      await dialog.waitFor({ state: 'detached' });
    }
    await page.getByRole('button', { name: '3 Boiler three' }).waitFor();
  });

  it('lays them over each other, by difference, with the usual band, and as a table', async () => {
    await page.getByRole('button', { name: 'Difference from the first' }).click();
    await page.getByRole('button', { name: 'Usual band' }).click();
    await page.getByText('Usual band: mean of 3 curves', { exact: false }).waitFor();
    await page.getByRole('button', { name: '2 Boiler two' }).click();
    await page.getByRole('region', { name: 'Fit of Boiler two' }).waitFor();
    await press(page, '+', 'ArrowRight', 'ArrowLeft', '-', 'End');
    expect(await violationsOf(page)).toEqual([]);
    await press(page, 'b');
    const table = page.getByRole('dialog', { name: /^Stack, .* by minutes from light-off/ });
    await expect.poll(() => table.getByRole('row').count()).toBe(4);
    const cells = await table
      .getByRole('row', { name: /Boiler one/ })
      .getByRole('cell')
      .allInnerTexts();
    // a dash stands where lines were missing
    const figures = cells.map(Number).filter((value) => !Number.isNaN(value));
    expect(figures.length).toBeGreaterThan(5);
    expect(figures.at(-1)).toBeGreaterThan(figures[0] ?? Infinity);
    expect(await violationsOf(page)).toEqual([]);
    await press(page, 'Escape');
  });

  it('saves data and picture, both marked as simulated', async () => {
    const [data] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: 'Save data' }).click()]);
    const text = await textOf(data);
    expect(text.split('\r\n')[0]).toBe('SIMULATED DATA - not a measurement');
    expect(text).toContain('Boiler three,simulated,');
    const [picture] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: 'Save picture' }).click()]);
    const bytes = readFileSync(await picture.path());
    expect(bytes.subarray(1, 4).toString()).toBe('PNG');
    expect(bytes.length).toBeGreaterThan(10_000);
  });

  it('replays a stored run with its controls in Tune as well: pause, step, speed and place', async () => {
    await press(page, 'o');
    await page
      .getByRole('button', { name: /^Replay a run/ })
      .last()
      .click();
    await page.getByRole('radio').first().waitFor();
    await page.getByRole('radio').last().click();
    await page.getByRole('button', { name: 'Replay', exact: false }).last().click();
    await press(page, 'Control+1');
    const bar = page.getByRole('region', { name: 'Replay' });
    await bar.waitFor();
    await expect.poll(() => page.getByRole('button', { name: /Take/ }).count()).toBe(0);
    await bar.getByRole('button', { name: /^Pause/ }).waitFor();
    await press(page, ']');
    await bar.getByText('2×').waitFor();
    await press(page, 'Space');
    await bar.getByRole('button', { name: /^Play/ }).waitFor();
    const held = await placeOf(page);
    await press(page, '.');
    await expect.poll(() => placeOf(page)).toBeGreaterThan(held);
    await bar.getByRole('slider').focus();
    await press(page, 'Home');
    await expect.poll(() => placeOf(page)).toBeLessThan(0.2);
    expect(await violationsOf(page)).toEqual([]);
    await press(page, 'Control+4');
    await bar.waitFor();
    await press(page, 'Control+2');
    await bar.waitFor();
    await press(page, 'Control+3');
    await page.getByRole('button', { name: /^Play/ }).waitFor();
    expect(await violationsOf(page)).toEqual([]);
  });

  it('had nothing to complain of', () => expect(complaints).toEqual([]));
});
