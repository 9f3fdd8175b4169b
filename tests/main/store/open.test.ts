import { readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { openDatabase } from '../../../main/store/database.ts';
import { latestVersion, migrations } from '../../../main/store/migrations/index.ts';
import { openRecords } from '../../../main/store/open.ts';
import { wallMs, folder, path, openOrThrow, addVisit, inAFreshFolder } from './open-parts.ts';

inAFreshFolder();

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
});
