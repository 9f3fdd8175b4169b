/** Copies of the records that lie in the data folder: backups, what a restore replaced, what was there before an update, damaged files. */
import { existsSync, readdirSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import type { StoredCopy } from '../../../shared/ipc/store-commands.ts';
import { problem, type Problem } from '../../../shared/problem.ts';
import { err, type Result } from '../../../shared/result.ts';
import { attempt } from '../attempt.ts';
import { APPLICATION_ID } from '../open.ts';
import { peek } from '../peek.ts';

const kinds: readonly { readonly kind: StoredCopy['kind']; readonly name: RegExp }[] = [
  { kind: 'backup', name: /^flueside-backup-[\dT-]+\.zip$/ },
  { kind: 'before-restore', name: /^before-restore-[\dTZ-]+(?:-\d+)?$/ },
  { kind: 'before-update', name: /^records-version-\d+-[\dTZ-]+\.db$/ },
  { kind: 'damaged', name: /^records\.db\.set-aside-[\dTZ-]+$/ },
];

export function listCopies(folder: string): Result<StoredCopy[], Problem> {
  return attempt(() =>
    readdirSync(folder)
      .flatMap((name): StoredCopy[] => {
        const kind = kinds.find((one) => one.name.test(name))?.kind;
        const path = join(folder, name);
        if (kind === undefined || (kind === 'damaged' && !isOurs(path))) return [];
        return [{ name, kind, bytes: bytesOf(path), madeWallMs: statSync(path).mtimeMs }];
      })
      .sort((one, other) => other.madeWallMs - one.madeWallMs),
  );
}

/** @returns undefined when no backup of that name is listed */
export function backupPath(folder: string, name: string): string | undefined {
  const listed = listCopies(folder);
  return listed.ok && listed.value.some((copy) => copy.name === name && copy.kind === 'backup') ? join(folder, name) : undefined;
}

/** Only what is listed can be removed: a name leads nowhere else. */
export function removeCopy(folder: string, name: string): Result<undefined, Problem> {
  const listed = listCopies(folder);
  if (!listed.ok) return listed;
  if (!listed.value.some((copy) => copy.name === name)) return err(problem('not-found'));
  return attempt(() => {
    for (const tail of ['', '-wal', '-shm']) rmSync(join(folder, name + tail), { recursive: true, force: true });
    return undefined;
  });
}

/** A file of another program was set aside as well; that one is not ours to offer for deletion. */
function isOurs(path: string): boolean {
  const seen = peek(path);
  return seen.kind === 'database' && seen.owner === APPLICATION_ID;
}

function bytesOf(path: string): number {
  if (!existsSync(path)) return 0;
  const stat = statSync(path);
  if (!stat.isDirectory()) return stat.size;
  return readdirSync(path).reduce((sum, name) => sum + bytesOf(join(path, name)), 0);
}
