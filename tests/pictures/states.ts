/** Prepared states, and the screens and dialogs that each of them has. Every screen begins where the one before it ended. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { SETTINGS_FILE } from '../../main/settings/settings-file.ts';
import { createAppliances } from '../../main/store/appliances.ts';
import { openRecords } from '../../main/store/open.ts';
import { cautionKeys } from '../../shared/tuning/cautions.ts';
import { stampPressures } from '../../shared/tuning/stage-nozzle.ts';
import type { Visit } from '../../shared/tuning/visit.ts';
import { START_WALL_MS, fullVisit } from '../helpers/full-visit.ts';
import { keepVisit } from '../helpers/kept-visit.ts';
import { columnsRecipe } from '../helpers/run-lines.ts';
import { yearsBefore } from '../helpers/years.ts';
import { runPlan } from '../shared/bench/run-plan.ts';
import { PORT, plugIn, type HostOptions, type PictureHost } from './host.ts';

export type Screen = { readonly name: string; readonly open: (page: Page, host: PictureHost) => Promise<unknown> };
export type State = {
  readonly options: Omit<HostOptions, 'windowFiles'>;
  /** before the window opens */
  readonly begin?: (host: PictureHost) => Promise<unknown>;
  readonly screens: readonly Screen[];
};

const press = (page: Page, name: RegExp | string): Promise<void> => page.getByRole('button', { name }).first().click();
const pressLast = (page: Page, name: RegExp | string): Promise<void> => page.getByRole('button', { name }).last().click();
const key = async (page: Page, ...names: string[]): Promise<void> => {
  for (const name of names) await page.keyboard.press(name);
};
const heading = (page: Page, name: string | RegExp): Promise<void> => page.getByRole('heading', { name }).first().waitFor();
const workspace = (page: Page, name: string): Promise<void> =>
  page.getByRole('navigation', { name: 'Workspaces' }).getByRole('button', { name }).click();
const escape = async (page: Page): Promise<void> => {
  await page.keyboard.press('Escape');
  await page.locator('dialog[open]').waitFor({ state: 'detached' });
};
const dialog = (page: Page): Promise<void> => page.locator('dialog[open]').first().waitFor();
const toStep = (page: Page, name: string): Promise<void> => page.locator('.thread-step', { hasText: name }).click();
/** cautions of a step that were not read yet */
const readAny = async (page: Page): Promise<void> => {
  const read = page.getByRole('button', { name: /^(Read and understood|I have read)/ });
  if (await read.first().isVisible()) await read.first().click();
};

const readCautions = { cautionsReadWallMs: START_WALL_MS };
const settled = { ...readCautions, tourSeenWallMs: START_WALL_MS, technician: { name: 'A. Sample', licence: 'T-100' } };
const settings = (folder: string, more: object = settled): void => writeFileSync(join(folder, SETTINGS_FILE), JSON.stringify(more));
const withSettings = (folder: string): Promise<void> => Promise.resolve(settings(folder));

/** The instrument at the port, understood and compared with its display. */
async function connect(host: PictureHost, visitId?: string): Promise<string> {
  plugIn(host);
  const { runId } = await host.ask('run.start', {
    source: { kind: 'serial', path: PORT },
    recipe: columnsRecipe,
    fuelId: 'no2',
    setting: {
      stage: '1',
      positions: [
        { name: 'Shutter', value: 7 },
        { name: 'Band', value: 3 },
      ],
    },
    ...(visitId !== undefined && { visitId }),
  });
  await host.pass(10);
  await host.ask('run.compareDisplay', { runId, agrees: true }).catch(() => undefined);
  return runId;
}

/** Turns the shutter at the burner and marks it, as a technician does. */
async function turn(host: PictureHost, runId: string, value: number, seconds: number): Promise<void> {
  host.instrument.burner.setAdjuster('shutter', value, host.clock.nowMs());
  await host.ask('run.mark', {
    runId,
    body: {
      kind: 'adjustment',
      setting: {
        stage: '1',
        positions: [
          { name: 'Shutter', value },
          { name: 'Band', value: 3 },
        ],
      },
    },
  });
  await host.pass(seconds);
  await host.ask('run.mark', { runId, body: { kind: 'smoke', spots: [host.instrument.burner.smokeSpot(host.clock.nowMs())] } });
}

