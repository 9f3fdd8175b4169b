import { stampPressures } from '../../../shared/tuning/set-up/stage-nozzle.ts';
import type { Visit } from '../../../shared/tuning/visit/visit.ts';
import { START_WALL_MS } from '../../helpers/visits/full-visit.ts';
import {
  press,
  key,
  escape,
  dialog,
  toStep,
  readAny,
  connect,
  underWay,
  visitFolder,
  reportShown,
  type Screen,
  type States,
} from './parts.ts';

const stagesOf = (visit: Visit): Visit => ({
  ...underWay(visit),
  stages: [...visit.stages, { name: '2' }],
  setUp: {
    ...visit.setUp,
    nozzlePattern: {},
    stages: [
      { stage: '1', stamp: { value: 0.65, unit: 'gph', atPa: stampPressures[0] } },
      { stage: '2', adds: true, stamp: { value: 0.5, unit: 'gph', atPa: stampPressures[0] }, angleDeg: 60, pattern: 'semi-hollow' },
    ],
  },
});

const visitScreens: readonly Screen[] = [
  { name: 'start', open: async (page) => [await page.locator('.thread-step').first().waitFor(), await toStep(page, 'Start')] },
  { name: 'as-found', open: async (page) => [await toStep(page, 'As-found'), await readAny(page)] },
  { name: 'as-found-chosen', open: (page) => key(page, 'c') },
  { name: 'set-up-geometry', open: async (page) => [await toStep(page, 'Set-up'), await readAny(page)] },
  { name: 'set-up-table', open: (page) => press(page, /^Table/) },
  {
    name: 'set-up-wrong',
    open: async (page) => {
      await page.locator('.set-up tbody tr:nth-child(4) td:nth-child(2) input').fill('1/0');
      await page.locator('.set-up tbody tr:nth-child(6) td:nth-child(5) input').fill('1.2.3');
      await page.locator('.set-up tbody tr:nth-child(6) td:nth-child(5) input').blur();
    },
  },
  { name: 'set-up-oil-line', open: (page) => page.getByRole('region', { name: 'Oil line' }).scrollIntoViewIfNeeded() },
  { name: 'warm-up', open: async (page) => [await toStep(page, 'Warm up'), await readAny(page)] },
  { name: 'air-curve-live', open: async (page) => [await toStep(page, 'Air curve'), await readAny(page)] },
  { name: 'air-curve', open: (page) => key(page, 'c') },
  { name: 'other-setting', open: async (page) => [await key(page, 'a'), await dialog(page)] },
  {
    name: 'trial',
    open: async (page) => [
      await escape(page),
      await page.locator('table.trial-table tbody tr').first().focus(),
      await key(page, 'Enter'),
      await dialog(page),
    ],
  },
  { name: 'as-left', open: async (page) => [await escape(page), await toStep(page, 'As-left'), await readAny(page)] },
  {
    name: 'card',
    open: async (page) => [await press(page, /^(Change card|Choose a card|Card|Edit card|Another card)/), await dialog(page)],
  },
  {
    name: 'card-editor',
    open: async (page) => [await escape(page), await press(page, 'Edit the card'), await dialog(page)],
  },
  {
    name: 'card-editor-wrong',
    open: async (page) => {
      await page.locator('.card-lines td:nth-child(2) input').first().fill('3.0.1');
      await page.locator('.card-lines td:nth-child(3) input').nth(1).fill('twelve');
    },
  },
  { name: 'safety', open: async (page) => [await escape(page), await toStep(page, 'Safety'), await readAny(page)] },
  { name: 'safety-watch', open: async (page) => [await press(page, /^Flame failure to lockout/), await page.locator('.watch').waitFor()] },
  { name: 'safety-air', open: (page) => press(page, /^Air and venting/) },
  {
    name: 'bypass',
    open: async (page) => [await press(page, /^Safety tests/), await press(page, /^Bypass/), await dialog(page)],
  },
  {
    name: 'report',
    open: async (page, host) => [await escape(page), await toStep(page, 'Report'), await host.pass(2), await reportShown(page)],
  },
  { name: 'settings', open: (page) => key(page, 'g') },
  {
    name: 'settings-office',
    open: async (page) => [
      await page.getByRole('combobox', { name: 'Office', exact: true }).selectOption('postgres'),
      await page.locator('.panel-body').evaluate((body) => body.scrollTo(0, body.scrollHeight)),
    ],
  },
];

/** What the far view shows while each step is in front. */
const farSteps = [
  ['start', 'Start'],
  ['as-found', 'As-found'],
  ['set-up', 'Set-up'],
  ['warm-up', 'Warm up'],
  ['air-curve', 'Air curve'],
  ['as-left', 'As-left'],
  ['safety', 'Safety'],
  ['report', 'Report'],
] as const;

