/** A visit names its instrument by id, with the typed name beside it; visits from before are read, and what was signed stays as it was signed. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { gatherRecords } from '../../../main/report/gather-report.ts';
import { linksOf } from '../../../main/report/moving-visits.ts';
import { takeItem } from '../../../main/office/take-item.ts';
import { readStored, hashOf } from '../../../main/office/office.ts';
import { packVisits, PACKAGE_VERSION, unpackVisits } from '../../../main/report/visit-package.ts';
import { openDatabase } from '../../../main/store/database.ts';
import { migrations } from '../../../main/store/migrations/index.ts';
import { APPLICATION_ID, openRecords, RECORDS_FILE, type OpenRecords } from '../../../main/store/open.ts';
import { storeTables, type StoreTables } from '../../../main/store/tables.ts';
import { visitHash } from '../../../main/store/visits.ts';
import { findInstrument } from '../../../shared/bench/find-instrument.ts';
import { ok } from '../../../shared/result.ts';
import { editVisit, withCorrections, type Visit } from '../../../shared/tuning/visit/visit.ts';
import { oldVisit } from '../../helpers/visits/old-visit.ts';
import { value } from '../../helpers/ports/run-service.ts';
import { strFromU8, strToU8, unzipSync, zipSync } from 'fflate';
import { readFileSync, writeFileSync } from 'node:fs';

const AT = Date.UTC(2026, 10, 25, 9);
const instrument = (name: string, serial = `serial of ${name}`) => ({ format: 1 as const, name, serial, cells: [] });
let folder: string;
let opened: OpenRecords | undefined;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'flueside-instrument-'));
});
afterEach(() => {
  opened?.close();
  opened = undefined;
  rmSync(folder, { recursive: true, force: true });
});

const open = async (): Promise<StoreTables> => {
  opened = value(await openRecords({ folder, wallMs: AT }));
  return storeTables(opened);
};
const withInstruments = async (named: Readonly<Record<string, string>>): Promise<StoreTables> => {
  const tables = await open();
  for (const [id, name] of Object.entries(named)) value(tables.documents.instrument.save(id, instrument(name), { wallMs: AT }));
  return tables;
};
/** Records of the version before. */
function oldRecords(visits: readonly { id: string; body: string; status?: string }[], named: Readonly<Record<string, string>>): void {
  const old = openDatabase(join(folder, RECORDS_FILE));
  for (const step of migrations.slice(0, 3)) old.exec(step.sql);
  old.exec(`PRAGMA application_id = ${APPLICATION_ID}; PRAGMA user_version = 3`);
  for (const [n, { id, body, status = 'open' }] of visits.entries())
    old.run('INSERT INTO visit VALUES (?, ?, NULL, ?, 0, 0, 5, ?, ?, ?)', id, n + 1, status, '', '{}', body);
  for (const [id, name] of Object.entries(named))
    old.run("INSERT INTO document VALUES ('instrument', ?, NULL, 0, 1, '', ?)", id, JSON.stringify(instrument(name)));
  old.close();
}
const visitOf = (tables: StoreTables, id = 'v-old'): Visit => value(tables.visits.get(id)).visit;
const sources = (tables: StoreTables) => ({
  appliance: () => Promise.resolve(undefined),
  document: () => Promise.resolve(undefined),
  documentsOf: () => Promise.resolve([]),
  documents: () => Promise.resolve(value(tables.documents.instrument.list()).rows),
});
/** What the paper says, and what goes with an export: the name of the instrument. */
async function foundBy(tables: StoreTables, visit: Visit): Promise<[report: string | undefined, exported: string | undefined]> {
  const report = (await gatherRecords(withCorrections(visit), sources(tables), '0')).instrument?.instrument.name;
  const { instruments } = value(await linksOf([ok(JSON.stringify(visit))]));
  const { rows } = value(tables.documents.instrument.list());
  return [report, instruments.flatMap((named) => findInstrument(named, rows)?.instrument.name ?? [])[0]];
}
const renamed = (tables: StoreTables, id: string, name: string) =>
  value(tables.documents.instrument.save(id, instrument(name, 'another'), { wallMs: AT }));

describe('records of the version before', () => {
  it('give a typed name that one instrument has its id, and leave every other name alone', async () => {
    const named = (id: string, name: string) => ({ id, body: oldVisit.open.replaceAll('Van 1', name).replace('v-old', id) });
    const unreadable = { id: 'v-bad', body: '{"format":1}' };
    oldRecords([named('v-1', 'van 1 '), named('v-2', 'Spare'), named('v-3', 'Nobody'), unreadable], { a: 'Van 1', b: 'Spare', c: 'Spare' });
    const tables = await open();
    const says = (id: string) => {
      const { instrumentId, instrumentName, format } = visitOf(tables, id);
      return { instrumentId, instrumentName, format };
    };
    expect(says('v-1')).toEqual({ instrumentId: 'a', instrumentName: 'van 1 ', format: 2 });
    expect(says('v-2')).toEqual({ instrumentId: undefined, instrumentName: 'Spare', format: 2 });
    expect(says('v-3')).toEqual({ instrumentId: undefined, instrumentName: 'Nobody', format: 2 });
    expect(visitOf(tables, 'v-1').edits[0]).toMatchObject({ path: ['instrumentName'], after: 'van 1 ' });
    expect(tables.visits.bodyOf('v-bad')).toEqual(ok(unreadable.body));
  });

  it('keep what was signed to the last letter, and its hash holds', async () => {
    oldRecords([{ id: 'v-old', body: oldVisit.corrected, status: 'signed' }], { a: 'Van 1', b: 'Van 2' });
    const tables = await open();
    expect(tables.visits.bodyOf('v-old')).toEqual(ok(oldVisit.corrected));
    const stored = value(tables.visits.get('v-old'));
    expect(stored.altered).toBeUndefined();
    expect(visitHash(stored.visit)).toBe(oldVisit.hash);
    expect(stored.visit).toMatchObject({ instrumentName: 'Van 1' });
    expect(stored.visit.instrumentId).toBeUndefined();
    // the correction of that time names the other one
    expect(await foundBy(tables, stored.visit)).toEqual(['Van 2', 'Van 2']);
    // and it takes a further correction, with its hash as it was
    const again = value(
      tables.visits.change('v-old', AT, (visit) =>
        editVisit(visit, { wallMs: AT, by: 'A', path: ['instrumentName'], after: 'Van 1', reason: 'the first one after all' }),
      ),
    );
    expect(value(tables.visits.get('v-old')).altered).toBeUndefined();
    expect(await foundBy(tables, again.visit)).toEqual(['Van 1', 'Van 1']);
  });

  it('tell an altered name from the signed one', async () => {
    oldRecords([{ id: 'v-old', body: oldVisit.signed.replaceAll('Van 1', 'Van 9'), status: 'signed' }], {});
    expect(value((await open()).visits.get('v-old')).altered).toBe(true);
  });
});

