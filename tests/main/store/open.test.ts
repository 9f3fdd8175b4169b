import {
  chmodSync,
  copyFileSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  readdirSync,
  readlinkSync,
  rmSync,
  statSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openDatabase, type Database } from '../../../main/store/database.ts';
import { ownFolder } from '../../../main/store/files.ts';
import { latestVersion, migrations } from '../../../main/store/migrations/index.ts';
import { openRecords, RECORDS_FILE } from '../../../main/store/open.ts';

const wallMs = Date.UTC(2026, 10, 25, 9, 30);
let folder: string;
const path = () => join(folder, RECORDS_FILE);
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'flueside-store-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

function linkOf(path: string): string {
  try {
    return readlinkSync(path);
  } catch {
    return '';
  }
}

async function openOrThrow() {
  const opened = await openRecords({ folder, wallMs });
  if (!opened.ok) throw new Error(opened.error.code);
  return opened.value;
}

function addVisit(db: Database, id: string, number: number) {
  db.run('INSERT INTO visit VALUES (?, ?, NULL, ?, 0, 0, 1, ?, ?, ?)', id, number, 'open', '', '{}', '{}');
}

describe('opening the records', () => {
  it('makes them when there are none, and finds them again', async () => {
    const first = await openOrThrow();
    addVisit(first.db, 'a', 1);
    first.close();
    const second = await openOrThrow();
    expect(second.notices).toEqual([]);
    expect(second.db.one('SELECT number FROM visit')?.['number']).toBe(1);
    second.close();
  });

  it('syncs every commit to the disk', async () => {
    const { db, close } = await openOrThrow();
    expect(db.one('PRAGMA journal_mode')?.['journal_mode']).toBe('wal');
    expect(db.one('PRAGMA synchronous')?.['synchronous']).toBe(2);
    close();
  });

  it('takes a file of every earlier version along and sets a copy aside', async () => {
    for (let version = 1; version < latestVersion; version++) {
      const old = openDatabase(path());
      for (const step of migrations.slice(0, version)) old.exec(step.sql);
      old.exec(`PRAGMA application_id = ${0x464c5545}; PRAGMA user_version = ${version}`);
      old.run("INSERT INTO visit VALUES ('old', 7, NULL, 'open', 0, 0, 1, '', '{}', '{}')");
      old.close();
      const { db, close } = await openOrThrow();
      expect(db.one('PRAGMA user_version')?.['user_version']).toBe(latestVersion);
      expect(db.one('SELECT number FROM visit')?.['number']).toBe(7);
      close();
      const copy = readdirSync(folder).find((name) => name.startsWith(`records-version-${version}-`));
      expect(copy).toBeDefined();
      const kept = openDatabase(join(folder, copy ?? ''));
      expect(kept.one('PRAGMA user_version')?.['user_version']).toBe(version);
      expect(kept.one('SELECT number FROM visit')?.['number']).toBe(7);
      kept.close();
      rmSync(path());
    }
  });

  it('refuses a newer file and leaves every byte of it alone', async () => {
    (await openOrThrow()).close();
    const newer = openDatabase(path());
    newer.exec(`PRAGMA user_version = ${latestVersion + 1}`);
    newer.close();
    const before = readFileSync(path());
    const opened = await openRecords({ folder, wallMs });
    expect(opened.ok ? undefined : opened.error.code).toBe('store-newer');
    expect(readFileSync(path()).equals(before)).toBe(true);
  });

  it.each([
    ['a text file', () => writeFileSync(path(), 'no database at all\n'.repeat(500)), 'store-foreign'],
    [
      "another program's database",
      () => {
        const other = openDatabase(path());
        other.exec('CREATE TABLE song (title TEXT)');
        other.close();
      },
      'store-foreign',
    ],
    [
      'a planted trigger',
      async () => {
        (await openOrThrow()).close();
        const planted = openDatabase(path());
        planted.exec('CREATE TRIGGER t AFTER INSERT ON visit BEGIN DELETE FROM visit; END');
        planted.close();
      },
      'store-damaged',
    ],
  ])('sets %s aside and begins afresh', async (_what, prepare, code) => {
    await Promise.resolve(prepare());
    const before = readFileSync(path());
    const { db, notices, close } = await openOrThrow();
    expect(notices.map((notice) => notice.code)).toEqual([code]);
    addVisit(db, 'new', 1);
    close();
    const aside = readdirSync(folder).find((name) => name.includes('set-aside') && !/-(wal|shm)$/.test(name));
    expect(aside).not.toContain(':');
    expect(readFileSync(join(folder, aside ?? '')).equals(before)).toBe(true);
  });

  const everyByte = (): Record<string, string> =>
    Object.fromEntries(readdirSync(folder).map((name) => [name, readFileSync(join(folder, name)).toString('base64')]));
  /** As another program leaves its database when it is killed: what it wrote last stands in the journal only. */
  const foreignWithJournal = (): void => {
    const scratch = join(folder, 'scratch.db');
    const other = openDatabase(scratch);
    other.exec('PRAGMA journal_mode = WAL; PRAGMA application_id = 77; CREATE TABLE song (title TEXT)');
    other.run('INSERT INTO song VALUES (?)', 'in the journal only');
    for (const tail of ['', '-wal']) copyFileSync(scratch + tail, path() + tail);
    other.close();
    for (const tail of ['', '-wal', '-shm']) rmSync(scratch + tail, { force: true });
  };

  it("sets another program's database aside with its journal, to the last byte", async () => {
    foreignWithJournal();
    const before = everyByte();
    expect(Object.keys(before).sort()).toEqual([RECORDS_FILE, `${RECORDS_FILE}-wal`]);
    const { notices, close } = await openOrThrow();
    expect(notices).toMatchObject([{ code: 'store-foreign' }]);
    const name = /records\.db\.set-aside-[\w-]+/.exec(notices[0]?.detail ?? '')?.[0] ?? '';
    close();
    const after = everyByte();
    expect(after[name]).toBe(before[RECORDS_FILE]);
    expect(after[`${name}-wal`]).toBe(before[`${RECORDS_FILE}-wal`]);
    const kept = openDatabase(join(folder, name));
    expect(kept.one('SELECT title FROM song')?.['title']).toBe('in the journal only');
    kept.close();
  });

  it('refuses a newer file whose version stands in its journal only, and leaves every byte alone', async () => {
    (await openOrThrow()).close();
    const scratch = join(folder, 'scratch.db');
    copyFileSync(path(), scratch);
    const newer = openDatabase(scratch);
    newer.exec(`PRAGMA user_version = ${latestVersion + 3}; CREATE TABLE later (x)`);
    for (const tail of ['', '-wal']) copyFileSync(scratch + tail, path() + tail);
    newer.close();
    for (const tail of ['', '-wal', '-shm']) rmSync(scratch + tail, { force: true });
    const before = everyByte();
    const opened = await openRecords({ folder, wallMs });
    expect(opened.ok ? undefined : opened.error).toMatchObject({
      code: 'store-newer',
      detail: `It has version ${latestVersion + 3}; this Flueside knows ${latestVersion}.`,
    });
    expect(everyByte()).toEqual(before);
  });

  it('goes on in its own file whose every table stands in the journal only', async () => {
    const first = await openOrThrow();
    addVisit(first.db, 'a', 1);
    const [file, journal] = [readFileSync(path()), readFileSync(`${path()}-wal`)];
    first.close();
    writeFileSync(path(), file);
    writeFileSync(`${path()}-wal`, journal);
    const again = await openOrThrow();
    expect(again.notices).toEqual([]);
    expect(again.db.one('SELECT number FROM visit')?.['number']).toBe(1);
    again.close();
  });

  it('says so when the file is empty or gone although the records were in use', async () => {
    for (const prepare of [() => writeFileSync(path(), ''), () => rmSync(path(), { force: true })]) {
      (await openOrThrow()).close();
      prepare();
      writeFileSync(join(folder, 'records.in-use'), ''); // as a kill leaves it
      const { notices, close } = await openOrThrow();
      expect(notices.map((notice) => notice.code)).toEqual(['store-gone']);
      close();
    }
  });

  it.skipIf(process.platform === 'win32')('are for their owner alone, whatever the system’s habit is', async () => {
    const habit = process.umask(0o022);
    const { db, close } = await openOrThrow();
    process.umask(habit);
    addVisit(db, 'a', 1);
    for (const name of readdirSync(folder)) expect([name, statSync(join(folder, name)).mode & 0o077]).toEqual([name, 0]);
    close();
  });

  it.skipIf(process.platform === 'win32')('lie in a folder that nobody else can look into, also one that was open before', () => {
    for (const name of ['new', 'old']) {
      const own = join(folder, name);
      if (name === 'old') mkdirSync(own, { mode: 0o755 });
      ownFolder(own);
      expect([name, statSync(own).mode & 0o777]).toEqual([name, 0o700]);
    }
  });

  it('closes its handles when it is closed: another program can move the file at once', async () => {
    const { db, close } = await openOrThrow();
    addVisit(db, 'a', 1);
    close();
    const held = existsSync('/proc/self/fd') ? readdirSync('/proc/self/fd').map((fd) => linkOf(`/proc/self/fd/${fd}`)) : [];
    expect(held.filter((target) => target.startsWith(folder))).toEqual([]);
  });

  it.each([
    ['sqliteX', 'CREATE TRIGGER sqliteX AFTER INSERT ON visit BEGIN DELETE FROM visit; END'],
    ['a view', 'CREATE VIEW "sqlite1 view" AS SELECT * FROM visit'],
  ])('takes %s for damage, however it is called', async (_name, sql) => {
    (await openOrThrow()).close();
    const planted = openDatabase(path());
    planted.exec(sql);
    planted.close();
    const { notices, close } = await openOrThrow();
    expect(notices.map((notice) => notice.code)).toEqual(['store-damaged']);
    close();
  });

  it.each([
    ['an empty file', () => writeFileSync(path(), '')],
    [
      'a database without a table',
      () => {
        const other = openDatabase(path());
        other.exec('PRAGMA journal_mode = WAL; VACUUM');
        other.close();
      },
    ],
  ])('begins in %s', async (_what, prepare) => {
    prepare();
    const { notices, close } = await openOrThrow();
    expect(notices).toEqual([]);
    close();
  });

  it('finds damage in the middle of a file after a crash', async () => {
    const first = await openOrThrow();
    first.db.inTransaction(() => {
      for (let n = 1; n <= 3000; n++) addVisit(first.db, `visit-${n}`, n);
    });
    first.db.exec('PRAGMA wal_checkpoint(TRUNCATE)');
    first.close();
    const bytes = readFileSync(path());
    bytes.fill(0xa5, 20_000, 40_000);
    writeFileSync(path(), bytes);
    writeFileSync(join(folder, 'records.in-use'), ''); // as a kill leaves it
    const { notices, close } = await openOrThrow();
    expect(notices.map((notice) => notice.code)).toEqual(['store-damaged']);
    close();
  });

  it('treats a file cut in half as damaged, not as empty', async () => {
    const first = await openOrThrow();
    first.db.inTransaction(() => {
      for (let n = 1; n <= 3000; n++) addVisit(first.db, `visit-${n}`, n);
    });
    first.close();
    truncateSync(path(), 50_000);
    writeFileSync(join(folder, 'records.in-use'), '');
    const { notices, close } = await openOrThrow();
    expect(notices.map((notice) => notice.code)).toEqual(['store-damaged']);
    close();
  });

  it('says so when another process writes', async () => {
    (await openOrThrow()).close();
    const holder = openDatabase(path());
    holder.exec('PRAGMA locking_mode = EXCLUSIVE; BEGIN EXCLUSIVE');
    const opened = await openRecords({ folder, wallMs });
    expect(opened.ok ? undefined : opened.error.code).toBe('store-locked');
    holder.exec('ROLLBACK');
    holder.close();
  });

  it.skipIf(process.getuid?.() === 0 || process.platform === 'win32')('says so when the folder cannot be written', async () => {
    chmodSync(folder, 0o500);
    const opened = await openRecords({ folder, wallMs });
    expect(opened.ok ? undefined : opened.error.code).toBe('store-read-only');
    chmodSync(folder, 0o700);
  });

  it('says so when the place of the folder is taken by a file', async () => {
    writeFileSync(join(folder, 'taken'), '');
    const opened = await openRecords({ folder: join(folder, 'taken'), wallMs });
    expect(opened.ok ? undefined : opened.error.code).toBe('store-read-only');
    expect(existsSync(join(folder, 'taken'))).toBe(true);
  });
});
