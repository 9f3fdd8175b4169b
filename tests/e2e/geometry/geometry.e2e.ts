/**
 * Electrodes, nozzle and head in the real window: from as found to locked by Space and digits alone, and a new nozzle that moves the head
 * setting. No cheaper test shows: that hands in gloves come through by Space and digits alone, with the drawing beside them. The verdicts
 * are in tests/shared/geometry.
 */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { violationsOf } from '../../helpers/browser/axe.ts';
import { look, begin, heading, space, withBrowser } from './geometry-parts.ts';

withBrowser();

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
});
