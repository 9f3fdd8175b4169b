import { press, key, heading, workspace, withSettings, type States } from './parts.ts';

export const benchStates: States = {
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