async function tuned(host: PictureHost): Promise<void> {
  host.instrument.burner.setAdjuster('shutter', 7, 0);
  const runId = await connect(host);
  await host.pass(1260);
  await host.ask('run.takeReading', { runId });
  await host.ask('run.mark', { runId, body: { kind: 'smoke', spots: [{ number: 0 }] } });
  await turn(host, runId, 5.5, 300);
  await turn(host, runId, 4.5, 300);
  host.instrument.burner.setAdjuster('shutter', 4.75, host.clock.nowMs());
  await host.ask('run.mark', {
    runId,
    body: {
      kind: 'adjustment',
      setting: {
        stage: '1',
        positions: [
          { name: 'Shutter', value: 4.75 },
          { name: 'Band', value: 3 },
        ],
      },
    },
  });
  await host.pass(45);
}

const openVisit = (): { full: ReturnType<typeof fullVisit>; visit: Visit } => {
  const full = fullVisit({ source: 'port' });
  const { endedWallMs: _ended, ...visit } = full.visit;
  return { full, visit: { ...visit, cautions: cautionKeys.map((name) => ({ key: name, wallMs: START_WALL_MS })) } };
};

/** Half done: the last tests of the run-through are open. */
const underWay = (visit: Visit): Visit => ({
  ...visit,
  unitPreset: 'us',
  job: 'service',
  safety: visit.safety.slice(0, 4),
});

async function visitFolder(folder: string, change: (visit: Visit) => Visit = underWay): Promise<void> {
  settings(folder);
  const { full, visit } = openVisit();
  const more = [1, 2].map((years) => yearsBefore(full.visit, years, { stackK: -6 * years, o2: 0.3 * years }));
  await keepVisit(folder, { ...full, visit: change(visit) }, { more });
}

/** Bench tests of one instrument over two years: a cell that loses its span. */
function testsOfInstrument(db: Parameters<typeof createAppliances>[0]): void {
  ['bench-healthy', 'bench-healthy', 'low-span'].forEach((scenario, index) => {
    const startedWallMs = START_WALL_MS - (3 - index) * 300 * 86_400_000;
    const { watermark: _, ...test } = runPlan(scenario, 7510 + index);
    const body = { ...test, instrumentId: 'instrument-1', session: `s${index}`, startedWallMs };
    db.run(
      'INSERT INTO document (kind, id, parent_id, changed_ms, revision, search, body) VALUES (?, ?, ?, ?, ?, ?, ?)',
      ...['bench-test', `test-${index}`, 'instrument-1', startedWallMs, 1, '', JSON.stringify(body)],
    );
  });
}

async function recordsFolder(folder: string): Promise<void> {
  const office = join(folder, 'office');
  settings(folder, { ...settled, office: { kind: 'folder', folder: office } });
  const { full, visit } = openVisit();
  const more = [1, 2, 3].map((years) => yearsBefore(full.visit, years, { stackK: -6 * years, o2: 0.3 * years }));
  const { signature: _signature, ...unsigned } = full.visit;
  const later: Visit = {
    ...unsigned,
    id: 'visit-later',
    number: 50,
    startedWallMs: START_WALL_MS + 80 * 60_000,
    endedWallMs: undefined,
    runs: [],
  };
  await keepVisit(folder, { ...full, visit: { ...visit, endedWallMs: full.visit.endedWallMs } }, { sign: true, more: [...more, later] });
  const opened = await openRecords({ folder, wallMs: START_WALL_MS });
  if (!opened.ok) throw new Error(opened.error.code);
  const appliances = createAppliances(opened.value.db);
  appliances.save('appliance-2', { format: 1, name: 'Furnace of the workshop', kind: 'furnace', nextDue: '2020-01-31' }, START_WALL_MS);
  appliances.save('appliance-3', { format: 1, name: 'Heater of the annexe', kind: 'water-heater' }, START_WALL_MS + 1);
  testsOfInstrument(opened.value.db);
  opened.value.close();
}

