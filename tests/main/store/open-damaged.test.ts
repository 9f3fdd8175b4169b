/** Records files that are damaged, written by another process, or in a place that cannot be written. */
import { chmodSync, existsSync, mkdirSync, readFileSync, readdirSync, readlinkSync, rmSync, truncateSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { openDatabase } from '../../../main/store/database.ts';
import { IN_USE_FILE, openRecords } from '../../../main/store/open.ts';
import { wallMs, folder, path, openOrThrow, addVisit, inAFreshFolder } from './open-parts.ts';

inAFreshFolder();

function linkOf(path: string): string {
  try {
    return readlinkSync(path);
  } catch {
    return '';
  }
}

describe('a records file that is damaged, in use or cannot be written', () => {
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

  it('says so where only the mark of their use cannot be written, and leaves them alone', async () => {
    (await openOrThrow()).close();
    mkdirSync(join(folder, IN_USE_FILE));
    const opened = await openRecords({ folder, wallMs });
    expect(opened.ok ? undefined : opened.error.code).toBe('store-read-only');
    rmSync(join(folder, IN_USE_FILE), { recursive: true });
    (await openOrThrow()).close();
  });
});
