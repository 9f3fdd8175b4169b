import { join } from 'node:path';
import { createAppliances } from '../../../main/store/appliances.ts';
import { createOfficeTable } from '../../../main/store/office-table.ts';
import { openRecords } from '../../../main/store/open.ts';
import type { Visit } from '../../../shared/tuning/visit/visit.ts';
import { keepVisit } from '../../helpers/visits/kept-visit.ts';
import { yearsBefore } from '../../helpers/visits/years.ts';
import { runPlan } from '../../shared/bench/run-plan.ts';
import { START_WALL_MS } from '../../helpers/visits/full-visit.ts';
import { press, heading, workspace, escape, dialog, settled, settings, openVisit, reportShown, type States } from './parts.ts';

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

/** What another laptop changed at the same time. */
function conflictsWithOffice(db: Parameters<typeof createAppliances>[0]): void {
  const office = createOfficeTable(db);
  const rows = [
    {
      kind: 'appliance',
      id: 'appliance-1',
      body: { field: 'Contact', here: 'caretaker, mornings', there: 'office, by phone', taken: 'there', values: {} },
    },
    {
      kind: 'instrument',
      id: 'instrument-1',
      body: { field: '', here: 'range 0 to 4000 ppm', there: 'range 0 to 8000 ppm', taken: 'none' },
    },
    { kind: 'visit', id: 'visit-full', body: { field: '', here: 'visit 42', there: 'visit 42', taken: 'none' } },
  ];
  for (const [at, { kind, id, body }] of rows.entries())
    office.addConflict({ key: `conflict-${at}`, kind, id, foundMs: START_WALL_MS, hash: undefined, body: JSON.stringify(body) });
}

/** Another fuel through another nozzle: compared only where that makes sense. */
const onOtherFuel = (visit: Visit): Visit => ({
  ...visit,
  fuelId: 'b20',
  setUp: { ...visit.setUp, rows: { ...visit.setUp.rows, nozzleFlowLh: { asFound: 3.2 }, nozzleAngleDeg: { asFound: 80 } } },
});

async function recordsFolder(folder: string): Promise<void> {
  const office = join(folder, 'office');
  settings(folder, { ...settled, office: { kind: 'folder', folder: office } });
  const { full, visit } = openVisit();
  const more = [1, 2, 3].map((years) =>
    yearsBefore(years === 3 ? onOtherFuel(full.visit) : full.visit, years, { stackK: -6 * years, o2: 0.3 * years }),
  );
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
  conflictsWithOffice(opened.value.db);
  opened.value.close();
}

export const recordsStates: States = {
  records: {
    options: { prepare: recordsFolder },
    screens: [
      { name: 'visits', open: (page) => workspace(page, 'Records') },
      { name: 'visit', open: (page) => page.getByRole('navigation', { name: 'Visits' }).getByRole('button').nth(1).click() },
      {
        name: 'visit-other-fuel',
        open: async (page) => [
          await page.getByRole('combobox', { name: 'A, as-left' }).selectOption({ label: 'visit 21, 25 Nov 2023' }),
          await page.locator('.since-notes').scrollIntoViewIfNeeded(),
        ],
      },
      {
        name: 'visit-edits',
        open: (page) =>
          page.locator('main').evaluate((main) => main.querySelector('.records-visit, .records-page, article')?.scrollTo(0, 1e6)),
      },
      { name: 'correction', open: async (page) => [await press(page, /^Add a correction/), await dialog(page)] },
      {
        name: 'report',
        open: async (page) => [await escape(page), await press(page, /^Report/), await reportShown(page)],
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
      { name: 'owner-details', open: async (page) => [await escape(page), await press(page, /^Remove owner details/), await dialog(page)] },
      { name: 'runs', open: async (page) => [await escape(page), await press(page, 'Runs')] },
      { name: 'run', open: (page) => press(page, /^(Look|Open|Show)/) },
      { name: 'instruments', open: async (page) => [await press(page, /^Back/).catch(() => undefined), await press(page, 'Instruments')] },
      { name: 'figures', open: (page) => press(page, /^Figures/) },
      { name: 'keeping', open: async (page) => [await press(page, /^Storage/), await heading(page, /^Backup/)] },
      { name: 'office', open: async (page) => [await press(page, /^Office/), await heading(page, 'In the office')] },
    ],
  },
};
