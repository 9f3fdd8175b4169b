/** Records files of another program or a newer version, files that are gone, and who may read them. */
import { chmodSync, copyFileSync, mkdirSync, readFileSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { openDatabase } from '../../../main/store/database.ts';
import { ownFolder } from '../../../main/store/files.ts';
import { latestVersion } from '../../../main/store/migrations/index.ts';
import { openRecords, RECORDS_FILE } from '../../../main/store/open.ts';
import { wallMs, folder, path, openOrThrow, addVisit, inAFreshFolder } from './open-parts.ts';

inAFreshFolder();

describe('a records file that is not ours, or lost', () => {
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

  it.skipIf(process.platform === 'win32')('are for their owner alone again where anybody could read them', async () => {
    const { db, close } = await openOrThrow();
    addVisit(db, 'a', 1);
    const kept = ['', '-wal', '-shm'].map((tail) => [tail, readFileSync(path() + tail)] as const);
    close();
    for (const [tail, bytes] of kept) {
      writeFileSync(path() + tail, bytes);
      chmodSync(path() + tail, 0o644);
    }
    const again = await openOrThrow();
    for (const tail of ['', '-wal', '-shm']) expect([tail, statSync(path() + tail).mode & 0o777]).toEqual([tail, 0o600]);
    again.close();
  });

  it.skipIf(process.platform === 'win32')('lie in a folder that nobody else can look into, also one that was open before', () => {
    for (const name of ['new', 'old']) {
      const own = join(folder, name);
      if (name === 'old') mkdirSync(own, { mode: 0o755 });
      ownFolder(own);
      expect([name, statSync(own).mode & 0o777]).toEqual([name, 0o700]);
    }
  });
});
