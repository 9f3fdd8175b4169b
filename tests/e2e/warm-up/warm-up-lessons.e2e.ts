/** Lessons in real windows: exercises by keyboard alone, an instructor at a second window, and the tour of the first start. No cheaper test shows two windows of one host in a real browser. */
import { spawn } from 'node:child_process';
import { resolve } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { violationsOf } from '../../helpers/browser/axe.ts';
import { startAppProcess, type AppProcess } from '../../helpers/host/app-process.ts';
import { createLedTime, type LedTime } from '../../helpers/host/led-time.ts';
import { type Window, openWindow, press, openWarmUp, textOf, withBrowser } from './warm-up-parts.ts';

withBrowser();

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
