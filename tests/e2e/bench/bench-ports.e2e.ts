/**
 * A real instrument on a port (a pseudo-terminal) through a plan: set up from an empty bench, unplugged in the middle, another gas, a step that is not
 * reached, and the signed certificate. No cheaper test shows: a port that goes and comes beside the window that says so, the forms of the bench filled in
 * in a real browser, and the certificate as its page.
 */
import { readFileSync } from 'node:fs';
import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startAppProcess, type AppProcess } from '../../helpers/host/app-process.ts';
import { violationsOf } from '../../helpers/browser/axe.ts';
import { launchChromium } from '../../helpers/browser/chromium.ts';
import { createLedTime, type LedTime } from '../../helpers/host/led-time.ts';
import { pressEnter } from '../../helpers/browser/main-button.ts';
import { noPty, startPty, type Pty } from '../../helpers/ports/pty.ts';

let browser: Browser;
let app: AppProcess;
let page: Page;
let pty: Pty;
let time: LedTime;
const complaints: string[] = [];

const heading = (name: string | RegExp) => page.getByRole('heading', { name });
const button = (name: string | RegExp) => page.getByRole('button', { name });
const field = (name: string, nth = 0) => page.getByLabel(name, { exact: true }).nth(nth);
const type = async (name: string, text: string, nth = 0): Promise<void> => {
  await field(name, nth).fill(text);
};
/** Lets time go on until it is shown. */
const shown = (target: Locator): Promise<void> =>
  time.until(target.toString(), () => target.isVisible(), { stepMs: 500, mostMs: 20 * 60_000 });
/** O2, CO, stack and air with their names, with a little life in the last digit */
const reads = (o2: number, co: number): Promise<string> =>
  pty.ask(`line O2={~${o2} ${o2 === 0 ? 0 : 0.03} 2};CO={~${co} 0.8 0};TS=22.0;TA=21.5`, 'line');

beforeAll(async () => {
  if (noPty !== undefined) return;
  browser = await launchChromium();
  pty = await startPty();
  await reads(20.9, 0);
  await pty.ask('rate 4');
  time = createLedTime({ instruments: [pty], tickMs: 250 });
  app = await startAppProcess({ source: pty.path, time });
  page = await browser.newPage({ viewport: { width: 1280, height: 800 }, colorScheme: 'dark', reducedMotion: 'reduce' });
  time.shownIn(page);
  page.on('pageerror', ({ stack, message }) => complaints.push(stack ?? message));
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  await page.goto(app.link);
});
afterAll(async () => {
  time?.stop();
  await browser?.close();
  await app?.stop();
  await pty?.stop();
});

