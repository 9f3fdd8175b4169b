/** Two stages and CO that must not be missed, in the real window. No cheaper test shows that an alarm is seen in every view and heard. */
import { describe, expect, it } from 'vitest';
import { violationsOf } from '../../helpers/browser/axe.ts';
import { pressEnter } from '../../helpers/browser/main-button.ts';
import { mainText } from '../../helpers/visits/tuning.ts';
import { startApp, openWindow, mouse, readCautions, typedSpot, withBrowser } from './tune-visit-parts.ts';

withBrowser();

describe('a burner with two stages', () => {
  it('has its own as-found and as-left at each, told apart by a mark', async () => {
    const app = await startApp({ source: 'typed' });
    const { page } = await openWindow(app);
    // figures from a real display: the cautions of the day come first
    await page.getByRole('dialog').waitFor();
    await pressEnter(page);
    await page.getByRole('dialog').waitFor({ state: 'detached' });
    await mouse.press(page, /^Begin a visit/);
    await page.getByRole('button', { name: /^Read and understood/ }).click();
    await mouse.choose(page, 'Stages of the burner', 'two: low and high fire');
    await mouse.press(page, /^As-found/);
    await typedSpot(page, '0');
    const read = async (o2: string): Promise<void> => {
      await page.keyboard.press('r');
      await mouse.fill(page, 'O2', o2);
      await mouse.fill(page, 'CO', '12');
      await mouse.fill(page, 'Stack', '400');
      await mouse.fill(page, 'Air', '70');
      await pressEnter(page);
      await page.getByRole('dialog').waitFor({ state: 'detached' });
      await mouse.press(page, /^Take reading/);
      await page.getByText('Reading taken.').first().waitFor();
      await page.getByRole('dialog').waitFor();
      await page.keyboard.press('Escape');
      await page.getByRole('dialog').waitFor({ state: 'detached' });
    };
    await read('6.5');
    await mouse.press(page, /^Stage 2, high fire/);
    await mouse.press(page, /^It fires at stage 2 now/);
    await read('4.5');
    // the first reading of each stage is as-found by itself
    await mouse.press(page, /^Choose as-found/);
    await page.getByRole('button', { name: /^Do not use trial 2 as found/ }).waitFor();
    await mouse.press(page, /^Stage 1, low fire/);
    await page.getByRole('button', { name: /^Do not use trial 1 as found/ }).waitFor();
    await mouse.press(page, /^As-left/);
    await readCautions(page);
    await mouse.press(page, /^Leave it at trial 1/);
    await mouse.press(page, /^Stage 2, high fire/);
    await mouse.press(page, /^Leave it at trial 2/);
    await mouse.press(page, /^Report/);
    const summary = page.getByRole('region', { name: 'In this visit' });
    await summary.getByRole('heading', { name: 'Stage 2, high fire' }).waitFor();
    expect((await summary.innerText()).match(/Trial \d/g)).toEqual(['Trial 1', 'Trial 1', 'Trial 2', 'Trial 2']);
  });
});

