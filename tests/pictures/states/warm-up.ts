import { press, key, heading, workspace, escape, dialog, withSettings, type States } from './parts.ts';

export const warmUpStates: States = {
  'warm-up': {
    options: { prepare: withSettings },
    begin: async (host) => {
      for (const seed of [21, 22, 23]) {
        const { runId } = await host.ask('run.start', { source: { kind: 'simulated', scenario: 'cold-start', seed } });
        await host.pass(1500);
        if (seed !== 23) await host.ask('run.end', { runId });
      }
    },
    screens: [
      { name: 'empty', open: (page) => workspace(page, 'Warm-up') },
      {
        name: 'keep',
        open: async (page) => [
          await press(page, /^(Keep|Save) this run/),
          await dialog(page),
          await page.getByText(/Light-off was found/).waitFor(),
        ],
      },
      {
        name: 'one',
        open: async (page) => {
          await page.getByLabel('Name', { exact: true }).fill('Boiler one');
          await key(page, 'Enter');
          await page.getByRole('button', { name: '1 Boiler one' }).waitFor();
        },
      },
      { name: 'library', open: async (page) => [await key(page, 'a'), await dialog(page)] },
      {
        name: 'three',
        open: async (page) => {
          for (const [index, name] of ['Steel boiler in the north cellar', 'Boiler three'].entries()) {
            if (index > 0) await key(page, 'a');
            await page.getByRole('dialog', { name: 'Library' }).getByRole('button', { name: 'Stored runs' }).click();
            await page
              .getByRole('dialog', { name: 'Library' })
              .getByRole('button', { name: 'Make a curve' })
              .nth(index + 1)
              .click();
            await page.getByLabel('Name', { exact: true }).fill(name);
            await page.getByText(/Light-off was found/).waitFor();
            await key(page, 'Enter');
            await page
              .getByRole('button', { name: new RegExp(`${index + 2} `) })
              .first()
              .waitFor();
          }
          await page.locator('dialog[open]').waitFor({ state: 'detached' });
        },
      },
      { name: 'difference', open: async (page) => [await press(page, 'Difference from the first'), await press(page, 'Usual band')] },
      { name: 'curves-table', open: async (page) => [await key(page, 'b'), await dialog(page)] },
      { name: 'exercises', open: async (page) => [await escape(page), await key(page, 'e'), await dialog(page)] },
      {
        name: 'call-it',
        open: async (page, host) => [await press(page, /^Do it\s*Burner A/), await heading(page, /^Call it/), await host.pass(420)],
      },
      {
        name: 'called',
        open: async (page, host) => {
          await page.getByLabel(/^Trainee/).fill('14');
          await press(page, /^Call it now/);
          await page.getByText(/The answer comes when/).waitFor();
          await host.pass(60);
        },
      },
      {
        name: 'answer',
        open: async (page, host) => [
          await host.pass(3600),
          await press(page, /^Why/),
          await page
            .getByText(/ of 10 points/)
            .first()
            .waitFor(),
        ],
      },
      { name: 'class', open: async (page) => [await press(page, /^End without a call/), await press(page, /^Class/), await dialog(page)] },
    ],
  },
};
