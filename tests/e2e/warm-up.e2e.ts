/**
 * Warm-up in the real window: from a cold burner to the library, curves over each other, Call it, a class and its instructor, replay. No cheaper test
 * shows: several windows at one burner, what each of them may not see, and that keys, files, pictures and dialogs of a real browser go together.
 */
import { spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import type { Browser, Download, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { violationsOf } from '../helpers/axe.ts';
import { startAppProcess, type AppProcess } from '../helpers/app-process.ts';
import { launchChromium } from '../helpers/chromium.ts';
import { createLedTime, type LedTime } from '../helpers/led-time.ts';

let browser: Browser;
beforeAll(async () => {
  browser = await launchChromium();
});
afterAll(async () => {
  await browser?.close();
});

type Window = { page: Page; complaints: string[] };
async function openWindow(link: string, colorScheme: 'dark' | 'light' = 'light'): Promise<Window> {
  const page = await browser.newPage({
    viewport: { width: 1280, height: 800 },
    colorScheme,
    reducedMotion: 'reduce',
    acceptDownloads: true,
  });
  const complaints: string[] = [];
  page.on('pageerror', ({ stack, message }) => complaints.push(stack ?? message));
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  await page.goto(link);
  await page.getByRole('button', { name: 'Warm-up', exact: true }).waitFor();
  return { page, complaints };
}

const press = async (page: Page, ...keys: string[]): Promise<void> => {
  for (const key of keys) await page.keyboard.press(key);
};
/** Tab until what has the focus is called so. */
async function tabTo(page: Page, name: RegExp, most = 40): Promise<void> {
  for (let step = 0; step < most; step++) {
    const focused = await page.evaluate(() => {
      const element = document.activeElement as HTMLElement | null;
      const label =
        element instanceof HTMLInputElement || element instanceof HTMLSelectElement ? (element.labels?.[0]?.textContent ?? '') : '';
      return `${element?.getAttribute('aria-label') ?? ''} ${label} ${element?.textContent ?? ''}`;
    });
    if (name.test(focused)) return;
    await page.keyboard.press('Tab');
  }
  throw new Error(`no way to ${String(name)} by Tab`);
}
/** the workspace by its key, once the window listens and the view is there */
async function openWarmUp(page: Page): Promise<void> {
  await press(page, 'Control+3');
  await page
    .getByRole('button', { name: /^Exercises/ })
    .first()
    .waitFor();
}
const placeOf = async (page: Page): Promise<number> => Number(await page.locator('.replay-scrub').inputValue()) / 60_000;
const textOf = async (download: Download): Promise<string> => readFileSync(await download.path(), 'utf8');

/** From the source panel, as a person does it. */
async function startScenario(page: Page, title: string, seed: string): Promise<void> {
  await press(page, 'o');
  // one at a time: each run takes its share of the machine
  await page
    .getByRole('heading', { name: /source|lines come from/i })
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
    await page.getByRole('button', { name: 'Difference to the first' }).click();
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

describe('Call it, by keyboard alone', () => {
  let app: AppProcess;
  let time: LedTime;
  let page: Page;
  let complaints: string[];
  beforeAll(async () => {
    time = createLedTime();
    app = await startAppProcess({ source: 'none', time });
    ({ page, complaints } = await openWindow(app.link, 'dark'));
    time.shownIn(page);
  });
  afterAll(async () => {
    time?.stop();
    await page?.close();
    await app?.stop();
  });

  it('begins the first exercise with its name and every verdict hidden', async () => {
    await openWarmUp(page);
    await press(page, 'e');
    const dialog = page.getByRole('dialog', { name: 'Exercises' });
    await dialog.getByRole('button', { name: 'Do it Burner A' }).waitFor();
    expect(await violationsOf(page)).toEqual([]);
    await tabTo(page, /^\s*Do it\s+Burner A/);
    await press(page, 'Enter');
    await page.getByRole('heading', { name: 'Call it: Burner A' }).waitFor();
    await page.getByText('[ hidden ]').first().waitFor();
    await page.getByRole('group', { name: 'Stack' }).getByText(/^\d+$/).waitFor();
    await expect.poll(() => page.locator('.call-main').innerText()).not.toMatch(/settl|moving|heading/);
    await expect.poll(() => page.locator('body').innerText()).not.toContain('Cold start');
    expect(await violationsOf(page)).toEqual([]);
  });

  it('takes a call that is too early, and tells how early, at what cost, and why', async () => {
    // fired, and far from at rest
    const stackNow = page.getByRole('group', { name: 'Stack' }).locator('.figure');
    await time.until('it fires', async () => Number(await stackNow.textContent()) > 150);
    await tabTo(page, /^\s*Trainee/);
    await press(page, 'Control+a');
    await page.keyboard.type('14');
    await tabTo(page, /Which pattern/);
    await page.keyboard.type('normal');
    await tabTo(page, /Call it now/);
    await press(page, 'Enter');
    await page.getByText('The answer comes when').waitFor();
    const why = page.getByRole('button', { name: /^Why/ });
    await time.until('the answer is there', () => why.isEnabled(), { stepMs: 10_000 });
    await why.focus();
    await press(page, 'Enter');
    await page.getByText(/Too early by .* of 10 points/).waitFor();
    const told = await page.locator('.call-answer').innerText();
    expect(told).toMatch(/off by .* points of efficiency/);
    expect(told).toContain('Pattern: right.');
    const stack = page.getByRole('row', { name: /^Stack/ });
    // value, where it came to rest, what was still to go, and within what it counts as at rest
    expect((await stack.innerText()).replace(/\s/g, ' ')).toMatch(/Stack (?!settled)\w+ \d+ °F \d+ °F \+\d+ °F ±\d+ °F/);
    expect(await violationsOf(page)).toEqual([]);
    await press(page, 'Enter');
  });

  it('is in the class with its points, without a name', async () => {
    await press(page, 'k');
    const dialog = page.getByRole('dialog', { name: 'Class' });
    const row = dialog.getByRole('table', { name: 'Class' }).getByRole('row', { name: /^14/ });
    await row.waitFor();
    await expect.poll(() => row.innerText()).toMatch(/1\/1/);
    // the curve that was watched came along with the call
    await dialog.getByRole('img', { name: /when each call came.* 1: trainee 14, .* too early/ }).waitFor();
    expect(await violationsOf(page)).toEqual([]);
    await press(page, 'Escape');
  });

  it('gives a set of exercises out as a file, takes it back, and refuses another file in words', async () => {
    await press(page, 'e');
    const dialog = page.getByRole('dialog', { name: 'Exercises' });
    const [file] = await Promise.all([
      page.waitForEvent('download'),
      dialog.getByRole('button', { name: 'Save this set as a file' }).click(),
    ]);
    const text = await textOf(file);
    const mine = JSON.stringify({ ...(JSON.parse(text) as object), name: 'Evening class' });
    const choose = async (name: string, content: string): Promise<void> =>
      page.locator('input[type=file]').setInputFiles({ name, mimeType: 'application/json', buffer: Buffer.from(content) });
    await choose('other.json', '{"format":"something"}');
    await dialog.getByText('This file was not added.', { exact: false }).waitFor();
    await choose('evening.json', mine);
    await dialog.getByText('“Evening class” was added: 9 exercises.').waitFor();
    await expect.poll(() => dialog.getByLabel('Set of exercises').inputValue()).not.toBe('built-in');
    await dialog.getByRole('button', { name: 'Shuffle' }).click();
    await dialog.getByText(/^Shuffled: another order/).waitFor();
    await expect.poll(() => dialog.getByLabel('Set of exercises').locator('option:checked').innerText()).toBe('Evening class, shuffled');
    expect(await violationsOf(page)).toEqual([]);
    await press(page, 'Escape');
  });

  it('had nothing to complain of', () => expect(complaints).toEqual([]));
});

describe('an instructor in a second window', () => {
  let app: AppProcess;
  let time: LedTime;
  let trainee: Window;
  let instructor: Window;
  beforeAll(async () => {
    time = createLedTime();
    app = await startAppProcess({ source: 'none', time });
    trainee = await openWindow(app.link);
    instructor = await openWindow(await secondLink(app));
    time.shownIn(trainee.page);
    time.shownIn(instructor.page);
  });
  afterAll(async () => {
    time?.stop();
    await trainee?.page.close();
    await instructor?.page.close();
    await app?.stop();
  });

  it('begins a burner, and the trainee’s window follows', async () => {
    const { page } = instructor;
    await page.getByRole('heading', { name: 'Instructor' }).waitFor();
    expect(await violationsOf(page)).toEqual([]);
    await page.getByRole('button', { name: 'Begin' }).focus();
    await press(page, 'Enter');
    await trainee.page.getByText('Simulated burner', { exact: true }).first().waitFor();
    await page.getByLabel('The burner burns').waitFor();
  });

  it('changes it under the trainee’s window, and reads back how every part stands', async () => {
    const { page } = instructor;
    await page.getByLabel('Scenario').selectOption('tune-up');
    await page.getByRole('button', { name: 'Begin' }).click();
    const o2 = trainee.page.getByRole('group', { name: /^O2 / });
    await time.until('O2 has settled', async () => (await o2.getAttribute('aria-label'))?.includes('settled'));
    const before = Number(await o2.locator('.figure').textContent());
    expect(before).toBeGreaterThan(1);
    const leak = page.getByRole('slider', { name: /Room air drawn in before the probe/ });
    await expect.poll(() => leak.inputValue()).toBe('0');
    await leak.focus();
    for (let step = 0; step < 30; step++) await press(page, 'ArrowRight');
    await expect.poll(async () => page.locator('output[for="part-leakFraction"]').innerText()).toMatch(/^0\.27$/);
    // 0.27 of the sample is air now: O2 goes 27 % of the way to 20.9
    const expected = before + 0.27 * (20.9 - before);
    await time.until('the air is seen', async () => Number(await o2.locator('.figure').textContent()) > expected - 0.6, {
      mostMs: 600_000,
    });
    expect(await violationsOf(page)).toEqual([]);
  });

  it('may not do what is the trainee’s, and the trainee’s window says nothing of what was done', async () => {
    await expect.poll(() => trainee.page.locator('body').innerText()).not.toMatch(/drawn in before the probe/);
    await press(instructor.page, 'k');
    await instructor.page.getByRole('dialog', { name: 'Class' }).getByText('Nobody has called it yet.').waitFor();
    await press(instructor.page, 'Escape');
    expect([...trainee.complaints, ...instructor.complaints]).toEqual([]);
  });
});

describe('the tour of the first start', () => {
  it('goes through by keyboard beside the running burner, and never comes again', async () => {
    const app = await startAppProcess({ source: 'newcomer', speed: 10 });
    try {
      const { page, complaints } = await openWindow(app.link, 'dark');
      const card = page.getByRole('region', { name: 'A short look round' });
      await card.getByText('This burner is simulated').waitFor();
      await page.getByRole('group', { name: /^O2 / }).waitFor();
      expect(await violationsOf(page)).toEqual([]);
      for (let step = 2; step <= 9; step++) {
        await press(page, 'Enter');
        await card.getByText(`${step} of 9`, { exact: false }).waitFor();
        if (step !== 3) continue;
        // what the card says can be done, with the card's own button in focus
        await press(page, 'Space', '5', 'Enter');
        const shutter = page.getByRole('spinbutton', { name: /shutter position/i });
        await expect.poll(() => shutter.getAttribute('aria-valuenow')).toBe('5');
        await card.getByRole('button', { name: 'Next' }).focus();
      }
      await press(page, 'Enter');
      await card.waitFor({ state: 'detached' });
      await page.reload();
      await page.getByRole('group', { name: /^O2 / }).waitFor();
      await expect.poll(() => card.count()).toBe(0);
      expect(complaints).toEqual([]);
    } finally {
      await app.stop();
    }
  });
});

/** A second start beside the first prints a link for one more window of the same Flueside. */
function secondLink(app: AppProcess): Promise<string> {
  const child = spawn(process.execPath, [resolve('dist/main/node.mjs'), '--no-open', '--data', app.dataFolder, '--as', 'instructor'], {
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let output = '';
  return new Promise((done, fail) => {
    const look = (piece: Buffer): void => {
      output += piece.toString();
      const link = /http:\/\/127\.0\.0\.1:\d+\/#code=[\w-]+/.exec(output)?.[0];
      if (link !== undefined) done(link);
    };
    child.stdout.on('data', look);
    child.stderr.on('data', look);
    child.on('close', (code) => fail(new Error(`the second start ended with ${String(code)}:\n${output}`)));
  });
}
