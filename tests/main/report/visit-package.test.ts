import { documents } from '../../../main/store/documents.ts';
import type { ApplianceKnowledge } from '../../../shared/measurement/knowledge.ts';
import { documentKinds } from '../../../shared/ipc/store-commands.ts';
import { leftOff } from '../../helpers/left-off.ts';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { strFromU8, strToU8, unzipSync, zipSync } from 'fflate';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { mergeVisits } from '../../../main/report/merge-visits.ts';
import { createReportService } from '../../../main/report/report-service.ts';
import { inThisThread, type Background } from '../../../main/background/background.ts';
import { packVisits, PACKAGE_VERSION, unpackVisits } from '../../../main/report/visit-package.ts';
import type { Download } from '../../../main/runs/stored/downloads.ts';
import { createAppliances } from '../../../main/store/appliances.ts';
import { createOfficeTable } from '../../../main/store/office-table.ts';
import { openRecords, type OpenRecords } from '../../../main/store/open.ts';
import { inSlices } from '../../../main/store/one-step.ts';
import type { StoreTables } from '../../../main/store/tables.ts';
import { createVisits, visitHash } from '../../../main/store/visits.ts';
import { Settings } from '../../../shared/ipc/settings.ts';
import type { Problem } from '../../../shared/problem.ts';
import type { Result } from '../../../shared/result.ts';
import { editVisit, type Visit } from '../../../shared/tuning/visit/visit.ts';
import { createFakeClock } from '../../helpers/fake-clock.ts';
import { smallVisit, START } from '../../shared/report/small-visit.ts';
import type { Instrument } from '../../../shared/bench/instrument.ts';
import { keepingWords } from '../../../shared/words/records/copies.ts';
import { practiceTest } from '../../shared/bench/run-plan.ts';
import { signVisit } from '../../../shared/tuning/visit/sign-visit.ts';

let folder: string;
let opened: OpenRecords;
let tables: StoreTables;
let ids = 0;
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

const place = () => ({
  dataFolder: folder,
  wallMs: START,
  newId: () => `new-${(ids += 1)}`,
  by: 'B. Sample',
  inSlices: <T>(work: (open: StoreTables) => Promise<Result<T, Problem>>) => inSlices(opened.db, () => work(tables)),
});
const applianceOf = (name: string) => ({ id: 'unit-1', appliance: { format: 1 as const, name, kind: 'furnace' as const } });

/** Through the real zip, as it travels. */
async function arrive(visits: readonly Visit[], { name = 'Furnace', runs = new Map<string, string>() } = {}) {
  const target = join(folder, `package-${(ids += 1)}.zip`);
  const packed = await packVisits(target, { visits, appliances: [applianceOf(name)], instruments: [], knowledge: [] }, runs, 'test');
  if (!packed.ok) throw new Error(packed.error.code);
  const unpacked = join(folder, `unpacked-${ids}`);
  const content = await unpackVisits(target, unpacked);
  if (!content.ok) throw new Error(content.error.code);
  const merged = await mergeVisits(content.value, { ...place(), unpacked });
  if (!merged.ok) throw new Error(merged.error.code);
  return merged.value;
}
const signed = (visit: Visit): Visit => {
  const ended = { ...visit, endedWallMs: START + 1, notLeftRunning: leftOff };
  const done = signVisit(ended, { name: 'A. Sample', wallMs: START + 1, hash: visitHash(ended) });
  if (!done.ok) throw new Error('not signed');
  return done.value;
};
const corrected = (visit: Visit, gallons: number): Visit => {
  const done = editVisit(visit, { wallMs: START + 2, by: 'B. Sample', path: ['annualFuelGal'], after: gallons, reason: 'told wrongly' });
  if (!done.ok) throw new Error('not corrected');
  return done.value;
};
const stored = (id: string): Visit => {
  const found = tables.visits.get(id);
  if (!found.ok) throw new Error(found.error.code);
  return found.value.visit;
};
const all = () => {
  const list = tables.visits.list();
  return list.ok ? list.value.visits : [];
};

