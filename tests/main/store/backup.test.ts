import { existsSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { zipSync, strToU8 } from 'fflate';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { BACKUP_FORMAT, makeBackup, readZip, restoreBackup } from '../../../main/store/backup.ts';
import { openRecords } from '../../../main/store/open.ts';

const wallMs = Date.UTC(2026, 10, 25, 9, 30);
let base: string;
const folder = () => join(base, 'data');
beforeEach(() => {
  base = mkdtempSync(join(tmpdir(), 'flueside-backup-'));
  mkdirSync(join(folder(), 'runs'), { recursive: true });
});
afterEach(() => rmSync(base, { recursive: true, force: true }));

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
    const made = await makeBackup({ dataFolder: folder(), db: first.db, target, wallMs, appVersion: '1' });
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
    expect(readdirSync(folder()).filter((name) => name.endsWith('.part'))).toEqual([]);
  });

  it('notices a single changed byte', async () => {
    const first = await records();
    writeFileSync(join(folder(), 'runs', 'one.flueside-run'), 'x'.repeat(5000));
    const target = join(base, 'backup.zip');
    await makeBackup({ dataFolder: folder(), db: first.db, target, wallMs, appVersion: '1' });
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
    expect(readdirSync(folder()).sort()).toEqual(['runs']);
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
    const result = await readZip(source, undefined);
    expect(result.ok ? 'read' : result.error.code).toBe(code);
  });
});