export const visitStates: States = {
  stages: {
    options: { prepare: (folder) => visitFolder(folder, stagesOf) },
    begin: (host) => host.ask('visit.open', { id: 'visit-full' }),
    screens: [
      { name: 'start', open: async (page) => [await toStep(page, 'Start'), await readAny(page)] },
      { name: 'set-up-table', open: async (page) => [await toStep(page, 'Set-up'), await readAny(page), await press(page, /^Table/)] },
      { name: 'nozzles', open: (page) => page.getByRole('region', { name: 'Nozzle and pressure of each stage' }).scrollIntoViewIfNeeded() },
      {
        name: 'derating',
        open: async (page) => {
          await page.getByText('Which nozzle for a smaller input?').click();
          await page.getByLabel('Wanted input').fill('80');
          await page.locator('.derating .since-table').scrollIntoViewIfNeeded();
        },
      },
      { name: 'air-curve', open: async (page) => [await toStep(page, 'Air curve'), await readAny(page)] },
    ],
  },
  // a first visit here: the last one's figures from a paper at the appliance, and a CO2max that was set
  papers: {
    options: {
      prepare: (folder) =>
        visitFolder(
          folder,
          (visit) => ({
            ...underWay(visit),
            draftHabit: 'plain',
            co2MaxPercent: 15.2,
            papers: {
              day: '2025-10-02',
              fuelId: 'no2',
              nozzleFlowLh: 2.46,
              o2Percent: 4.6,
              co2Percent: 12,
              coPpm: 12,
              smokeNumber: 0,
              netStackK: 165,
              overFirePa: -7.5,
            },
          }),
          0,
        ),
    },
    begin: (host) => host.ask('visit.open', { id: 'visit-full' }),
    screens: [
      {
        name: 'start',
        open: async (page) => [await toStep(page, 'Start'), await readAny(page), await page.getByLabel(/^CO2max/).scrollIntoViewIfNeeded()],
      },
      {
        name: 'fields',
        open: async (page) => [
          await toStep(page, 'As-found'),
          await readAny(page),
          await page.getByRole('region', { name: 'Papers of the last visit' }).locator('.form-row').last().scrollIntoViewIfNeeded(),
        ],
      },
      { name: 'compared', open: (page) => page.getByRole('table', { name: 'What changed since the last visit' }).scrollIntoViewIfNeeded() },
      { name: 'air-curve', open: async (page) => [await toStep(page, 'Air curve'), await readAny(page)] },
    ],
  },
  // a call-back whose last visit was not signed, burned another fuel and was written in other units; and one with another nozzle
  ...Object.fromEntries(
    (['fuel', 'nozzle'] as const).map((other): [string, States[string]] => [
      `since-other-${other}`,
      {
        options: {
          prepare: (folder) =>
            visitFolder(
              folder,
              (visit) => ({ ...underWay(visit), job: 'call-back' }),
              1,
              ({ signature: _signature, ...last }) => ({
                ...last,
                unitPreset: 'metric',
                ...(other === 'fuel'
                  ? { fuelId: 'no1' }
                  : { setUp: { ...last.setUp, rows: { ...last.setUp.rows, nozzleFlowLh: { asFound: 3.2, asLeft: 3.2 } } } }),
              }),
            ),
        },
        begin: (host) => host.ask('visit.open', { id: 'visit-full' }),
        screens: [
          {
            name: 'start',
            open: async (page) => [
              await toStep(page, 'Start'),
              await readAny(page),
              await page.locator('.since-notes').scrollIntoViewIfNeeded(),
            ],
          },
          { name: 'as-found', open: async (page) => [await toStep(page, 'As-found'), await readAny(page)] },
        ],
      },
    ]),
  ),
  score: {
    options: { prepare: (folder) => visitFolder(folder, (visit) => ({ ...underWay(visit), kind: 'training' })) },
    begin: (host) => host.ask('visit.open', { id: 'visit-full' }),
    screens: [{ name: 'report', open: async (page) => [await toStep(page, 'Report'), await readAny(page), await reportShown(page)] }],
  },
  visit: {
    options: { prepare: (folder) => visitFolder(folder) },
    begin: async (host) => {
      const runId = await connect(host, 'visit-full');
      await host.pass(900);
      await host.ask('visit.open', { id: 'visit-full', runId });
    },
    screens: visitScreens,
  },
  'visit-far': {
    options: { prepare: (folder) => visitFolder(folder) },
    begin: async (host) => {
      const runId = await connect(host, 'visit-full');
      await host.pass(900);
      await host.ask('visit.open', { id: 'visit-full', runId });
    },
    screens: farSteps.map(([name, step]) => ({
      name,
      open: async (page) => {
        if (name !== 'start') await key(page, 'v');
        await toStep(page, step);
        await readAny(page);
        await key(page, 'v');
      },
    })),
  },
  unsafe: {
    options: {
      prepare: (folder) =>
        visitFolder(folder, (visit) => ({
          ...underWay(visit),
          safety: visit.safety.map((one) => (one.test === 'flame-failure' ? { ...one, result: 'fail', seconds: 21.4 } : one)),
        })),
    },
    begin: (host) => host.ask('visit.open', { id: 'visit-full' }),
    screens: [
      {
        name: 'report',
        open: async (page) => [await toStep(page, 'Report'), await readAny(page), await reportShown(page)],
      },
      { name: 'safety', open: async (page) => [await toStep(page, 'Safety'), await readAny(page)] },
    ],
  },
  alarm: {
    options: {
      prepare: (folder) =>
        visitFolder(folder, (visit) => ({
          ...underWay(visit),
          roomCo: [...visit.roomCo, { wallMs: START_WALL_MS + 94 * 60_000, ppm: 60, place: 'boiler room' }],
        })),
    },
    begin: async (host) => {
      const runId = await connect(host, 'visit-full');
      await host.pass(300);
      await host.ask('visit.open', { id: 'visit-full', runId });
      host.instrument.burner.setAdjuster('shutter', 1, host.clock.nowMs());
      await host.pass(400);
    },
    screens: [
      { name: 'live', open: async (page) => [await toStep(page, 'Air curve'), await readAny(page)] },
      { name: 'far', open: (page) => key(page, 'v') },
    ],
  },
};
