/** Packages as files: what an export holds, what is no package, and one that is cut off. */
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { strFromU8, strToU8, unzipSync, zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { mergeVisits } from '../../../main/report/merge-visits.ts';
import { createReportService } from '../../../main/report/report-service.ts';
import { inThisThread, type Background } from '../../../main/background/background.ts';
import { packVisits, PACKAGE_VERSION, unpackVisits } from '../../../main/report/visit-package.ts';
import type { Download } from '../../../main/runs/stored/downloads.ts';
import { Settings } from '../../../shared/ipc/settings.ts';
import { createFakeClock } from '../../helpers/host/fake-clock.ts';
import { smallVisit, START } from '../../shared/report/small-visit.ts';
import { folder, opened, tables, nextNumber, place, applianceOf, arrive, all, openForEachTest } from './package-parts.ts';

openForEachTest();

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
    const number = nextNumber();
    const path = join(folder, `arrives-${number}.zip`);
    writeFileSync(path, bytes);
    return unpackVisits(path, join(folder, `unpacked-${number}`));
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