const measuring: readonly Screen[] = [
  { name: 'settling', open: (page) => page.getByRole('group', { name: /^O2 / }).waitFor() },
  { name: 'gas-ready', open: (_, host) => host.pass(150) },
  { name: 'computed', open: (page) => page.locator('.derived button, .derived-row button').first().click() },
  { name: 'smoke', open: async (page) => [await escape(page), await key(page, 's'), await dialog(page)] },
  { name: 'draft', open: async (page) => [await escape(page), await key(page, 'd'), await dialog(page)] },
  { name: 'pressure', open: async (page) => [await escape(page), await key(page, 'p'), await dialog(page)] },
  { name: 'note', open: async (page) => [await escape(page), await key(page, 'n'), await dialog(page)] },
  { name: 'table', open: async (page) => [await escape(page), await key(page, 'b'), await dialog(page)] },
  { name: 'far', open: async (page) => [await escape(page), await key(page, 'v')] },
  {
    name: 'lines',
    open: async (page, host) => [await key(page, 'v'), await key(page, 'l'), await heading(page, 'Line view'), await host.pass(15)],
  },
  { name: 'source', open: async (page) => [await escape(page), await key(page, 'o')] },
  { name: 'full-ready', open: async (page, host) => [await escape(page), await host.pass(900)] },
  {
    name: 'fresh-air',
    open: async (_, host) => [(host.instrument.lineOf = (text) => text.replace(/^([^,]*),[^,]*,[^,]*/, '$1,20.9,0')), await host.pass(40)],
  },
  {
    name: 'silent',
    open: async (_, host) => [
      (host.instrument.lineOf = (text) => text),
      await host.pass(120),
      (host.instrument.isHeld = true),
      await host.pass(14),
    ],
  },
  { name: 'unplugged', open: async (_, host) => [host.ports.unplug(PORT), await host.pass(6)] },
];

/** O2 falls on a steady slope, CO goes to and fro: what the instrument sends from now on. */
function unrest(host: PictureHost): void {
  const fromMs = host.clock.nowMs();
  host.instrument.lineOf = (text) => {
    const seconds = (host.clock.nowMs() - fromMs) / 1000;
    const [time, o2, , ...others] = text.split(',');
    const co = 55 + 35 * Math.sin((2 * Math.PI * seconds) / 45);
    return [time, (Number(o2) - (0.5 * seconds) / 60).toFixed(1), co.toFixed(0), ...others].join(',');
  };
}

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

const reportShown = (page: Page): Promise<void> => page.frameLocator('iframe:not([aria-hidden])').getByText('Technical record').first().waitFor();