describe('CO that must not be missed', () => {
  it('in the flue: seen in every view and heard, and the advice gives way at once; in the room: takes the window and the keys; oil stops the work', async () => {
    const app = await startApp({ source: 'typed' });
    const { page } = await openWindow(app);
    // what would be heard: the pitch of every tone
    await page.addInitScript(() => {
      const heard: number[] = [];
      Object.assign(globalThis, { heard });
      const param = { value: 0, setValueAtTime: () => undefined, linearRampToValueAtTime: () => undefined };
      class Heard {
        state = 'running';
        currentTime = 0;
        destination = {};
        createGain = () => ({ gain: param, connect: (to: unknown) => to });
        createOscillator = () => {
          const frequency = { value: 0 };
          return { frequency, connect: (to: unknown) => to, start: () => heard.push(frequency.value), stop: () => undefined };
        };
        resume = () => Promise.resolve();
      }
      Object.assign(globalThis, { AudioContext: Heard });
    });
    const tones = (): Promise<number[]> => page.evaluate(() => (globalThis as unknown as { heard: number[] }).heard);
    // the one-use link is changed for a session first; a reload before that would find it used
    await page.getByRole('dialog').waitFor();
    await page.reload();
    const cautions = page.getByRole('dialog');
    await cautions.waitFor();
    // the browser closes a dialog at a second Escape by itself; cautions are read or they stay
    for (let times = 0; times < 4; times++) await page.keyboard.press('Escape');
    expect(await cautions.evaluate((dialog) => (dialog as HTMLDialogElement).open)).toBe(true);
    await pressEnter(page);
    await cautions.waitFor({ state: 'detached' });
    await mouse.press(page, /^Begin a visit/);
    await page.getByRole('button', { name: /^Read and understood/ }).click();
    await mouse.press(page, /^As-found/);
    await typedSpot(page, '0');
    await page.keyboard.press('r');
    await mouse.fill(page, 'O2', '4.5');
    await mouse.fill(page, 'CO', '900');
    await pressEnter(page);
    await page.getByRole('dialog').waitFor({ state: 'detached' });
    const alarm = page.getByRole('alert').filter({ hasText: /CO air-free in the flue/ });
    await alarm.waitFor();
    await expect.poll(async () => (await tones()).filter((hertz) => hertz === 880).length).toBeGreaterThanOrEqual(3);
    await page.keyboard.press('v');
    await alarm.waitFor();
    await page.keyboard.press('v');
    await page.keyboard.press('Control+2');
    await alarm.waitFor();
    await page.keyboard.press('Control+1');
    await mouse.press(page, /^Start/);
    await mouse.fill(page, 'CO in the room', '120');
    await pressEnter(page);
    const out = page.getByRole('alertdialog', { name: /^Everybody out now\./ });
    await out.waitFor();
    // neither a key nor Escape goes past it, not even for a moment
    await page.evaluate(() => {
      const counted = globalThis as unknown as { closings: number };
      counted.closings = 0;
      document.querySelector('dialog.room-alarm')?.addEventListener('close', () => counted.closings++);
    });
    for (const key of ['Escape', 'Escape', 'Escape', 'Control+4', 'Escape', 'Escape', 'Control+4']) await page.keyboard.press(key);
    await out.waitFor();
    expect(await page.evaluate(() => (globalThis as unknown as { closings: number }).closings)).toBe(0);
    await expect.poll(() => page.getByRole('button', { name: 'Tune' }).first().getAttribute('aria-current')).toBe('page');
    expect(await out.getByLabel('CO in the room now').evaluate((field) => field === document.activeElement)).toBe(true);
    expect(await violationsOf(page)).toEqual([]);
    await page.keyboard.type('3');
    await pressEnter(page);
    await out.waitFor({ state: 'detached' });

    // in the middle of the air curve: what is advised gives way at once
    await page.getByLabel('Fuel', { exact: true }).selectOption('no2');
    await mouse.press(page, /^Air curve/);
    await page.keyboard.press('c');
    const advice = page.locator('.advice');
    const dialog = page.getByRole('dialog');
    const said = (): Promise<string> => advice.innerText();
    const gone = (): Promise<void> => dialog.waitFor({ state: 'detached' });
    const typeValues = async (o2: string, co: string): Promise<void> => {
      await page.keyboard.press('r');
      await mouse.fill(page, 'O2', o2);
      await mouse.fill(page, 'CO', co);
      await mouse.fill(page, 'Stack', '400');
      await mouse.fill(page, 'Air', '70');
      await pressEnter(page);
      await gone();
    };
    const smoke = async (oil: boolean): Promise<void> => {
      await mouse.fill(page, 'Spot 1', '0');
      if (oil) await dialog.getByLabel('Oil trace on the paper').check();
      await pressEnter(page);
      await gone();
    };
    await typeValues('8', '12');
    for (const [shutter, o2] of [
      ['6', '8'],
      ['5', '7'],
    ] as const) {
      await page.keyboard.press('a');
      await dialog.getByLabel(/^shutter$/i).fill(shutter);
      await pressEnter(page);
      await gone();
      await typeValues(o2, '12');
      await mouse.press(page, /^Take (gas )?reading/);
      await dialog.waitFor();
      await smoke(false);
    }
    await expect.poll(said).toMatch(/less air/i);
    await typeValues('6.9', '900');
    await expect.poll(said).toMatch(/more air/i);
    expect(await said()).not.toMatch(/less air/i);
    expect(await mainText(page)).toBe('Mark 6');
    await alarm.waitFor();
    // what is shown is the mean of the last second: figures typed in quick succession are one figure
    const typedAgain = async (): Promise<string> => {
      await typeValues('7', '12');
      return said();
    };
    await expect.poll(typedAgain).toMatch(/less air/i);

    // oil on the paper stops the work, and it stays stopped until another smoke is taken
    await page.keyboard.press('s');
    await dialog.waitFor();
    await smoke(true);
    const stopped = page.getByText('Oil on the paper. Take the probe out. Find the cause before another reading.').first();
    await stopped.waitFor();
    expect(await said()).not.toMatch(/less air|more air/i);
    await mouse.press(page, /^Enter the cause found/);
    await mouse.fill(page, 'What it was, and what was done', 'nozzle loose, tightened');
    await mouse.press(page, /^Save the cause/);
    await gone();
    await stopped.waitFor({ state: 'detached' });
    expect(await said()).not.toMatch(/less air|more air/i);
    await mouse.press(page, /^Type smoke/);
    await dialog.waitFor();
    await smoke(false);
    await expect.poll(said).toMatch(/less air/i);
  });
});
