/** A backup is one zip of everything that a person would miss. It counts only after it has been read back. */
import { existsSync, readdirSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { z } from 'zod';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { inThisThread, type Background } from '../background/background.ts';
import { problemOf } from './attempt.ts';
import type { Database } from './database.ts';
import { parseJson } from './documents.ts';
import { renamePatiently, syncFolder } from './files.ts';
import { RECORDS_FILE } from './open.ts';
import { removeQuietly, workPath } from './work-folder.ts';
import { readZip, writeZip, type ZipSource, type ZippedFile } from './zip.ts';

const MANIFEST = 'manifest.json';
export const BACKUP_FORMAT = 'flueside-backup' as const;
export const BACKUP_VERSION = 1;
/** Far above any real backup (10 000 visits, 1 000 day-long runs), far below a zip bomb. */
const LIMITS = { files: 20_000, bytes: 200 * 2 ** 30, textBytes: 8 * 2 ** 20, allTextBytes: 8 * 2 ** 20, growth: 200 };

const Manifest = z.object({
  format: z.literal(BACKUP_FORMAT),
  version: z.number().int(),
  madeWallMs: z.number(),
  appVersion: z.string(),
  files: z.array(z.object({ name: z.string(), size: z.number(), sha256: z.string() })).max(LIMITS.files),
});
export type Manifest = z.infer<typeof Manifest>;

/** What a backup holds beside the records; each is a file or a folder of the data folder. */
const FOLDERS = ['runs', 'recipes', 'photos'] as const;
export const SETTINGS_FILE = 'settings.json';

/** Only these names exist in a backup; everything else in a zip is refused, so that a path can lead nowhere else. */
export const isBackupName = (name: string): boolean =>
  name === RECORDS_FILE || name === SETTINGS_FILE || name === MANIFEST || /^(runs|recipes|photos)\/[\w][\w. ()-]{0,150}$/.test(name);

export type BackupDone = { readonly files: number; readonly bytes: number };

/** Writes `target` (under another name until it has been read back and every hash compared). */
export async function makeBackup({
  dataFolder,
  db,
  target,
  token,
  wallMs,
  appVersion,
  background = inThisThread,
}: {
  dataFolder: string;
  db: Database;
  target: string;
  /** nobody else's: two windows may ask at once */
  token: string;
  wallMs: number;
  appVersion: string;
  /** where it is packed and read back */
  background?: Background;
}): Promise<Result<BackupDone, Problem>> {
  const snapshot = workPath(dataFolder, 'snapshot', token, '.db');
  const part = workPath(dataFolder, 'backup', token, '.part');
  try {
    // a whole copy of the records while they stay in use
    await db.copyTo(snapshot);
    const sources = [{ name: RECORDS_FILE, path: snapshot }, ...listFiles(dataFolder)];
    const head = { format: BACKUP_FORMAT, version: BACKUP_VERSION, madeWallMs: wallMs, appVersion };
    const back = await background.run('writeBackup', { part, sources, head });
    if (!back.ok) return back;
    if (existsSync(target)) return err(problem('file-exists', target));
    renamePatiently(part, target);
    syncFolder(dirname(target));
    return ok({ files: back.value.files.length, bytes: statSync(target).size });
  } catch (failure) {
    const known = problemOf(failure);
    if (known === undefined) throw failure;
    return err(known);
  } finally {
    for (const path of [snapshot, `${snapshot}-journal`, part]) removeQuietly(path);
  }
}

export type BackupHead = Omit<Manifest, 'files'>;

/** Files and their list. @throws what the disk throws */
export const writeBackup = (part: string, sources: readonly ZipSource[], head: BackupHead): Promise<void> =>
  writeZip(part, sources, { name: MANIFEST, text: (files) => manifestText(head, files) });

const manifestText = (head: BackupHead, files: readonly ZippedFile[]): string => JSON.stringify({ ...head, files });

function listFiles(dataFolder: string): { name: string; path: string }[] {
  const found: { name: string; path: string }[] = [];
  if (existsSync(join(dataFolder, SETTINGS_FILE))) found.push({ name: SETTINGS_FILE, path: join(dataFolder, SETTINGS_FILE) });
  for (const folder of FOLDERS) {
    const path = join(dataFolder, folder);
    if (!existsSync(path)) continue;
    for (const entry of readdirSync(path, { withFileTypes: true })) {
      if (entry.isFile() && isBackupName(`${folder}/${entry.name}`))
        found.push({ name: `${folder}/${entry.name}`, path: join(path, entry.name) });
    }
  }
  return found;
}

/** Reads a backup, unpacking it into `into` where given, and checks names, sizes and hashes against its list. */
export async function readBackup(path: string, into: string | undefined): Promise<Result<Manifest, Problem>> {
  let listText = '';
  const isText = (name: string): boolean => name === MANIFEST;
  const read = await readZip(path, { into, allows: isBackupName, isText, onText: (_, text) => (listText = text), limits: LIMITS });
  if (!read.ok) return read;
  const { files } = read.value;
  const raw = parseJson(listText);
  const version = z.object({ format: z.literal(BACKUP_FORMAT), version: z.number() }).safeParse(raw);
  if (!version.success) return err(problem('file-foreign'));
  if (version.data.version > BACKUP_VERSION) return err(problem('file-newer'));
  const manifest = Manifest.safeParse(raw);
  if (!manifest.success) return err(problem('file-damaged', 'Its list of files cannot be read.'));
  if (manifest.data.files.length !== files.size) return err(problem('file-damaged', 'Files are missing or were added.'));
  for (const { name, size, sha256 } of manifest.data.files) {
    const found = files.get(name);
    if (found === undefined || found.size !== size || found.sha256 !== sha256)
      return err(problem('file-damaged', `'${name}' is not what was backed up.`));
  }
  if (!files.has(RECORDS_FILE)) return err(problem('file-damaged', 'It holds no records.'));
  return ok(manifest.data);
}