describe('visits of another computer', () => {
  it('are added with their appliance and run, under a free number', async () => {
    tables.visits.adopt(smallVisit({ id: 'mine' }), START);
    const run = join(folder, 'theirs.run');
    writeFileSync(run, 'lines\n');
    const merged = await arrive([smallVisit()], { runs: new Map([['run-1', run]]) });
    expect(merged).toMatchObject({ added: 1, same: 0, copies: 0, appliances: 1, runs: 1 });
    expect(stored('visit-1').number).toBe(43);
    expect(readFileSync(join(folder, 'runs', 'run-1.run'), 'utf8')).toBe('lines\n');
  });

  it('are left out when they are here already, also the second time and under another number', async () => {
    tables.visits.adopt(smallVisit({ id: 'mine' }), START);
    await arrive([smallVisit()]);
    expect(await arrive([smallVisit()])).toMatchObject({ added: 0, same: 1, copies: 0, appliances: 0 });
    expect(all()).toHaveLength(2);
  });

  it('are kept as one copy when they differ, and nothing here is changed', async () => {
    await arrive([smallVisit()]);
    const before = JSON.stringify(stored('visit-1'));
    const theirs = smallVisit({ annualFuelGal: 900 });
    expect(await arrive([theirs], { name: 'Another name' })).toMatchObject({ added: 0, copies: 1, appliances: 0 });
    expect(await arrive([theirs])).toMatchObject({ copies: 0, same: 1 });
    expect(JSON.stringify(stored('visit-1'))).toBe(before);
    expect(tables.appliances.nameOf('unit-1')).toBe('Furnace');
    const copy = all().find(({ id }) => id !== 'visit-1');
    expect(stored(copy?.id ?? '')).toMatchObject({
      annualFuelGal: 900,
      notes: [{ text: expect.stringContaining('Copy of visit 42') as string }],
    });
  });

  it('bring an appliance that says how it came, and change nothing of one that is here, nor of its edits', async () => {
    await arrive([smallVisit()]);
    const came = { wallMs: START, by: 'B. Sample', path: ['movedIn'], after: true };
    expect(tables.appliances.edits('unit-1')).toEqual({ ok: true, value: [came] });
    tables.appliances.save('unit-1', { ...applianceOf('Furnace').appliance, maker: 'Invented' }, START + 1, { by: 'C. Sample' });
    const here = [tables.appliances.get('unit-1'), tables.appliances.edits('unit-1')];
    expect(here[1]).toMatchObject({ value: [came, { by: 'C. Sample', path: ['maker'], after: 'Invented' }] });
    expect(await arrive([smallVisit({ annualFuelGal: 900 })], { name: 'Another name' })).toMatchObject({ appliances: 0 });
    expect([tables.appliances.get('unit-1'), tables.appliances.edits('unit-1')]).toEqual(here);
  });

  it('are not taken in where their appliance is here and cannot be read: nothing is written over it', async () => {
    opened.db.run("INSERT INTO appliance (id, changed_ms, search, body) VALUES ('unit-1', 0, '', '{\"appliance\":7}')");
    await expect(arrive([smallVisit()])).rejects.toThrow('store-damaged');
    expect(opened.db.one("SELECT body FROM appliance WHERE id = 'unit-1'")?.['body']).toBe('{"appliance":7}');
  });

  it('bring corrections of the same signed record, which only grow', async () => {
    const record = signed(smallVisit());
    await arrive([record]);
    expect(await arrive([corrected(record, 650)])).toMatchObject({ corrected: 1, copies: 0 });
    expect(stored('visit-1').edits).toHaveLength(1);
    // the older state does not take them away again
    expect(await arrive([record])).toMatchObject({ corrected: 0, same: 1 });
    expect(stored('visit-1').edits).toHaveLength(1);
    expect(visitHash(stored('visit-1'))).toBe(record.signature?.hash);
  });

  it('lose no signature in a copy: it says in words who signed', async () => {
    await arrive([smallVisit({ annualFuelGal: 1 })]);
    expect(await arrive([signed(smallVisit())])).toMatchObject({ copies: 1 });
    const copy = stored(all().find(({ id }) => id !== 'visit-1')?.id ?? '');
    expect(copy.signature).toBeUndefined();
    expect(copy.notes.at(-1)?.text).toContain('signed by A. Sample');
  });

  it('are refused when they are not what was signed', async () => {
    expect(await arrive([{ ...signed(smallVisit()), annualFuelGal: 1 }])).toMatchObject({ refused: 1, added: 0 });
    expect(all()).toHaveLength(0);
  });

  it('never replace a run file that is here', async () => {
    mkdirSync(join(folder, 'runs'));
    writeFileSync(join(folder, 'runs', 'run-1.run'), 'mine\n');
    const run = join(folder, 'theirs.run');
    writeFileSync(run, 'theirs\n');
    expect(await arrive([smallVisit()], { runs: new Map([['run-1', run]]) })).toMatchObject({ runs: 0 });
    expect(readFileSync(join(folder, 'runs', 'run-1.run'), 'utf8')).toBe('mine\n');
  });
});

