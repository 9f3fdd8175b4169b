/** A two-stage visit in metric units, from a prepared state to the signed report: the nozzle of each stage, the change of stage as a test, the signature. By keyboard.
 * No cheaper test shows: that every stage can be walked to and is on the paper that is signed; the sums are in tests/shared. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { startAppProcess, type AppProcess } from '../../helpers/host/app-process.ts';
import { violationsOf } from '../../helpers/browser/axe.ts';
import { launchChromium } from '../../helpers/browser/chromium.ts';
import { createHands } from '../../helpers/browser/counted-hands.ts';
import { fullVisit } from '../../helpers/visits/full-visit.ts';
import { keepVisit } from '../../helpers/visits/kept-visit.ts';
import { keepPictures } from '../../helpers/browser/kept-pictures.ts';

let browser: Browser;
let app: AppProcess;
let page: Page;
let folder: string;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'flueside-stages-'));
  // the window's own units; those of the visit are for the report
  writeFileSync(join(folder, 'settings.json'), JSON.stringify({ units: 'metric' }));
  const full = fullVisit({ source: 'port' });
  const { visit } = full;
  const second = visit.trials.map((trial) => ({
    ...trial,
    id: `${trial.id}-2`,
    takenWallMs: trial.takenWallMs + 1,
    setting: { ...trial.setting, stage: '2' },
  }));
  const [first] = visit.stages;
  const { endedWallMs: _open, ...open } = visit;
  await keepVisit(folder, {
    ...full,
    visit: {
      ...open,
      job: 'service',
      at: { step: 'set-up', stage: '1' },
      trials: [...visit.trials, ...second],
      stages: [first!, { ...first!, name: '2', asFoundTrialId: second[0]?.id, asLeftTrialId: second.at(-1)?.id }],
    },
  });
  browser = await launchChromium();
  app = await startAppProcess({ source: 'none', dataFolder: folder });
  page = await browser.newPage({ viewport: { width: 1280, height: 800 }, colorScheme: 'dark' });
  await page.goto(app.link);
});
afterAll(async () => {
  await app?.stop();
  await browser?.close();
  rmSync(folder, { recursive: true, force: true });
});

const picture = (name: string): Promise<void> => keepPictures(page, `stages-${name}`);

it('has a nozzle and a pressure at each stage, the change of stage tested, and a signed report that says so', async () => {
  const hands = createHands(page);
  await hands.press(/^Go on with visit 42/);
  await page.locator('.thread-step', { hasText: 'Start' }).click();
  await hands.choose('Units', 'metric');
  await page.locator('.thread-step', { hasText: 'Set-up sheet' }).click();
  await hands.press(/^Table/);
  await page.getByRole('heading', { name: 'Nozzle and pressure of each stage' }).waitFor();
  // a second nozzle of 1.9 kg/h at 10 bar that burns beside the first, both at 22 bar
  await hands.type('Stamped flow, Stage 2, high fire', '1.9');
  await hands.choose('Flow unit, Stage 2, high fire', 'kg/h');
  await hands.choose('Stamped at, Stage 2, high fire', '10 bar');
  await hands.type('Pump pressure now, Stage 2, high fire', '22');
  await page.getByLabel('burns together with stage 1').focus();
  await page.keyboard.press('Space');
  const row = page
    .getByRole('table')
    .last()
    .getByRole('row', { name: /^Stage 2/ });
  await row.getByText(/kW, LHV/).waitFor();
  await picture('set-up');
  await page.getByText('Which nozzle for a smaller input?').click();
  await hands.type('Wanted input', '25');
  await page
    .getByRole('cell', { name: /within the plate/ })
    .first()
    .waitFor();
  await picture('derating');
  expect(await violationsOf(page)).toEqual([]);

  await page.locator('.thread-step', { hasText: 'Safety' }).click();
  await page.getByRole('heading', { name: 'Change of stage' }).waitFor();
  await picture('switch-over');
  await page.evaluate(() => (document.activeElement as HTMLElement | null)?.blur());
  await hands.key('1');
  await hands.main(/on to Report/i);
  const paper = page.frameLocator('iframe:not([aria-hidden])');
  await paper.getByText('Not signed yet').waitFor();
  await hands.main(/^Sign/);
  await page.getByText(/^Signed by A\. Sample/).waitFor();
  await paper.getByText('Signed in Flueside').waitFor();
  await paper
    .getByText(/1\.9.*kg\/h at 10.*bar, burns together with stage 1/)
    .first()
    .waitFor();
  await paper.getByText('Change of stage').first().waitFor();
});
