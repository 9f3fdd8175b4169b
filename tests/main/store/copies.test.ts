import { existsSync, mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { listCopies, removeCopy } from '../../../main/store/backup/copies.ts';
import { openDatabase } from '../../../main/store/database.ts';
import { APPLICATION_ID } from '../../../main/store/open.ts';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'flueside-copies-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));
const names = (): string[] => {
  const listed = listCopies(folder);
  if (!listed.ok) throw new Error(listed.error.code);
  return listed.value.map(({ name }) => name).sort();
};
const database = (name: string, owner: number): void => {
  const db = openDatabase(join(folder, name));
  db.exec(`PRAGMA application_id = ${owner}; CREATE TABLE t (x)`);
  db.close();
};

const BACKUP = 'flueside-backup-2026-11-25T09-30-00.zip';
const REPLACED = 'before-restore-2026-11-25T09-30-00-000Z';
const DAMAGED = 'records.db.set-aside-2026-11-25T09-30-00-000Z';
const FOREIGN = 'records.db.set-aside-2026-11-24T09-30-00-000Z';
const EARLIER = 'records-version-1-2026-11-25T09-30-00-000Z.db';

function everything(): void {
  writeFileSync(join(folder, BACKUP), 'x'.repeat(1000));
  mkdirSync(join(folder, REPLACED, 'runs'), { recursive: true });
  writeFileSync(join(folder, REPLACED, 'runs', 'a.run'), 'y'.repeat(500));
  database(DAMAGED, APPLICATION_ID);
  database(FOREIGN, 77);
  writeFileSync(join(folder, EARLIER), '');
  for (const own of ['records.db', 'settings.json', 'my-backup.zip', 'flueside-backup-of-mine.zip', `${EARLIER}.part`])
    writeFileSync(join(folder, own), '');
  mkdirSync(join(folder, 'runs'));
}

describe('copies in the data folder', () => {
  it('are listed with their size; what is in use, or somebody else’s, is not among them', () => {
    everything();
    expect(names()).toEqual([REPLACED, BACKUP, EARLIER, DAMAGED].sort());
    const listed = listCopies(folder);
    expect(listed.ok && listed.value.find(({ name }) => name === REPLACED)?.bytes).toBe(500);
  });

  it.each([BACKUP, REPLACED, DAMAGED, EARLIER])('go when they are deleted, and nothing else: %s', (name) => {
    everything();
    writeFileSync(join(folder, `${DAMAGED}-wal`), '');
    const before = readdirSync(folder);
    expect(removeCopy(folder, name).ok).toBe(true);
    const gone = before.filter((one) => !existsSync(join(folder, one)));
    expect(gone.filter((one) => !one.startsWith(name))).toEqual([]);
    expect(gone).toContain(name);
  });

  it.each(['records.db', 'runs', '..', '../outside', FOREIGN, `${BACKUP}/..`, ''])('no other name can be deleted: %s', (name) => {
    everything();
    const before = readdirSync(folder);
    expect(removeCopy(folder, name)).toMatchObject({ ok: false, error: { code: 'not-found' } });
    expect(readdirSync(folder)).toEqual(before);
  });
});