describe('what visits have taught of an appliance', () => {
  const known = (visitIds: string[]): ApplianceKnowledge => ({
    visitIds,
    knowledge: {
      format: 'flueside-knowledge',
      version: 1,
      appliance: 'pressure-atomizing oil burner',
      visits: visitIds.length,
      channels: { o2: { sensor: { mean: 2.1, sd: 0.1 } } },
    },
  });
  it('travels with a package, and gives way only to more visits', async () => {
    const target = join(folder, 'known.zip');
    const knowledge = [{ applianceId: 'unit-1', known: known(['a', 'b']) }];
    const packed = await packVisits(
      target,
      { visits: [smallVisit()], appliances: [applianceOf('F')], instruments: [], knowledge },
      new Map(),
      't',
    );
    expect(packed.ok).toBe(true);
    const content = await unpackVisits(target, join(folder, 'known'));
    if (!content.ok) throw new Error(content.error.code);
    const stored = (): unknown => {
      const found = tables.documents.knowledge.get('unit-1');
      return found.ok ? found.value.body : undefined;
    };
    const merge = () => mergeVisits(content.value, { ...place(), unpacked: join(folder, 'known') });
    expect((await merge()).ok).toBe(true);
    expect(stored()).toEqual(known(['a', 'b']));
    tables.documents.knowledge.save('unit-1', known(['a', 'b', 'c']), { wallMs: START });
    expect((await merge()).ok).toBe(true);
    expect(stored()).toEqual(known(['a', 'b', 'c']));
  });
});

describe('instruments of a package', () => {
  const { instrument } = practiceTest();
  const merge = async (instruments: readonly { id: string; instrument: Instrument }[]) => {
    const target = join(folder, `instruments-${(ids += 1)}.zip`);
    const packed = await packVisits(target, { visits: [], appliances: [], instruments, knowledge: [] }, new Map(), 't');
    expect(packed.ok).toBe(true);
    const unpacked = join(folder, `instruments-${ids}`);
    const content = await unpackVisits(target, unpacked);
    if (!content.ok) throw new Error(content.error.code);
    const merged = await mergeVisits(content.value, { ...place(), unpacked });
    if (!merged.ok) throw new Error(merged.error.code);
    return merged.value.instruments;
  };
  const stored = (id: string): unknown => {
    const found = tables.documents.instrument.get(id);
    return found.ok ? found.value.body : undefined;
  };
  it('are saved at the other computer, and counted; what is here stays as it is', async () => {
    const other = { ...instrument, name: 'Instrument 4', serial: '0148' };
    expect(
      await merge([
        { id: 'i1', instrument },
        { id: 'i2', instrument: other },
      ]),
    ).toBe(2);
    expect([stored('i1'), stored('i2')]).toEqual([instrument, other]);
    // the same again, and one that reads otherwise there: nothing is overwritten, nothing is counted
    expect(await merge([{ id: 'i1', instrument: { ...instrument, name: 'Renamed there' } }])).toBe(0);
    expect(stored('i1')).toEqual(instrument);
  });
  it('are told', () => {
    const count = { added: 1, same: 0, corrected: 0, copies: 0, refused: 0, appliances: 1, instruments: 2, runs: 0 };
    expect(keepingWords.movedIn(count)).toBe('One visit was added; 2 instruments came with them.');
    expect(keepingWords.movedIn({ ...count, instruments: 0 })).toBe('One visit was added.');
  });
});

