import { createHash } from 'node:crypto';
import { cpSync, existsSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { strFromU8, strToU8, unzipSync, zipSync } from 'fflate';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { makeBackup } from '../../../main/store/backup/backup.ts';
import * as files from '../../../main/store/files.ts';
import { openDatabase } from '../../../main/store/database.ts';
import { latestVersion } from '../../../main/store/migrations/index.ts';
import { prepareRestore, recoverRestore, RESTORE_JOURNAL, swapIn, tidyDataFolder } from '../../../main/store/backup/restore.ts';
import { WORK_FOLDER } from '../../../main/store/work-folder.ts';
import { openRecords } from '../../../main/store/open.ts';
import { BACKUP_FORMAT, readBackup } from '../../../main/store/backup/backup-file.ts';

const wallMs = Date.UTC(2026, 10, 25, 9, 30);
let base: string;
const folder = () => join(base, 'data');
beforeEach(() => {
  base = mkdtempSync(join(tmpdir(), 'flueside-backup-'));
  mkdirSync(join(folder(), 'runs'), { recursive: true });
});
afterEach(() => rmSync(base, { recursive: true, force: true }));

const token = 'token-of-a-test';

/** As the records do it: checked, swapped, committed. */
async function restoreBackup({ dataFolder, source }: { dataFolder: string; source: string; wallMs?: number }) {
  const prepared = await prepareRestore({ dataFolder, source, token, wallMs });
  if (!prepared.ok) return prepared;
  const swapped = swapIn(dataFolder, prepared.value, wallMs);
  if (swapped.ok) swapped.value.commit();
  return swapped;
}

async function records() {
  const opened = await openRecords({ folder: folder(), wallMs });
  if (!opened.ok) throw new Error(opened.error.code);
  return opened.value;
}

describe('backup', () => {
  it('brings back what was there and keeps what it replaces', async () => {
    const first = await records();
    first.db.run("INSERT INTO visit VALUES ('a', 1, NULL, 'open', 0, 0, 1, '', '{}', '{}')");
    const run = `head\n${'12\tline\t5.1,13\n'.repeat(100_000)}`;
    writeFileSync(join(folder(), 'runs', 'one.flueside-run'), run);
    writeFileSync(join(folder(), 'settings.json'), '{"units":"us"}');
    const target = join(base, 'backup.zip');
    const made = await makeBackup({ dataFolder: folder(), db: first.db, target, token, wallMs, appVersion: '1' });
    expect(made).toMatchObject({ ok: true, value: { files: 3 } });
    first.db.run('DELETE FROM visit');
    first.close();
    writeFileSync(join(folder(), 'runs', 'one.flueside-run'), 'changed since');

    const restored = await restoreBackup({ dataFolder: folder(), source: target, wallMs });
    if (!restored.ok) throw new Error(restored.error.detail);
    expect(readFileSync(join(folder(), 'runs', 'one.flueside-run'), 'utf8')).toBe(run);
    expect(readFileSync(join(folder(), restored.value.kept, 'runs', 'one.flueside-run'), 'utf8')).toBe('changed since');
    const again = await records();
    expect(again.notices).toEqual([]);
    expect(again.db.one('SELECT number FROM visit')?.['number']).toBe(1);
    again.close();
    expect(readdirSync(folder()).filter((name) => name.endsWith('.part') || name.startsWith('.flueside'))).toEqual([]);
  });

  it('notices a single changed byte', async () => {
    const first = await records();
    writeFileSync(join(folder(), 'runs', 'one.flueside-run'), 'x'.repeat(5000));
    const target = join(base, 'backup.zip');
    await makeBackup({ dataFolder: folder(), db: first.db, target, token, wallMs, appVersion: '1' });
    first.close();
    const bytes = readFileSync(target);
    const at = Math.floor(bytes.length / 3);
    bytes[at] = (bytes[at] ?? 0) ^ 1;
    writeFileSync(target, bytes);
    expect(await restoreBackup({ dataFolder: folder(), source: target, wallMs })).toMatchObject({ ok: false });
    expect(readFileSync(join(folder(), 'runs', 'one.flueside-run'), 'utf8')).toBe('x'.repeat(5000));
  });

  const manifest = (version: number) =>
    strToU8(JSON.stringify({ format: BACKUP_FORMAT, version, madeWallMs: 0, appVersion: '1', files: [] }));
  it.each([
    ['../outside.txt', 'file-foreign'],
    ['/etc/passwd', 'file-foreign'],
    ['C:\\windows\\x', 'file-foreign'],
    ['runs/../../outside.txt', 'file-foreign'],
    ['runs/..', 'file-foreign'],
    ['runs/sub/one.flueside-run', 'file-foreign'],
    ['program.exe', 'file-foreign'],
  ])('refuses a zip that holds %s', async (name, code) => {
    const source = join(base, 'hostile.zip');
    writeFileSync(source, zipSync({ [name]: strToU8('x'), 'manifest.json': manifest(1) }));
    const result = await restoreBackup({ dataFolder: folder(), source, wallMs });
    expect(result.ok ? 'restored' : result.error.code).toBe(code);
    expect(existsSync(join(base, 'outside.txt'))).toBe(false);
    expect(readdirSync(folder()).filter((one) => one !== WORK_FOLDER)).toEqual(['runs']);
  });

  it.each([
    ['a newer backup', zipSync({ 'manifest.json': manifest(2) }), 'file-newer'],
    ['another zip', zipSync({ 'settings.json': strToU8('{}') }), 'file-foreign'],
    ['a text file', strToU8('no zip at all'), 'file-foreign'],
    ['an empty file', new Uint8Array(0), 'file-foreign'],
    ['a bomb', zipSync({ 'runs/big': new Uint8Array(2 ** 26) }, { level: 9 }), 'file-too-big'],
  ])('refuses %s', async (_what, bytes, code) => {
    const source = join(base, 'other.zip');
    writeFileSync(source, bytes);
    const result = await readBackup(source, undefined);
    expect(result.ok ? 'read' : result.error.code).toBe(code);
  });
});

describe('a restore', () => {
  /** Two states of one folder: what a backup holds, and what is there now. */
  async function backedUp(): Promise<string> {
    const first = await records();
    first.db.run("INSERT INTO visit VALUES ('old', 1, NULL, 'open', 0, 0, 1, '', '{}', '{}')");
    writeFileSync(join(folder(), 'runs', 'one.run'), 'backed up');
    writeFileSync(join(folder(), 'settings.json'), '{"units":"us"}');
    const target = join(base, 'backup.zip');
    const made = await makeBackup({ dataFolder: folder(), db: first.db, target, token, wallMs, appVersion: '1' });
    if (!made.ok) throw new Error(made.error.code);
    first.db.run("UPDATE visit SET id = 'new'");
    first.close();
    writeFileSync(join(folder(), 'runs', 'one.run'), 'now');
    writeFileSync(join(folder(), 'settings.json'), '{"units":"metric"}');
    return target;
  }
  const state = async () => {
    const opened = await records();
    const visit = opened.db.one('SELECT id FROM visit')?.['id'];
    const { notices } = opened;
    opened.close();
    const text = (name: string) => readFileSync(join(folder(), name), 'utf8');
    return { visit, notices, run: text('runs/one.run'), settings: text('settings.json') };
  };
  const before = { visit: 'new', notices: [], run: 'now', settings: '{"units":"metric"}' };
  const after = { visit: 'old', notices: [], run: 'backed up', settings: '{"units":"us"}' };

  it('that was killed between any two moves is finished at the next start, never an empty book', { timeout: 60_000 }, async () => {
    const source = await backedUp();
    let moves = 0;
    for (let killedAt = 0; ; killedAt++) {
      const place = join(base, `killed-${killedAt}`);
      cpSync(folder(), place, { recursive: true });
      const prepared = await prepareRestore({ dataFolder: place, source, token, wallMs });
      if (!prepared.ok) throw new Error(prepared.error.code);
      moves = 0;
      vi.spyOn(files, 'renamePatiently').mockImplementation((from, to) => {
        if (moves === killedAt) throw new Killed();
        moves += 1;
        renameSync(from, to);
      });
      let wasKilled: boolean;
      try {
        wasKilled = !swapIn(place, prepared.value, wallMs).ok;
      } catch (failure) {
        if (!(failure instanceof Killed)) throw failure;
        wasKilled = true;
      }
      vi.restoreAllMocks();
      // what a process that is gone cannot do: the journal stays where the kill left it
      expect(recoverRestore(place).ok).toBe(true);
      tidyDataFolder(place);
      const there = base;
      base = join(base, 'look');
      mkdirSync(base, { recursive: true });
      rmSync(folder(), { recursive: true, force: true });
      cpSync(place, folder(), { recursive: true });
      const found = await state();
      base = there;
      expect([before, after]).toContainEqual(found);
      expect(readdirSync(place).filter((name) => name.startsWith('.flueside'))).toEqual([]);
      if (!wasKilled) break;
    }
    expect(moves).toBeGreaterThan(4);
  });

  it('whose moves fail puts everything back where it was and says so', async () => {
    const source = await backedUp();
    const prepared = await prepareRestore({ dataFolder: folder(), source, token, wallMs });
    if (!prepared.ok) throw new Error(prepared.error.code);
    let moves = 0;
    vi.spyOn(files, 'renamePatiently').mockImplementation((from, to) => {
      if (++moves === 4) throw Object.assign(new Error('in use'), { code: 'EPERM' });
      renameSync(from, to);
    });
    const swapped = swapIn(folder(), prepared.value, wallMs);
    vi.restoreAllMocks();
    expect(swapped).toMatchObject({ ok: false, error: { code: 'restore-undone' } });
    expect(await state()).toEqual(before);
    expect(readdirSync(folder()).filter((name) => /^\.flueside|^before-restore/.test(name))).toEqual([]);
  });

  const hostile = async (change: (path: string) => void): Promise<string> => {
    const source = await backedUp();
    const unpacked = unzipSync(readFileSync(source));
    const path = join(base, 'hostile.db');
    writeFileSync(path, unpacked['records.db'] ?? '');
    change(path);
    const bytes = readFileSync(path);
    const list = JSON.parse(strFromU8(unpacked['manifest.json'] ?? new Uint8Array())) as {
      files: { name: string; size: number; sha256: string }[];
    };
    list.files = list.files.map((file) =>
      file.name === 'records.db' ? { ...file, size: bytes.length, sha256: createHash('sha256').update(bytes).digest('hex') } : file,
    );
    writeFileSync(source, zipSync({ ...unpacked, 'records.db': bytes, 'manifest.json': strToU8(JSON.stringify(list)) }));
    return source;
  };
  const inDatabase = (sql: string) => (path: string) => {
    const db = openDatabase(path);
    db.exec(sql);
    db.close();
  };
  it.each([
    ['another program\u2019s database', inDatabase('PRAGMA application_id = 77'), 'file-foreign'],
    ['a newer one', inDatabase(`PRAGMA user_version = ${latestVersion + 1}`), 'file-newer'],
    ['a planted trigger', inDatabase('CREATE TRIGGER sqliteX AFTER INSERT ON visit BEGIN DELETE FROM visit; END'), 'file-damaged'],
    ['a planted view', inDatabase('CREATE VIEW sqlite1 AS SELECT 1'), 'file-damaged'],
    ['an empty file', (path: string) => writeFileSync(path, ''), 'file-damaged'],
    ['no database', (path: string) => writeFileSync(path, 'x'.repeat(9000)), 'file-foreign'],
  ])('refuses %s before anything is touched', async (_what, change, code) => {
    const source = await hostile(change);
    const refused = await prepareRestore({ dataFolder: folder(), source, token, wallMs });
    expect(refused.ok ? 'taken' : refused.error.code).toBe(code);
    expect(await state()).toEqual(before);
    expect(existsSync(join(folder(), WORK_FOLDER, `restore-${token}`))).toBe(false);
  });

  it.skipIf(process.platform !== 'linux' || !existsSync('/dev/full'))(
    'says that the disk is full, not that the file is damaged',
    async () => {
      const source = await backedUp();
      const failure = Object.assign(new Error('no space'), { code: 'ENOSPC' });
      vi.spyOn(files, 'syncFile').mockImplementation(() => {
        throw failure;
      });
      const refused = await prepareRestore({ dataFolder: folder(), source, token, wallMs });
      vi.restoreAllMocks();
      expect(refused).toMatchObject({ ok: false, error: { code: 'disk-full' } });
      expect(await state()).toEqual(before);
    },
  );

  it('that was cut off leaves its journal, which a start finishes: the same for one that never started', async () => {
    await backedUp();
    writeFileSync(join(folder(), RESTORE_JOURNAL), '{"format":"something else"}');
    expect(recoverRestore(folder())).toEqual({ ok: true, value: undefined });
    expect(existsSync(join(folder(), RESTORE_JOURNAL))).toBe(false);
    expect(await state()).toEqual(before);
  });
});

describe('what a kill leaves of a backup', () => {
  it('is gone after the next start: a person who was removed meanwhile stays in no copy', async () => {
    (await records()).close();
    mkdirSync(join(folder(), WORK_FOLDER), { recursive: true });
    const left = ['snapshot-token-one.db', 'snapshot-token-one.db-journal', 'backup-token-one.part', 'restore-token-one/records.db'];
    for (const name of left) {
      mkdirSync(join(folder(), WORK_FOLDER, name, '..'), { recursive: true });
      writeFileSync(join(folder(), WORK_FOLDER, name), 'A. Sample');
    }
    writeFileSync(join(folder(), 'records-version-1-2026-11-25T09-30-00-000Z.db.part'), 'A. Sample');
    tidyDataFolder(folder());
    expect(existsSync(join(folder(), WORK_FOLDER))).toBe(false);
    expect(readdirSync(folder()).filter((name) => name.endsWith('.part'))).toEqual([]);
  });
});

/** A kill: nothing after it runs. */
class Killed extends Error {}
