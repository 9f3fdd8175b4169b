/** What was typed is there again after a kill, and a stopwatch after a reload. No cheaper test shows that a window finds all of it again in a new host. */
import { describe, expect, it } from 'vitest';
import { startAppProcess } from '../../helpers/host/app-process.ts';
import { startApp, openWindow, mouse, readCautions, typedSpot, withBrowser } from './tune-visit-parts.ts';

withBrowser();

describe('what was typed', () => {
  it('is there again after kill -9 one second later, and the visit goes on', async () => {
    const first = await startAppProcess({ source: 'none' });
    const before = await openWindow(first);
    await mouse.press(before.page, /^Begin a visit/);
    await before.page.getByRole('button', { name: /^Read and understood/ }).click();
    await mouse.fill(before.page, 'Technician', 'B. Fitter');
    await mouse.press(before.page, /^Set-up sheet/);
    await readCautions(before.page);
    await mouse.press(before.page, /^Table/);
    await mouse.fill(before.page, 'Electrode gap, as found', '5/32');
    await before.page.waitForTimeout(1000);
    await first.kill();

    const app = await startApp({ source: 'none', dataFolder: first.dataFolder });
    const { page } = await openWindow(app);
    await mouse.press(page, /^Go on with visit 1/);
    await mouse.press(page, /^Table/);
    await page.getByRole('heading', { name: 'Set-up sheet' }).first().waitFor();
    await expect.poll(() => page.getByLabel('Electrode gap, as found').inputValue()).toBe('5/32');
    await mouse.press(page, /^Start/);
    await expect.poll(() => page.getByLabel('Technician').inputValue()).toBe('B. Fitter');
  });

  it('goes on at the same step with the same run and trials after kill -9 in the middle of tuning', async () => {
    const first = await startAppProcess({ source: 'simulated', speed: 5 });
    const before = await openWindow(first);
    const { page: one } = before;
    await mouse.press(one, /^Begin a training visit/);
    await one.getByRole('button', { name: /^Read and understood/ }).click();
    await mouse.press(one, /^As-found/);
    await typedSpot(one, '1,5');
    await one
      .getByRole('group', { name: /^O2 / })
      .getByText(/^\d+\.\d$/)
      .waitFor();
    await mouse.press(one, /^Take reading/);
    await one
      .getByText(/taken\./)
      .first()
      .waitFor();
    // the gauge is not read here
    await one.getByRole('dialog', { name: 'Draft' }).waitFor();
    await one.keyboard.press('Escape');
    await one.getByRole('dialog').waitFor({ state: 'detached' });
    await mouse.press(one, /^As-left/);
    await readCautions(one);
    await mouse.fill(one, 'Reason (no smoke number, or less reserve)', 'called away');
    await one.waitForTimeout(1000);
    await first.kill();

    const app = await startApp({ source: 'none', dataFolder: first.dataFolder });
    const { page } = await openWindow(app);
    await mouse.press(page, /^Go on$/);
    // the visit of that run opens by itself, where it was
    await page
      .getByRole('button', { name: /^As-left/ })
      .and(page.locator('[aria-current=step]'))
      .waitFor();
    await expect.poll(() => page.getByLabel('Reason (no smoke number, or less reserve)').inputValue()).toBe('called away');
    await mouse.press(page, /^As-found/);
    await page.getByRole('table', { name: 'Trials' }).getByRole('cell', { name: '1½' }).waitFor();
    await mouse.press(page, /^Choose as-found/);
    await page.getByRole('table').getByRole('cell', { name: '1½' }).waitFor();
    await expect.poll(() => page.getByRole('table').getByRole('row').count()).toBe(2);
  });
});

describe('a stopwatch that runs', () => {
  it('goes on and is shown when another step is looked at, also over a reload, and stops from there', async () => {
    const app = await startApp({ source: 'none' });
    const { page } = await openWindow(app);
    await mouse.press(page, /^Begin a visit/);
    await page.getByRole('button', { name: /^Read and understood/ }).click();
    await mouse.press(page, /^Safety/);
    await readCautions(page);
    await mouse.press(page, /^Lockout, no ignition/);
    await page.keyboard.press('Space');
    const pressedMs = performance.now();
    await mouse.press(page, /^Report/);
    const line = page.getByRole('region', { name: 'Lockout, no ignition: the watch is running' });
    await line.waitFor();
    await page.waitForTimeout(1200);
    await page.reload();
    await line.waitFor();
    await line.getByRole('button', { name: 'Stop the watch' }).click();
    const waitedS = (performance.now() - pressedMs) / 1000;
    await page.getByRole('heading', { name: 'Lockout, no ignition' }).waitFor();
    const seconds = Number((await page.locator('.watch-figure').innerText()).replace(/[^\d.]/g, ''));
    // what was waited for, over other screens and a reload of the window; the watch did not begin anew
    expect(seconds).toBeGreaterThanOrEqual(1.2);
    expect(Math.abs(seconds - waitedS)).toBeLessThan(1);
    await expect.poll(() => line.count()).toBe(0);
    // the host's word that it stopped: a pass that is pressed before it stops the watch, and is taken only inside a mark that was entered
    await page.getByText('stopped', { exact: true }).waitFor();
    await page.keyboard.press('1');
    await page.getByText(/^pass · \d/).waitFor();
  });
});
