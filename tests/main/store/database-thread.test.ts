/** What another thread does with the file of the records is over when it is said to be: nobody else has the file open then. */
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { openDatabase } from '../../../main/store/database.ts';

let folder: string;
beforeEach(() => void (folder = mkdtempSync(join(tmpdir(), 'flueside-thread-'))));
afterEach(() => rmSync(folder, { recursive: true, force: true }));

it.each(['written anew', 'copied'] as const)('the file is alone in its folder at once when it is %s and then closed', async (how) => {
  for (let round = 0; round < 12; round++) {
    const path = join(folder, `${round}.db`);
    const db = openDatabase(path);
    db.exec('PRAGMA journal_mode = WAL; CREATE TABLE line (text TEXT)');
    for (let row = 0; row < 50; row++) db.exec(`INSERT INTO line VALUES ('${'o2 5.1 co 12 '.repeat(40)}')`);
    if (how === 'copied') await db.copyTo(join(folder, `${round}.copy`));
    else expect(await db.writeAnew()).toBe(true);
    db.exec('PRAGMA wal_checkpoint(TRUNCATE)');
    db.close();
    expect(readdirSync(folder).filter((name) => /-(?:wal|shm|journal)$/.test(name))).toEqual([]);
  }
});