describe('a visit of the version before that comes from elsewhere', () => {
  const packed = async (body: string): Promise<string> => {
    const path = join(folder, 'old.zip');
    value(await packVisits(path, { visits: [], appliances: [], instruments: [], knowledge: [] }, new Map(), 'test'));
    const files = unzipSync(readFileSync(path));
    const list = JSON.parse(strFromU8(files['visits.json'] ?? new Uint8Array())) as object;
    expect(list).toMatchObject({ version: PACKAGE_VERSION });
    const old = { ...files, 'visits.json': strToU8(JSON.stringify({ ...list, version: 1 })), 'visits/0.json': strToU8(body) };
    writeFileSync(path, zipSync(old));
    return path;
  };
  it('is read from a package, and finds the instrument that is here by its name', async () => {
    const tables = await withInstruments({ a: 'Van 1' });
    const { visits, unreadable } = value(await unpackVisits(await packed(oldVisit.open), join(folder, 'into')));
    expect(unreadable).toBe(0);
    for (const visit of visits) value(tables.visits.adopt(visit, AT));
    expect(visitOf(tables)).toMatchObject({ instrumentId: 'a', instrumentName: 'Van 1' });
    expect(await foundBy(tables, visitOf(tables))).toEqual(['Van 1', 'Van 1']);
  });
  it('is taken from an office, signed, and its hash holds', async () => {
    const tables = await withInstruments({ a: 'Van 1' });
    const text = `{"format":"flueside-item","version":1,"id":"v-old","kind":"visit","visit":${oldVisit.signed}}`;
    const item = readStored({ kind: 'visit', id: 'v-old', hash: hashOf(text) }, text);
    if (!item.ok) throw new Error(item.error);
    expect(value(takeItem(tables, item.value, AT))).toMatchObject({ taken: 'added' });
    expect(value(tables.visits.get('v-old')).altered).toBeUndefined();
    expect(await foundBy(tables, visitOf(tables))).toEqual(['Van 1', 'Van 1']);
  });
});

describe('the instrument of a visit', () => {
  const parts = { id: 'v', kind: 'service', startedWallMs: AT, zoneMinutes: 0, unitPreset: 'metric', adjusters: [] } as const;
  const typed = (tables: StoreTables, name: string | undefined): Visit =>
    value(
      tables.visits.change('v', AT, (visit) =>
        editVisit(visit, { wallMs: AT, by: 'A', path: ['instrumentName'], ...(name !== undefined && { after: name }) }),
      ),
    ).visit;
  it('is the one that was typed, by its id, and another when another is typed', async () => {
    const tables = await withInstruments({ a: 'Van 1', b: 'Van 2' });
    value(tables.visits.create({ ...parts, adjusters: [] }));
    expect(typed(tables, 'van 1')).toMatchObject({ instrumentId: 'a', instrumentName: 'van 1' });
    expect(typed(tables, 'serial of van 2')).toMatchObject({ instrumentId: 'b' });
    expect(typed(tables, 'Van 3').instrumentId).toBeUndefined();
    expect(typed(tables, 'Van 1').instrumentId).toBe('a');
    expect(typed(tables, undefined)).not.toHaveProperty('instrumentId');
  });
  it('stays that one when it is renamed, and when another gets its name', async () => {
    const tables = await withInstruments({ a: 'Van 1' });
    value(tables.visits.create({ ...parts, adjusters: [] }));
    typed(tables, 'Van 1');
    renamed(tables, 'a', 'Old van');
    renamed(tables, 'b', 'Van 1');
    expect(await foundBy(tables, visitOf(tables, 'v'))).toEqual(['Old van', 'Old van']);
  });
  it('is none once it is deleted, even where another has its name; what was typed stays', async () => {
    const tables = await withInstruments({ a: 'Van 1' });
    value(tables.visits.create({ ...parts, adjusters: [] }));
    typed(tables, 'Van 1');
    value(tables.documents.instrument.remove('a'));
    renamed(tables, 'b', 'Van 1');
    expect(await foundBy(tables, visitOf(tables, 'v'))).toEqual([undefined, undefined]);
    expect(visitOf(tables, 'v').instrumentName).toBe('Van 1');
  });
});
