/** Files of an office in a shared folder: written whole or not at all, listed without trust, and what their refusals mean for the person. */
import { randomUUID } from 'node:crypto';
import { mkdir, open, readdir, rename, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { problem, type Problem } from '../../../shared/problem.ts';
import { err, ok, type Result } from '../../../shared/result.ts';
import { officeTexts } from '../../../shared/words/host.ts';

/** a file that is being written bears this; one that a kill left is removed after a day */
export const PART = '.part';
const PART_LIVES_MS = 24 * 3_600_000;

export const codeOf = (failure: unknown): string | undefined => (failure as NodeJS.ErrnoException).code;

/** @param folder named to the person; what the system says besides is for its makers */
export function problemOfFolder(failure: unknown, folder: string, does: 'read' | 'write' = 'write'): Problem {
  const { code = '' } = failure as NodeJS.ErrnoException;
  if (code === 'ENOSPC' || code === 'EDQUOT' || code === 'EFBIG') return problem('office-full', folder);
  // an id that gives too long a name: the others go on
  if (code === 'ENAMETOOLONG') return problem('office-item-wrong', (failure as Error).message);
  if (code === 'EROFS') return problem('office-read-only', folder);
  if (code === 'EACCES' || code === 'EPERM') return problem(does === 'read' ? 'office-no-access' : 'office-read-only', folder);
  if (code === 'ENOENT') return problem('office-unreachable', officeTexts.folderNotThere(folder));
  if (code === 'ENOTDIR') return problem('office-unreachable', officeTexts.notAFolder(folder));
  return problem('office-unreachable', officeTexts.folderFails(folder, code));
}

export async function guarded<T>(folder: string, does: 'read' | 'write', work: () => Promise<T>): Promise<Result<T, Problem>> {
  try {
    return ok(await work());
  } catch (failure) {
    if (typeof codeOf(failure) !== 'string') throw failure;
    return err(problemOfFolder(failure, folder, does));
  }
}

/** On the disk when this returns, whole, under its name. What has the name already is left. */
export async function writeOnce(path: string, text: string): Promise<void> {
  const temporary = `${path}.${randomUUID().slice(0, 8)}${PART}`;
  try {
    const file = await open(temporary, 'w');
    try {
      await file.writeFile(text);
      await file.sync();
    } finally {
      await file.close();
    }
    await rename(temporary, path);
  } catch (failure) {
    await rm(temporary, { force: true }).catch(() => undefined);
    throw failure;
  }
}

/** Makes renames in it durable. Windows and some shares have no such call. */
export async function syncFolders(folders: Iterable<string>): Promise<void> {
  if (process.platform === 'win32') return;
  for (const folder of folders) {
    const handle = await open(folder, 'r');
    await handle.sync().catch(() => undefined);
    await handle.close();
  }
}

/** Makes folders below one that has to be there: where the share has gone, none is made in its stead. */
export async function makeBelow(folder: string, parts: readonly string[]): Promise<void> {
  for (let n = 1; n <= parts.length; n += 1)
    await mkdir(join(folder, ...parts.slice(0, n))).catch((failure: unknown) => {
      if (codeOf(failure) !== 'EEXIST') throw failure;
    });
}

/** What systems and synchronising programs leave lying is not our business, and neither is what is being written. */
const isOfOthers = (name: string): boolean => name.startsWith('.') || name.endsWith(PART) || name === 'Thumbs.db' || name === 'desktop.ini';

/** @returns the names in a folder, without those of systems; nothing where there is no such folder */
export async function namesIn(folder: string): Promise<string[]> {
  try {
    return (await readdir(folder)).filter((name) => !isOfOthers(name)).sort();
  } catch (failure) {
    if (codeOf(failure) === 'ENOENT' || codeOf(failure) === 'ENOTDIR') return [];
    throw failure;
  }
}

/** The folders in a folder, and the files that lie where only folders belong. */
export async function foldersIn(folder: string): Promise<{ folders: string[]; files: string[] }> {
  try {
    const entries = (await readdir(folder, { withFileTypes: true })).filter(({ name }) => !isOfOthers(name));
    const named = (isFile: boolean): string[] => entries.filter((one) => one.isFile() === isFile).map(({ name }) => name);
    return { folders: named(false).sort(), files: named(true).sort() };
  } catch (failure) {
    if (codeOf(failure) === 'ENOENT') return { folders: [], files: [] };
    throw failure;
  }
}

/** Removes what a kill left half written. */
export async function tidyParts(folder: string, nowMs: number): Promise<void> {
  for (const name of await readdir(folder).catch(() => [])) {
    if (!name.endsWith(PART)) continue;
    const path = join(folder, name);
    const at = await stat(path).catch(() => undefined);
    if (at !== undefined && nowMs - at.mtimeMs > PART_LIVES_MS) await rm(path, { force: true }).catch(() => undefined);
  }
}