describe('an export of visits', () => {
  it('is read, written and packed away from the loop that stamps lines, one visit at a time', async () => {
    const ids = Array.from({ length: 30 }, (_, n) => `visit-${n}`);
    for (const [n, id] of ids.entries()) tables.visits.adopt(smallVisit({ id, number: n + 1, runs: [] }), START);
    const asked: string[] = [];
    let reads = 0;
    const held: number[] = [];
    const background: Background = {
      run(name, ask, watch = {}) {
        asked.push(name);
        const { feed = [] } = watch;
        const told = async function* () {
          let taken = 0;
          const before = reads;
          for await (const one of feed) {
            taken += 1;
            // nothing is read ahead of what was asked for
            held.push(reads - before - taken);
            yield one;
          }
        };
        return inThisThread.run(name, ask, { ...watch, feed: told() });
      },
      close: () => Promise.resolve(),
    };
    const reportService = createReportService({
      clock: createFakeClock(),
      dataFolder: folder,
      appVersion: '1',
      settings: () => Settings.parse({}),
      newId: () => 'new-export',
      records: {
        visit: (id) => Promise.resolve(tables.visits.get(id)),
        use: (work) => ((reads += 1), Promise.resolve(work(tables))),
        changeInSlices: place().inSlices,
      },
      offerDownload: () => 'token',
      takeUpload: () => undefined,
      recordsChanged: () => undefined,
      background,
    });
    const made = await reportService.handlers['visit.export']({ ids }, { clientId: 'window', role: 'operator' });
    expect(made.ok).toBe(true);
    expect(asked).toEqual(['visitLinks', 'packVisits']);
    expect(held).toEqual(Array.from({ length: 2 * ids.length }, () => 0));
  });

  it('takes the appliance along as it is now, not what was changed of it: that names earlier owners', async () => {
    tables.visits.adopt(smallVisit({ applianceId: 'unit-1' }), START);
    tables.appliances.save('unit-1', { ...applianceOf('Furnace').appliance, owner: 'Zebedee' }, START);
    tables.appliances.save('unit-1', { ...applianceOf('Furnace').appliance, owner: 'Ottoline' }, START + 1);
    const offered: Download[] = [];
    const reportService = createReportService({
      clock: createFakeClock(),
      dataFolder: folder,
      appVersion: '1',
      settings: () => Settings.parse({}),
      newId: () => 'new-export',
      records: {
        visit: () => Promise.resolve(tables.visits.get('visit-1')),
        use: (work) => Promise.resolve(work(tables)),
        changeInSlices: place().inSlices,
      },
      offerDownload: (download) => (offered.push(download), 'token'),
      takeUpload: () => undefined,
      recordsChanged: () => undefined,
    });
    const made = await reportService.handlers['visit.export']({ ids: ['visit-1'] }, { clientId: 'window', role: 'operator' });
    expect(made.ok).toBe(true);
    const text = strFromU8(unzipSync(readFileSync(offered[0]?.filePath ?? ''))['visits.json'] ?? new Uint8Array());
    expect(text).toContain('Ottoline');
    expect(text).not.toContain('Zebedee');
  });
});

