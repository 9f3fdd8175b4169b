/**
 * Two simulated instruments side by side, from connecting to the certificate, in a real browser. No cheaper test shows: the whole way by keys, both
 * columns on one screen with nothing for axe to find, a window that finds the test again, and the certificate as page and files. A kill is in bench-host.
 */
import { readFileSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { violationsOf } from '../../helpers/browser/axe.ts';
import { startAppProcess, type AppProcess } from '../../helpers/host/app-process.ts';
import { launchChromium } from '../../helpers/browser/chromium.ts';
import { createLedTime, type LedTime } from '../../helpers/host/led-time.ts';
import { mainRested, pressEnter } from '../../helpers/browser/main-button.ts';

let browser: Browser;
let app: AppProcess;
let page: Page;
let time: LedTime;
const complaints: string[] = [];

async function openWindow(link: string): Promise<void> {
  page = await browser.newPage({ viewport: { width: 1280, height: 800 }, colorScheme: 'dark', reducedMotion: 'reduce' });
  page.on('pageerror', ({ stack, message }) => complaints.push(stack ?? message));
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  await page.goto(link);
}

const heading = (name: string | RegExp) => page.getByRole('heading', { name });
const focusAndEnter = async (name: string | RegExp): Promise<void> => {
  await page.getByRole('button', { name }).focus();
  await pressEnter(page);
};
const stepNow = async (): Promise<number> =>
  Number(/step (\d+) of/.exec((await page.locator('.bench-about').textContent()) ?? '')?.[1] ?? 0);
/** Presses Space each time the plan asks for a gas, until this step is under way or the round is done. */
async function goTo(step: number | 'end'): Promise<void> {
  const press = page.locator('button.main:enabled', { hasText: 'Gas switched' });
  const result = page.getByRole('button', { name: /Look at the result/ });
  const isDone = async (): Promise<boolean> => (await result.isVisible()) || (await stepNow()) === step;
  while (!(await isDone())) {
    const before = await stepNow();
    await mainRested(page);
    await page.keyboard.press('Space');
    await time.until(
      'the step is over',
      async () => (await result.isVisible()) || ((await stepNow()) > before && (await press.isVisible())),
    );
  }
}

beforeAll(async () => {
  browser = await launchChromium();
  time = createLedTime();
  app = await startAppProcess({ source: 'none', time });
  await openWindow(app.link);
  time.shownIn(page);
});
afterAll(async () => {
  time?.stop();
  await browser?.close();
  await app?.stop();
});

describe('a bench test of two instruments at once', () => {
  it('starts from an empty bench by keys and says what is missing', async () => {
    await heading('Where do the readings come from?').waitFor();
    await page.keyboard.press('Control+2');
    await heading('Bench').waitFor();
    expect(await violationsOf(page)).toEqual([]);
    await pressEnter(page);
    await heading('New test').waitFor();
    await page.getByText('Put an instrument on the bench').waitFor();
    await expect.poll(() => page.getByRole('button', { name: /Start the test/ }).isDisabled()).toBe(true);
  });

  it('puts a healthy and an aged instrument on, and wants the decision rule chosen', async () => {
    await focusAndEnter('Add a simulated instrument');
    await page.getByText('Simulated: instrument in good order').waitFor();
    await page.getByRole('combobox', { name: 'Add a simulated instrument' }).selectOption('low-span');
    await focusAndEnter('Add a simulated instrument');
    await page.getByText('Simulated: low span').waitFor();
    await page.getByRole('combobox', { name: 'Limits' }).selectOption('Portable electrochemical instruments');
    await page.getByText('The rule is agreed before the test').waitFor();
    await expect.poll(() => page.getByRole('button', { name: /Start the test/ }).isDisabled()).toBe(true);
    await page.getByRole('combobox', { name: 'Decision rule' }).selectOption('simple');
    expect(await violationsOf(page)).toEqual([]);
    await focusAndEnter(/Start the test/);
    await page.getByRole('button', { name: /Gas switched/ }).waitFor();
  });

  it('goes through the plan with Space, both columns side by side', async () => {
    await goTo(3);
    await page.getByText('Switch to CO 1000, then press Space at that moment.').waitFor();
    for (const name of ['Practice instrument 1', 'Practice instrument 2']) await page.getByRole('region', { name }).waitFor();
    expect(await violationsOf(page)).toEqual([]);
  });

  it('goes on where it was after a reload', async () => {
    await page.reload();
    await page.getByRole('button', { name: 'Bench', exact: true }).waitFor();
    await page.keyboard.press('Control+2');
    await page.getByText(/Go on with Practice instrument 1 and Practice instrument 2/).waitFor();
    await pressEnter(page);
    await page.getByText('Switch to CO 1000, then press Space at that moment.').waitFor();
    expect(await stepNow()).toBe(3);
    await goTo('end');
  });

  it('passes the healthy one and fails the aged one, with the next step', async () => {
    await pressEnter(page);
    await heading('Fit for O2 and CO.').waitFor();
    expect(await violationsOf(page)).toEqual([]);
    await focusAndEnter('Practice instrument 2');
    await heading(/^Not fit for CO/).waitFor();
    await page.getByText(/adjust the CO span with CO 1000/).waitFor();
    await page.getByText(/Reads low at every gas/).waitFor();
    await page.keyboard.press('Control+d');
    expect(await violationsOf(page)).toEqual([]);
  });

  it('wants the adjustment typed before as-left begins', async () => {
    await pressEnter(page);
    const go = page.getByRole('button', { name: /Start as-left/ });
    await go.waitFor();
    await expect.poll(() => go.isDisabled()).toBe(true);
    await page.keyboard.type('CO span with CO 1000');
    await pressEnter(page);
    await page.getByText(/as left · step 1 of 6/).waitFor();
    await focusAndEnter(/Stop here/);
    await page.keyboard.type('practice ends here');
    await pressEnter(page);
    await page.getByRole('button', { name: /Look at the result/ }).waitFor();
    await pressEnter(page);
    await page.getByRole('button', { name: 'As found' }).waitFor();
  });

  it('writes the certificate: sections, decision rule, mark of practice, and a file of it', async () => {
    await focusAndEnter('As found');
    await heading(/^Not fit for CO/).waitFor();
    await page.keyboard.press('p');
    await heading('Bench certificate').first().waitFor();
    const paper = page.frameLocator('iframe:not([aria-hidden])');
    for (const text of ['Identification', 'Reference gases', 'As found', 'As left', 'About this result'])
      await paper.getByRole('heading', { name: text, exact: true }).waitFor();
    await paper.getByText('Decision rule: simple acceptance.').waitFor();
    await paper.getByText('Adjusted: CO span with CO 1000').first().waitFor();
    await paper.getByText('Simulated instrument: for practice only').first().waitFor();
    expect(await violationsOf(page)).toEqual([]);
    const download = page.waitForEvent('download');
    await focusAndEnter('CSV');
    const file = readFileSync((await (await download).path()) ?? '', 'utf8');
    expect(file).toMatch(/^"# Simulated, for practice/);
    expect(file).toMatch(/as-found,co,ppm,CO 1000,1000,/);
    const pdf = page.waitForEvent('download');
    await focusAndEnter(/Certificate, PDF/);
    expect(
      readFileSync((await (await pdf).path()) ?? '')
        .subarray(0, 5)
        .toString('latin1'),
    ).toBe('%PDF-');
    expect(complaints).toEqual([]);
  });
});