const visitScreens: readonly Screen[] = [
  { name: 'start', open: async (page) => [await page.locator('.thread-step').first().waitFor(), await toStep(page, 'Start')] },
  { name: 'as-found', open: async (page) => [await toStep(page, 'As-found'), await readAny(page)] },
  { name: 'as-found-chosen', open: (page) => key(page, 'c') },
  { name: 'set-up-geometry', open: async (page) => [await toStep(page, 'Set-up'), await readAny(page)] },
  { name: 'set-up-table', open: (page) => press(page, /^Table/) },
  { name: 'set-up-oil-line', open: (page) => page.getByRole('region', { name: 'Oil line' }).scrollIntoViewIfNeeded() },
  { name: 'warm-up', open: async (page) => [await toStep(page, 'Warm up'), await readAny(page)] },
  { name: 'air-curve-live', open: async (page) => [await toStep(page, 'Air curve'), await readAny(page)] },
  { name: 'air-curve', open: (page) => key(page, 'c') },
  {
    name: 'trial',
    open: async (page) => [await page.locator('table.trial-table tbody tr').first().focus(), await key(page, 'Enter'), await dialog(page)],
  },
  { name: 'as-left', open: async (page) => [await escape(page), await toStep(page, 'As-left'), await readAny(page)] },
  {
    name: 'card',
    open: async (page) => [await press(page, /^(Change card|Choose a card|Card|Edit card|Another card)/), await dialog(page)],
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

export const states: Readonly<Record<string, State>> = {
  first: {
    options: {},
    screens: [
      { name: 'cautions', open: (page) => page.getByRole('button', { name: /I have read this/ }).waitFor() },
      { name: 'start', open: (page) => press(page, /I have read this/) },
      { name: 'source-port-none', open: async (page) => [await key(page, 'o'), await heading(page, /Serial port/i)] },
      { name: 'source-simulated', open: (page) => pressLast(page, /^Simulated burner/) },
      { name: 'source-replay', open: (page) => pressLast(page, /^Replay a run/) },
      { name: 'source-typed', open: (page) => pressLast(page, /^(Type|Typed)/) },
      { name: 'settings', open: async (page) => [await key(page, 'Escape'), await key(page, 'g')] },
      { name: 'keys', open: async (page) => [await key(page, 'Escape'), await workspace(page, 'Records'), await key(page, '?')] },
      { name: 'port-help', open: async (page) => [await key(page, 'Escape'), await workspace(page, 'Tune'), await key(page, '?')] },
      { name: 'bench-empty', open: async (page) => [await key(page, 'Escape'), await workspace(page, 'Bench')] },
      { name: 'warm-up-empty', open: (page) => workspace(page, 'Warm-up') },
      { name: 'records-empty', open: (page) => workspace(page, 'Records') },
    ],
  },
  port: {
    options: { prepare: withSettings },
    begin: (host) => Promise.resolve(plugIn(host)),
    screens: [
      { name: 'start-with-port', open: (page) => heading(page, /Where do the lines/) },
      { name: 'source-port', open: async (page) => [await key(page, 'o'), await page.getByText(PORT).first().waitFor()] },
    ],
  },
  tour: {
    options: { firstRun: 'newcomer', prepare: (folder) => Promise.resolve(settings(folder, readCautions)) },
    screens: [1, 2, 3, 4, 5, 6, 7, 8, 9].map((step) => ({
      name: `${step}`,
      open: async (page, host) => {
        if (step === 1) await host.pass(200);
        else await press(page, /^Next/);
        await page.getByText(`${step} of`, { exact: false }).first().waitFor();
      },
    })),
  },
  learning: {
    options: { prepare: withSettings },
    begin: async (host) => {
      plugIn(host);
      host.instrument.lineOf = (text) => {
        const [, o2, co, stack, air] = text.trim().split(',');
        return `${Number(o2).toFixed(1)},${(40 + Number(co) / 10).toFixed(0)},${(42 + Number(co) / 8).toFixed(0)},${stack},${air}`;
      };
      await host.ask('run.start', { source: { kind: 'serial', path: PORT }, fuelId: 'no2' });
      await host.pass(4);
    },
    screens: [
      { name: 'learning', open: (page) => page.getByRole('navigation', { name: 'Workspaces' }).waitFor() },
      { name: 'question-live', open: (_, host) => host.pass(40) },
      { name: 'question', open: async (page, host) => [await key(page, 'l'), await host.pass(3)] },
      { name: 'display', open: async (page, host) => [await key(page, 'Enter'), await host.pass(5), await key(page, 'Escape')] },
      { name: 'recipe', open: (page) => key(page, 'l') },
    ],
  },
  live: { options: { prepare: withSettings }, begin: tuned, screens: measuring },
  unrest: {
    options: { prepare: withSettings },
    begin: async (host) => {
      host.instrument.burner.setAdjuster('shutter', 5.5, 0);
      await connect(host);
      await host.pass(1260);
      unrest(host);
      await host.pass(200);
    },
    screens: [
      { name: 'live', open: (page) => page.getByText('drifting').first().waitFor() },
      { name: 'far', open: (page) => key(page, 'v') },
    ],
  },
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
  records: {
    options: { prepare: recordsFolder },
    screens: [
      { name: 'visits', open: (page) => workspace(page, 'Records') },
      { name: 'visit', open: (page) => page.getByRole('navigation', { name: 'Visits' }).getByRole('button').nth(1).click() },
      {
        name: 'report',
        open: async (page) => [await press(page, /^Report/), await reportShown(page)],
      },
      { name: 'appliances', open: async (page) => [await press(page, /^Back/), await press(page, 'Appliances')] },
      {
        name: 'appliance',
        open: (page) =>
          page
            .getByRole('navigation', { name: 'Appliances' })
            .getByRole('button', { name: /Boiler/ })
            .click(),
      },
      { name: 'appliance-edit', open: async (page) => [await press(page, /^(Edit|Change|Particulars|Details)/), await dialog(page)] },
      { name: 'runs', open: async (page) => [await escape(page), await press(page, 'Runs')] },
      { name: 'run', open: (page) => press(page, /^(Look|Open|Show)/) },
      { name: 'instruments', open: async (page) => [await press(page, /^Back/).catch(() => undefined), await press(page, 'Instruments')] },
      { name: 'figures', open: (page) => press(page, /^Figures/) },
      { name: 'keeping', open: async (page) => [await press(page, /^Storage/), await heading(page, /^Backup/)] },
      { name: 'office', open: async (page) => [await press(page, /^Office/), await heading(page, 'In the office')] },
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
      { name: 'difference', open: async (page) => [await press(page, 'Difference to the first'), await press(page, 'Usual band')] },
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
