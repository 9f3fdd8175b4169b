/** A backup is one zip of everything that a person would miss. It counts only after it has been read back. */
import { existsSync, readdirSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { problem, type Problem } from '../../../shared/problem.ts';
import { err, ok, type Result } from '../../../shared/result.ts';
import { inThisThread, type Background } from '../../background/background.ts';
import { problemOf } from '../attempt.ts';
import type { Database } from '../database.ts';
import { renamePatiently, syncFolder } from '../files.ts';
import { RECORDS_FILE } from '../open.ts';
import { removeQuietly, workPath } from '../work-folder.ts';
import { BACKUP_FORMAT, BACKUP_VERSION, SETTINGS_FILE, isBackupName } from './backup-file.ts';

/** What a backup holds beside the records; each is a file or a folder of the data folder. */
const FOLDERS = ['runs', 'recipes', 'photos'] as const;

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
