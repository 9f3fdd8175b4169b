/** Electrodes, nozzle and head: every step as it was found and as it is left, near and far; bad figures; the cards; look and tell. */
import type { Page } from 'playwright-core';
import type { Visit } from '../../../shared/tuning/visit/visit.ts';
import { dialog, heading, key, press, readAny, toStep, underWay, visitFolder, withSettings, workspace } from './parts.ts';
import type { Screen, State, States } from './parts.ts';

/** Nothing of the set-up sheet is measured yet. */
const untouched = (visit: Visit): Visit => ({
  ...underWay(visit),
  setUp: { lengthUnit: 'inch', rows: {}, nozzlePattern: {} },
});

/** What stands in front of the hands, with a figure that is wrong and the one that is right, for training card B. */
const steps: readonly (readonly [name: string, found?: string, left?: string])[] = [
  ['power-off'],
  ['oil-shut'],
  ['cool-and-dry'],
  ['hands-and-eyes'],
  ['adjuster-as-found', '2'],
  ['mark-parts'],
  ['photo'],
  ['take-out'],
  ['nozzle-stamp', '0.75'],
  ['look-over'],
  ['gap', '3/16', '7/64'],
  ['height', '7/16', '1/2'],
  ['ahead', '3/16', '3/32'],
  ['metal', '1/8', '5/16'],
  ['level', '1/16', '0'],
  ['nozzle-to-head', '3/4', '15/16'],
  ['centred', '1/16', '0'],
  ['put-back'],
  ['adjuster-to-zero'],
  ['fine-to-zero'],
  ['head-to-tube-end', '1/2', '11/16'],
  ['zero-tight'],
  ['head-setting', '1', '2'],
  ['shutter-start', '4', '5.5'],
  ['band-start', '1', '3'],
  ['all-tight'],
  ['all-tight-done'],
  ['as-left'],
];

const field = (page: Page): ReturnType<Page['locator']> => page.locator('.fraction-field input');

/** Over what is in the field, as a person does who measures again. */
async function measure(page: Page, text: string): Promise<void> {
  await field(page).fill(text);
  await page.waitForFunction((typed) => document.querySelector<HTMLInputElement>('.fraction-field input')?.value === typed, text);
}

const chooseCard = async (page: Page, card: string): Promise<void> => {
  await toStep(page, 'Start');
  await readAny(page);
  await page.getByLabel('Figures card of the burner').selectOption({ label: card });
  await page.getByLabel('Tube end of this burner').selectOption({ label: 'straight' });
  await page.getByLabel('Electrodes', { exact: true }).selectOption({ label: 'two' });
};
const begin = async (page: Page): Promise<void> => {
  await chooseCard(page, 'Training card B, invented');
  await toStep(page, 'Set-up');
  await readAny(page);
  await heading(page, 'Power off, tested');
};

/** From the safe burner to as left by Space and digits alone; every screen once as found and, where it was wrong, once as left. */
const walk = (start: (page: Page) => Promise<unknown>): Screen[] =>
  steps.flatMap(([name, found, left], at): Screen[] => [
    {
      name: left === undefined ? name : `${name}-1-found`,
      open: async (page) => {
        await (at === 0 ? start(page) : key(page, 'Space'));
        if (found !== undefined) await measure(page, found);
      },
    },
    ...(left === undefined
      ? []
      : [
          {
            name: `${name}-2-left`,
            open: async (page: Page) => [await key(page, 'Space'), await measure(page, left)],
          },
        ]),
  ]);

const bareVisit = (screens: readonly Screen[]): State => ({
  options: { prepare: (folder) => visitFolder(folder, untouched) },
  begin: (host) => host.ask('visit.open', { id: 'visit-full' }),
  screens,
});

const toGap = async (page: Page): Promise<void> => {
  await toStep(page, 'Set-up');
  await readAny(page);
  await press(page, /^4 Electrodes/);
  await field(page).waitFor();
};

export const geometryStates: States = {
  geometry: bareVisit([
    { name: 'card-chosen', open: (page) => chooseCard(page, 'Training card B, invented') },
    ...walk(begin),
    { name: 'table', open: async (page) => [await key(page, 't'), await page.getByRole('button', { name: /^One at a time/ }).waitFor()] },
    { name: 'true-size', open: async (page) => [await press(page, /^True-size sheet/), await dialog(page)] },
  ]),
  'geometry-far': bareVisit(walk(async (page) => [await begin(page), await key(page, 'v'), await page.locator('.geometry-far').waitFor()])),
  'geometry-bad': bareVisit([
    { name: 'no-card', open: async (page) => [await toGap(page), await measure(page, '5/32')] },
    { name: 'no-card-far', open: (page) => key(page, 'v') },
    {
      name: 'no-denominator',
      open: async (page) => [
        await key(page, 'v'),
        await chooseCard(page, 'Training card B, invented'),
        await toGap(page),
        await measure(page, '5/0'),
      ],
    },
    { name: 'fraction-in-mm', open: (page) => measure(page, '1 3/8 mm') },
    { name: 'negative', open: (page) => measure(page, '-3/32') },
    { name: 'words', open: (page) => measure(page, 'abc') },
    { name: 'far', open: async (page) => [await measure(page, '5/0'), await key(page, 'v')] },
  ]),
  cards: {
    options: { prepare: withSettings },
    screens: [
      { name: 'none-open', open: async (page) => [await workspace(page, 'Records'), await press(page, /^Figures/)] },
      { name: 'training', open: (page) => press(page, /^Training card B/) },
      { name: 'copy', open: (page) => press(page, 'Copy') },
      {
        name: 'conflict',
        open: async (page) => {
          // the second row begins where the first one still holds
          await page.getByLabel('Settings by nozzle flow 1, to', { exact: true }).fill('0.80');
          await press(page, 'Go to the first one');
        },
      },
      { name: 'new', open: (page) => press(page, 'New card') },
    ],
  },
  'look-and-tell': {
    options: { prepare: withSettings },
    screens: [
      {
        name: 'burner',
        open: async (page) => {
          await workspace(page, 'Warm-up');
          // the lesson's seed is the time: the same burners whenever pictures are made
          await page.evaluate(() => {
            const now = Date.now;
            Date.now = () => ((Date.now = now), 1);
          });
          await key(page, 't');
          await page.locator('.look-answers').waitFor();
        },
      },
      { name: 'rule', open: (page) => key(page, 'ArrowRight', 'Shift+ArrowUp', 'r') },
      { name: 'told', open: (page) => key(page, '1', '4') },
      { name: 'answer', open: (page) => key(page, 'Space') },
      // the last burner of the lesson has three things wrong: one of them is told, and one that is right
      {
        name: 'answer-found',
        open: async (page) => {
          await key(page, 'Space');
          for (let burner = 2; burner < 12; burner++) await key(page, 's');
          await key(page, '1', '2', 'Space');
        },
      },
      { name: 'set-right', open: (page) => key(page, 'r') },
    ],
  },
};
