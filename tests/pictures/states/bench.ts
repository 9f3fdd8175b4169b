import type { Page } from 'playwright-core';
import { press, key, heading, workspace, withSettings, type States } from './parts.ts';

/** The form behind one of the lists at the right. */
const fromList = async (page: Page, list: string, which: 'new' | 'first' = 'new'): Promise<void> => {
  const section = page.getByRole('region', { name: list, exact: true });
  await (which === 'new' ? section.getByRole('button', { name: /^Add/ }) : section.locator('.found-row').first()).click();
  await page.locator('.bench-head h1').waitFor();
};
const home = async (page: Page): Promise<void> => {
  await key(page, 'Escape');
  await heading(page, 'Bench');
};
const typeWrong = async (page: Page, ...fields: readonly (readonly [label: string, text: string])[]): Promise<void> => {
  for (const [label, text] of fields) await page.getByLabel(label, { exact: true }).first().fill(text);
};

export const benchStates: States = {
  // every form empty or as it comes, and with figures that cannot be
  'bench-forms': {
    options: { prepare: withSettings },
    screens: [
      {
        name: 'instrument',
        open: async (page) => [await workspace(page, 'Bench'), await fromList(page, 'Instruments')],
      },
      {
        name: 'instrument-wrong',
        open: (page) =>
          typeWrong(page, ['Filter changed on', '24.11.26'], ['Range from', '0..1'], ['Display step', '-0.1'], ['Installed on', 'May']),
      },
      {
        name: 'gas',
        open: async (page) => [await home(page), await fromList(page, 'Reference gases')],
      },
      {
        name: 'gas-wrong',
        open: (page) =>
          typeWrong(page, ['Expires on', 'soon'], ['Pressure now', '2 000'], ['Certified value', '5.0.0'], ['Uncertainty, k = 2', '-1']),
      },
      {
        name: 'plan',
        open: async (page) => [await home(page), await fromList(page, 'Plans', 'first')],
      },
      {
        name: 'plan-wrong',
        open: async (page) => {
          await page.getByRole('textbox', { name: 'Step 1: Hold' }).fill('1.2.3');
          await page
            .getByRole('combobox', { name: /^Step 2: /i })
            .first()
            .selectOption('repeatability');
          await page.getByRole('textbox', { name: 'Step 2: Readings' }).fill('one');
        },
      },
      { name: 'limits', open: async (page) => [await home(page), await fromList(page, 'Limits', 'first')] },
      { name: 'limits-wrong', open: (page) => page.locator('.bench-limit input').first().fill('0.8.1') },
    ],
  },
  bench: {
    options: { prepare: withSettings },
    screens: [
      { name: 'home', open: async (page) => [await workspace(page, 'Bench'), await heading(page, 'Bench')] },
      { name: 'new', open: async (page) => [await page.locator('.button.main').first().click(), await heading(page, 'New test')] },
      {
        name: 'ready',
        open: async (page, host) => {
          await press(page, 'Add a simulated instrument');
          await page.getByText('Simulated: instrument in good order').waitFor();
          await page.getByRole('combobox', { name: 'Add a simulated instrument' }).selectOption('low-span');
          await press(page, 'Add a simulated instrument');
          await page.getByText('Simulated: low span').waitFor();
          await page.getByRole('combobox', { name: 'Limits' }).selectOption('Portable electrochemical instruments');
          await page.getByRole('combobox', { name: 'Decision rule' }).selectOption('simple');
          await host.pass(2);
        },
      },
      { name: 'switch', open: async (page, host) => [await press(page, /Start the test/), await host.pass(30)] },
      { name: 'arriving', open: async (page, host) => [await key(page, 'Space'), await host.pass(20)] },
      {
        name: 'done',
        open: async (page, host) => {
          const result = page.getByRole('button', { name: /Look at the result/ });
          for (let steps = 0; steps < 60 && !(await result.isVisible()); steps++) {
            await host.pass(60);
            const wait = page.locator('button.main:enabled', { hasText: 'Gas switched' });
            if (await wait.isVisible()) await key(page, 'Space');
            await page.waitForTimeout(50);
          }
        },
      },
      { name: 'result', open: async (page) => [await press(page, /Look at the result/), await heading(page, /^Fit for/)] },
      { name: 'result-failed', open: async (page) => [await press(page, 'Practice instrument 2'), await heading(page, /^Not fit/)] },
    ],
  },
};
