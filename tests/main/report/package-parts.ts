/** Records that take in visits of another computer, through the real zip. */
import { documents } from '../../../main/store/documents.ts';
import { documentKinds } from '../../../shared/ipc/store-commands.ts';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach } from 'vitest';
import { mergeVisits } from '../../../main/report/merge-visits.ts';
import { packVisits, unpackVisits } from '../../../main/report/visit-package.ts';
import { createAppliances } from '../../../main/store/appliances.ts';
import { createOfficeTable } from '../../../main/store/office-table.ts';
import { openRecords, type OpenRecords } from '../../../main/store/open.ts';
import { inSlices } from '../../../main/store/one-step.ts';
import type { StoreTables } from '../../../main/store/tables.ts';
import { createVisits } from '../../../main/store/visits.ts';
import type { Problem } from '../../../shared/problem.ts';
import type { Result } from '../../../shared/result.ts';
import type { Visit } from '../../../shared/tuning/visit/visit.ts';
import { START } from '../../shared/report/small-visit.ts';

export let folder: string;
export let opened: OpenRecords;
export let tables: StoreTables;
let ids = 0;
export const nextNumber = (): number => (ids += 1);
export const place = () => ({
  dataFolder: folder,
  wallMs: START,
  newId: () => `new-${nextNumber()}`,
  by: 'B. Sample',
  inSlices: <T>(work: (open: StoreTables) => Promise<Result<T, Problem>>) => inSlices(opened.db, () => work(tables)),
});
export const applianceOf = (name: string) => ({ id: 'unit-1', appliance: { format: 1 as const, name, kind: 'furnace' as const } });
/** Through the real zip, as it travels. */
export async function arrive(visits: readonly Visit[], { name = 'Furnace', runs = new Map<string, string>() } = {}) {
  const target = join(folder, `package-${nextNumber()}.zip`);
  const packed = await packVisits(target, { visits, appliances: [applianceOf(name)], instruments: [], knowledge: [] }, runs, 'test');
  if (!packed.ok) throw new Error(packed.error.code);
  const unpacked = join(folder, `unpacked-${ids}`);
  const content = await unpackVisits(target, unpacked);
  if (!content.ok) throw new Error(content.error.code);
  const merged = await mergeVisits(content.value, { ...place(), unpacked });
  if (!merged.ok) throw new Error(merged.error.code);
  return merged.value;
}
export const all = () => {
  const list = tables.visits.list();
  return list.ok ? list.value.visits : [];
};

/** A folder with records for each test. */
export function openForEachTest(): void {
  beforeEach(async () => {
    folder = mkdtempSync(join(tmpdir(), 'flueside-package-'));
    const records = await openRecords({ folder, wallMs: START });
    if (!records.ok) throw new Error(records.error.code);
    opened = records.value;
    const appliances = createAppliances(opened.db);
    const visits = createVisits(opened.db, (id) => appliances.nameOf(id));
    const knowledge = documents<unknown>(opened.db, 'knowledge', documentKinds.knowledge, () => '');
    const instrument = documents<unknown>(opened.db, 'instrument', documentKinds.instrument, () => '');
    tables = { appliances, visits, documents: { knowledge, instrument } as StoreTables['documents'], office: createOfficeTable(opened.db) };
  });
  afterEach(() => {
    opened.close();
    rmSync(folder, { recursive: true, force: true });
  });
}
