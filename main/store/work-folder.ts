/**
 * What Flueside writes on its way to something else lies in one hidden folder of its own, under names of its own. Whatever else is in the data
 * folder, even inside this folder, is somebody else's and is never removed.
 */
import { mkdirSync, readdirSync, rmSync, rmdirSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';

export const WORK_FOLDER = '.flueside-work';
const kinds = ['upload', 'export', 'snapshot', 'backup', 'restore', 'import', 'page'] as const;
export type WorkKind = (typeof kinds)[number];

const TOKEN = '[\\w-]{1,80}';
const ownName = new RegExp(`^(?:${kinds.join('|')})-${TOKEN}(?:\\.(?:part|zip|db|html))?(?:-journal|-wal|-shm)?$`);

/** @param token nobody else's: an id or a random token */
export function workPath(dataFolder: string, kind: WorkKind, token: string, ending = ''): string {
  const folder = join(dataFolder, WORK_FOLDER);
  const name = `${kind}-${token}${ending}`;
  if (!ownName.test(name)) throw new RangeError(name);
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  return join(folder, name);
}

/** Removes what is ours in it; all of it, or one kind. What cannot be removed now is removed at the next start. */
export function clearWork(dataFolder: string, only?: WorkKind): void {
  const folder = join(dataFolder, WORK_FOLDER);
  for (const name of namesIn(folder)) {
    if (ownName.test(name) && (only === undefined || name.startsWith(`${only}-`))) removeQuietly(join(folder, name));
  }
  try {
    rmdirSync(folder);
  } catch {
    // not there, or not empty
  }
}

export function namesIn(folder: string): string[] {
  try {
    return readdirSync(folder);
  } catch {
    return [];
  }
}

export function removeQuietly(path: string): void {
  try {
    rmSync(path, { recursive: true, force: true });
  } catch {
    // the next start tries again
  }
}

export const isWorkPath = (dataFolder: string, path: string): boolean =>
  dirname(path) === join(dataFolder, WORK_FOLDER) && ownName.test(basename(path));