describe('a file that is no package of visits', () => {
  const list = (more: object = {}): Uint8Array =>
    strToU8(JSON.stringify({ format: 'flueside-visits', version: 1, madeBy: 't', appliances: [], instruments: [], ...more }));
  const readBytes = async (bytes: Uint8Array) => {
    const path = join(folder, `arrives-${(ids += 1)}.zip`);
    writeFileSync(path, bytes);
    return unpackVisits(path, join(folder, `unpacked-${ids}`));
  };
  const code = async (bytes: Uint8Array): Promise<string> => {
    const read = await readBytes(bytes);
    return read.ok ? 'taken' : read.error.code;
  };

  it('is taken when it is one, so that the refusals below mean something', async () => {
    expect(await code(zipSync({ 'visits.json': list() }))).toBe('taken');
  });
  it.each(['../evil.run', '/etc/evil', 'runs/../../evil.run', 'runs\\evil.run', 'runs/a/b.run', 'C:evil', 'runs/.run'])(
    'is refused with the path %j in it',
    async (name) => {
      expect(await code(zipSync({ 'visits.json': list(), [name]: strToU8('x') }))).toBe('file-foreign');
      expect(existsSync(join(folder, '..', 'evil.run'))).toBe(false);
    },
  );
  it('is refused from a newer program, and nothing is taken of it', async () => {
    expect(await code(zipSync({ 'visits.json': list({ version: PACKAGE_VERSION + 1 }) }))).toBe('file-newer');
  });
  it('is refused when it is another zip, no zip, or cut short', async () => {
    expect(await code(zipSync({ 'readme.txt': strToU8('hello') }))).toBe('file-foreign');
    expect(await code(strToU8('hello'))).toBe('file-foreign');
    const whole = zipSync({ 'visits.json': list({ madeBy: 'x'.repeat(5000) }) });
    expect(await code(whole.subarray(0, whole.length - 40))).toBe('file-damaged');
  });
  it('counts visits that cannot be read, and takes the others', async () => {
    const visit = (value: unknown): Uint8Array => strToU8(JSON.stringify(value));
    const read = await readBytes(
      zipSync({ 'visits.json': list(), 'visits/0.json': visit(smallVisit()), 'visits/1.json': visit({ format: 9 }) }),
    );
    expect(read.ok && [read.value.visits.length, read.value.unreadable]).toEqual([1, 1]);
  });

  it('is refused before it is taken apart when half a megabyte of it would become gigabytes', async () => {
    const objects = strToU8(`[${'{},'.repeat(1_000_000)}{}]`);
    const grows = zipSync({ 'visits.json': strToU8(`[${'{},'.repeat(12_000_000)}{}]`) }, { level: 9 });
    expect(grows.length).toBeLessThan(600_000);
    expect(await code(grows)).toBe('file-too-big');
    expect(await code(zipSync({ 'visits.json': objects }))).toBe('file-damaged');
    expect(await code(zipSync({ 'visits.json': list(), 'visits/0.json': objects }))).toBe('taken');
    // nothing of it counts as a visit, and the depth ends no program
    const deep = await readBytes(zipSync({ 'visits.json': list(), 'visits/0.json': strToU8('['.repeat(100_000)) }));
    expect(deep.ok && [deep.value.visits.length, deep.value.unreadable]).toEqual([0, 1]);
  });
});

describe('a package that is cut off while it is taken in', () => {
  it('completes a run of which an earlier program left a half, and never touches one that is written to', async () => {
    mkdirSync(join(folder, 'runs'));
    const run = join(folder, 'theirs.run');
    writeFileSync(run, 'one\ntwo\nthree\n');
    for (const id of ['half', 'live']) writeFileSync(join(folder, 'runs', `${id}.run`), 'one\ntw');
    const target = join(folder, 'package.zip');
    const runs = new Map([
      ['half', run],
      ['live', run],
    ]);
    await packVisits(target, { visits: [smallVisit()], appliances: [], instruments: [], knowledge: [] }, runs, 't');
    const unpacked = join(folder, 'unpacked');
    const content = await unpackVisits(target, unpacked);
    if (!content.ok) throw new Error(content.error.code);
    const merged = await mergeVisits(content.value, { ...place(), unpacked, underWay: new Set(['live']) });
    expect(merged).toMatchObject({ ok: true, value: { runs: 1, added: 1 } });
    expect(readFileSync(join(folder, 'runs', 'half.run'), 'utf8')).toBe('one\ntwo\nthree\n');
    expect(readFileSync(join(folder, 'runs', 'live.run'), 'utf8')).toBe('one\ntw');
  });

  it('takes in all of it or nothing: a second visit that fails leaves neither the first nor a run', async () => {
    opened.db.exec('CREATE TRIGGER stop AFTER INSERT ON visit WHEN (SELECT count(*) FROM visit) > 1 BEGIN SELECT RAISE(ABORT, 0); END');
    const run = join(folder, 'theirs.run');
    writeFileSync(run, 'lines\n');
    const two = [smallVisit(), smallVisit({ id: 'visit-2', number: 43 })];
    await expect(arrive(two, { runs: new Map([['run-1', run]]) })).rejects.toThrow();
    expect(all()).toHaveLength(0);
    expect(tables.appliances.get('unit-1').ok).toBe(false);
    expect(existsSync(join(folder, 'runs', 'run-1.run'))).toBe(false);
  });
});