describe.skipIf(noPty !== undefined)('an instrument on a port', () => {
  it('is written down with its cells, ages and ranges; a date that is none is said', async () => {
    await button(/I have read this/).click();
    // once for this instrument: its figures beside its display
    await shown(button(/Yes, the display agrees/));
    await button(/Yes, the display agrees/).click();
    await page.keyboard.press('Control+2');
    await heading('Bench').waitFor();
    await button('Add: Instruments').focus();
    await pressEnter(page);
    await heading('Instrument').waitFor();
    await expect.poll(() => button(/^Save/).isDisabled()).toBe(true);
    await type('Name on the bench', 'Instrument 3');
    await type('Serial number', '0147');
    await type('Filter changed on', '2026-13-01');
    await page.getByText('This is no date. Type it like 2026-11-24.').waitFor();
    await expect.poll(() => button(/^Save/).isDisabled()).toBe(true);
    await type('Filter changed on', '2026-11-01');
    await type('Installed on', '2024-11-20');
    await type('Installed on', '2026-02-20', 1);
    await type('to', '500', 1);
    expect(await violationsOf(page)).toEqual([]);
    // the key on the button works in a field too
    await pressEnter(page);
    await page.getByText('0147 · O2, CO').waitFor();
  });

  it('has a plan of its own and a card of limits with rule and source', async () => {
    await page
      .getByRole('region', { name: 'Plans' })
      .getByRole('button', { name: /^Short round/ })
      .focus();
    await pressEnter(page);
    await heading('Plan').waitFor();
    await type('Name of the plan', 'Two gases');
    for (const step of [6, 5, 4]) await button(`Step ${step}: Remove`).click();
    for (const step of [1, 2, 3]) await type(`Step ${step}: Hold`, '30');
    await type('Step 1: Hold', '3');
    await page
      .getByText(/Between 30 and 604800|30/)
      .first()
      .waitFor();
    await expect.poll(() => button(/^Save/).isDisabled()).toBe(true);
    await type('Step 1: Hold', '30');
    expect(await violationsOf(page)).toEqual([]);
    await button(/^Save/).click();
    await page.getByText('3 steps').waitFor();

    await page
      .getByRole('region', { name: 'Limits' })
      .getByRole('button', { name: /^Portable electrochemical/ })
      .click();
    await heading('Limits').waitFor();
    await page.getByText('Choose a decision rule').waitFor();
    await type('Name of the card', 'Workshop');
    await page.getByLabel('Decision rule').selectOption('guarded-acceptance');
    await type('Where it comes from', '', 1);
    await page.getByText('Type where the limit comes from.').waitFor();
    await expect.poll(() => button(/^Save/).isDisabled()).toBe(true);
    await type('Where it comes from', 'own, from the last five years', 1);
    await type('or of value', '8', 1);
    expect(await violationsOf(page)).toEqual([]);
    await button(/^Save/).click();
    await page
      .getByRole('region', { name: 'Limits' })
      .getByRole('button', { name: /^Workshop/ })
      .waitFor();
  });

  it('refuses an expired, nearly empty bottle without a reason, and says which gas lies outside the range', async () => {
    await button(/New test/).click();
    await heading('New test').waitFor();
    const which = page.getByRole('combobox', { name: 'Instrument', exact: true });
    await which.selectOption({ label: 'Instrument 3' });
    await page.getByRole('combobox', { name: 'Plan' }).selectOption('Two gases');
    await page.getByText('Choose a bottle for zero gas.').waitFor();
    // typed in the middle of the set-up, chosen on the way back
    await page.getByLabel('Bottle for zero gas').selectOption({ label: 'Add a bottle' });
    await type('Name on the bottle', 'Nitrogen');
    await type('Expires on', '2099-01-31');
    await type('Certified value', '0');
    await type('Uncertainty, k = 2', '0.01');
    await type('Certified value', '0', 1);
    await type('Uncertainty, k = 2', '0.5', 1);
    await button(/^Save/).click();
    await page.getByLabel('Bottle for high gas').selectOption({ label: 'Add a bottle' });
    await type('Name on the bottle', 'CO 402');
    await type('Certificate', 'C 12-7');
    await type('Expires on', '2025-06-30');
    await type('Pressure now', '8');
    await type('Certified value', '4.02');
    await type('Uncertainty, k = 2', '0.05');
    await type('Certified value', '802', 1);
    await type('Uncertainty, k = 2', '8', 1);
    await page.getByText(/CO 402: expired, nearly empty/).waitFor();
    expect(await violationsOf(page)).toEqual([]);
    await button(/^Save/).click();
    await page.getByText('CO 402 lies outside the CO range of Instrument 3: that point is not judged.').waitFor();
    const reason = field('Why it is used anyway');
    await page
      .getByText(/CO 402 is expired, nearly empty: below 10 bar .145 psi.. Type why/)
      .first()
      .waitFor();
    await expect.poll(() => button(/Start the test/).isDisabled()).toBe(true);
    await reason.fill('new bottle is ordered');
    await page.getByText('Type where the fresh air is taken').waitFor();
    await type('Where fresh air is taken', 'yard');
    await page.getByText(/The sample is dried/).click();
    // the own card brings the rule that was agreed with it
    await page.getByRole('combobox', { name: 'Limits' }).selectOption('Workshop');
    await expect.poll(() => page.getByRole('combobox', { name: 'Decision rule' }).inputValue()).toBe('guarded-acceptance');
    await page.getByRole('textbox', { name: 'Person' }).fill('B. Tester');
    expect(await violationsOf(page)).toEqual([]);
    await pressEnter(page);
    await page.getByText('Put the hose into fresh air, then press Space at that moment.').waitFor();
  });

  it('is unplugged in the middle: plain words, and the plan goes on where it was', async () => {
    await page.keyboard.press('Space');
    await shown(page.getByText(/step 2 of 3/));
    await page.keyboard.press('Space');
    await reads(0, 0);
    // for the 30 s that the gas is held
    await time.until('settled', () => page.getByText('settled', { exact: true }).first().isVisible(), { stepMs: 4000, closely: true });
    await pty.ask('unplug', 'unplugged');
    await shown(page.getByText('Plug Instrument 3 back in. The plan waits where it was.').first());
    await expect.poll(() => page.getByText(/step 2 of 3/).isVisible()).toBe(true);
    expect(await violationsOf(page)).toEqual([]);
    await pty.ask('replug', 'replugged');
    await shown(page.getByText(/on the way|settled/).first());
    await shown(page.getByText(/step 3 of 3/));
  });

  it('is silent: said otherwise than unplugged', async () => {
    await pty.ask('rate 0');
    await shown(page.getByText('Instrument 3 sends nothing. Check that it is on and measuring. The plan waits where it was.').first());
    await pty.ask('rate 4');
    await shown(page.getByText('Switch to CO 402, then press Space at that moment.'));
  });

  it('has another gas on: says so, and goes on without the step when a person says so', async () => {
    await page.keyboard.press('Space');
    await reads(12, 0);
    await shown(page.getByText(/no gas of this plan gives what Instrument 3 reads|Instrument 3 reads like/).first());
    expect(await violationsOf(page)).toEqual([]);
    await button('Go on without it').focus();
    await pressEnter(page);
    await page.getByText('The round is done. Look at the result.').waitFor();
    await page.getByRole('region', { name: 'Steps of the plan' }).getByText('not reached').waitFor();
  });

  it('repeats the step at the right gas', async () => {
    await pressEnter(page);
    await heading(/^Fit for|^Not fit|too close/)
      .first()
      .waitFor();
    await page.keyboard.press('r');
    await page.getByRole('dialog').getByRole('button', { name: /span/ }).focus();
    await pressEnter(page);
    await page.getByText(/step 4 of 4/).waitFor();
    await page.keyboard.press('Space');
    await reads(4.02, 499);
    // over its range the CO cell sticks: the gas is known by O2, and a person says that it is the right one
    await shown(button('It is the right gas'));
    await button('It is the right gas').click();
    await shown(page.getByText('The round is done. Look at the result.'));
    await pressEnter(page);
    await page.getByText(/CO at CO 402: outside the range of the cell, not judged./).waitFor();
    expect(await violationsOf(page)).toEqual([]);
  });

  it('gets a certificate that is signed, and nothing of it changes afterwards', async () => {
    await pressEnter(page);
    await heading('Bench certificate').first().waitFor();
    const paper = page.frameLocator('iframe:not([aria-hidden])');
    await paper.getByText('Used although expired, nearly empty: below 10 bar (145 psi): new bottle is ordered').waitFor();
    await paper
      .getByText('O2 cell 24 months')
      .or(paper.getByText(/cell 24 months/))
      .first()
      .waitFor();
    await paper
      .getByText(/not reached/)
      .first()
      .waitFor();
    await page.getByText('Not signed yet').waitFor();
    await button('Next instrument').focus();
    await page.keyboard.press('s');
    await page.getByText('Signed by B. Tester').first().waitFor();
    await paper
      .getByText(/Signed by B. Tester/)
      .first()
      .waitFor();
    expect(await violationsOf(page)).toEqual([]);
    const download = page.waitForEvent('download');
    await button('JSON').click();
    const made = JSON.parse(readFileSync((await (await download).path()) ?? '', 'utf8')) as { test: { signature?: { name: string } } };
    expect(made.test.signature?.name).toBe('B. Tester');
    await page.keyboard.press('Escape');
    for (const name of [/^Limits/, /Repeat a step/]) await expect.poll(() => button(name).isDisabled()).toBe(true);
    await expect.poll(() => button(/Adjust and repeat/).count()).toBe(0);
  });

  it('makes room for the next instrument: plan, bottles, reason, limits and room are carried over', async () => {
    await page.keyboard.press('n');
    await heading('New test').waitFor();
    await page.getByText('Choose which instrument is on each source.').waitFor();
    // the one thing that changed has the focus
    expect(await page.evaluate(() => document.activeElement?.tagName)).toBe('SELECT');
    await page.getByRole('combobox', { name: 'Instrument', exact: true }).selectOption({ label: 'Add an instrument' });
    await type('Name on the bench', 'Instrument 4');
    await pressEnter(page);
    await heading('New test').waitFor();
    await page.getByText('Everything is set.').waitFor();
    await expect.poll(() => page.getByRole('combobox', { name: 'Plan' }).inputValue()).toBe('Two gases');
    await expect.poll(() => field('Why it is used anyway').inputValue()).toBe('new bottle is ordered');
    await expect.poll(() => button(/Start the test/).isEnabled()).toBe(true);
    // the key works where the instrument was chosen
    await page.getByRole('combobox', { name: 'Instrument', exact: true }).focus();
    await pressEnter(page);
    await page.getByText('Put the hose into fresh air, then press Space at that moment.').waitFor();
    await heading('Instrument 4').first().waitFor();
    expect(complaints).toEqual([]);
  });
});
