/**
 * Puts a backup in the place of what is there, all of it or nothing:
 *
 * 1. The backup is unpacked beside the records and checked, its records are opened, looked through and brought up to date. Until here nothing
 *    that is in use was touched.
 * 2. The records are closed. A journal says what is to be moved where.
 * 3. What is there is moved into a folder of its own, what was unpacked takes its place, the journal goes.
 *
 * A kill between two moves leaves the journal, and the next start finishes it before anything is opened; where that fails it is undone.
 */
import { existsSync, mkdirSync, readFileSync, readdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { problem, type Problem } from '../../../shared/problem.ts';
import { err, ok, type Result } from '../../../shared/result.ts';
import { problemOf } from '../attempt.ts';
import { inThisThread, type Background } from '../../background/background.ts';
import { forgetKept, tidyKept } from '../../runs/stored/kept-results.ts';
import type { BackupDone } from './backup.ts';
import { parseJson } from '../documents.ts';
import { renamePatiently, syncFolder, writeWhole } from '../files.ts';
import { checkRecordsFile, RECORDS_FILE, stamp } from '../open.ts';
import { clearWork, namesIn, removeQuietly, WORK_FOLDER, workPath } from '../work-folder.ts';

export const RESTORE_JOURNAL = '.flueside-restore.json';

/** What a restore moves: everything that belongs to the records of before goes together. */
const MOVED = [
  RECORDS_FILE,
  `${RECORDS_FILE}-wal`,
  `${RECORDS_FILE}-shm`,
  'records.in-use',
  'records.erase-due',
  'settings.json',
  'runs',
  'runs-summaries.json',
  'recipes',
  'photos',
] as const;

const movable = z.enum(MOVED);
const Journal = z.strictObject({
  format: z.literal('flueside-restore'),
  version: z.literal(1),
  fresh: z.string().regex(/^restore-[\w-]{1,80}$/),
  kept: z.string().regex(/^before-restore-[\w-]{1,80}$/),
  /** moved away */
  old: z.array(movable),
  /** moved in */
  new: z.array(movable),
});
type Journal = z.infer<typeof Journal>;

export type Prepared = { readonly fresh: string; readonly files: BackupDone };

/** Step 1. What was unpacked is removed again when it is refused. */
export async function prepareRestore({
  dataFolder,
  source,
  token,
  wallMs,
  background = inThisThread,
}: {
  dataFolder: string;
  source: string;
  token: string;
  wallMs: number;
  /** where it is unpacked */
  background?: Background;
}): Promise<Result<Prepared, Problem>> {
  const folder = workPath(dataFolder, 'restore', token);
  const refused = (why: Problem): Result<Prepared, Problem> => {
    removeQuietly(folder);
    return err(why);
  };
  try {
    if (!existsSync(source)) return err(problem('file-not-found'));
    mkdirSync(folder, { recursive: true, mode: 0o700 });
    const unpacked = await background.run('readBackup', { path: source, into: folder });
    if (!unpacked.ok) return refused(unpacked.error);
    const records = checkRecordsFile(join(folder, RECORDS_FILE), wallMs);
    if (!records.ok) return refused(records.error);
    const { files } = unpacked.value;
    return ok({ fresh: `restore-${token}`, files: { files: files.length, bytes: files.reduce((sum, { size }) => sum + size, 0) } });
  } catch (failure) {
    removeQuietly(folder);
    const known = problemOf(failure);
    if (known === undefined) throw failure;
    return err(known);
  }
}

export type Swapped = {
  /** the folder that holds what was there */
  readonly kept: string;
  /** the restored records could be opened: there is no way back from here */
  commit(): void;
  /** they could not: what was there comes back */
  undo(): Problem;
};

/**
 * Steps 2 and 3; the records must be closed.
 *
 * @returns why it was not done, everything being where it was
 */
export function swapIn(dataFolder: string, { fresh }: Prepared, wallMs: number): Result<Swapped, Problem> {
  let kept = `before-restore-${stamp(wallMs)}`;
  for (let n = 2; existsSync(join(dataFolder, kept)); n++) kept = `before-restore-${stamp(wallMs)}-${n}`;
  const here = new Set(readdirSync(dataFolder));
  const unpacked = new Set(readdirSync(join(dataFolder, WORK_FOLDER, fresh)));
  const journal: Journal = {
    format: 'flueside-restore',
    version: 1,
    fresh,
    kept,
    old: MOVED.filter((name) => here.has(name)),
    new: MOVED.filter((name) => unpacked.has(name)),
  };
  try {
    writeWhole(join(dataFolder, RESTORE_JOURNAL), JSON.stringify(journal), 0o600);
  } catch (failure) {
    removeQuietly(join(dataFolder, RESTORE_JOURNAL));
    return err(problemOf(failure) ?? problem('disk-failed', (failure as Error).message));
  }
  const moved = finishOrUndo(dataFolder, journal);
  if (!moved.ok) return moved;
  return ok({
    kept,
    commit: () => commit(dataFolder),
    undo() {
      try {
        undo(dataFolder, journal);
        return problem('restore-undone');
      } catch (failure) {
        return problem('restore-stuck', (failure as Error).message);
      }
    },
  });
}

/**
 * What a kill left of a restore, before anything of the data folder is opened. Asked twice, it does nothing the second time.
 *
 * @returns what has to be told; an error when the records must not be opened
 */
export function recoverRestore(dataFolder: string): Result<Problem | undefined, Problem> {
  let text: string;
  try {
    text = readFileSync(join(dataFolder, RESTORE_JOURNAL), 'utf8');
  } catch (failure) {
    return (failure as NodeJS.ErrnoException).code === 'ENOENT' ? ok(undefined) : err(problem('restore-stuck', (failure as Error).message));
  }
  const journal = Journal.safeParse(parseJson(text));
  // written whole or not at all, so this is nothing that we wrote: nothing was moved by it
  if (!journal.success) {
    removeQuietly(join(dataFolder, RESTORE_JOURNAL));
    return ok(undefined);
  }
  const done = finishOrUndo(dataFolder, journal.data);
  if (!done.ok) return done.error.code === 'restore-stuck' ? done : ok(done.error);
  try {
    commit(dataFolder);
    return ok(undefined);
  } catch (failure) {
    return err(problem('restore-stuck', (failure as Error).message));
  }
}

function finishOrUndo(dataFolder: string, journal: Journal): Result<undefined, Problem> {
  try {
    finish(dataFolder, journal);
  } catch (failure) {
    try {
      undo(dataFolder, journal);
    } catch (second) {
      return err(problem('restore-stuck', `${(failure as Error).message}; ${(second as Error).message}`));
    }
    const { code, detail } = problemOf(failure) ?? problem('restore-undone', (failure as Error).message);
    return err(problem(code === 'disk-full' ? code : 'restore-undone', detail));
  }
  return ok(undefined);
}

function commit(dataFolder: string): void {
  rmSync(join(dataFolder, RESTORE_JOURNAL), { force: true });
  syncFolder(dataFolder);
  clearWork(dataFolder, 'restore');
  // of runs that were moved away
  forgetKept(dataFolder);
}

const inside = (dataFolder: string, { fresh, kept }: Journal) => ({
  here: (name: string) => join(dataFolder, name),
  kept: (name: string) => join(dataFolder, kept, name),
  fresh: (name: string) => join(dataFolder, WORK_FOLDER, fresh, name),
});

/** Can be begun anew at any place: first all that is old goes, then all that is new comes. */
function finish(dataFolder: string, journal: Journal): void {
  const at = inside(dataFolder, journal);
  mkdirSync(at.kept('.'), { recursive: true, mode: 0o700 });
  for (const name of journal.old)
    if (!existsSync(at.kept(name)) && existsSync(at.here(name))) renamePatiently(at.here(name), at.kept(name));
  for (const name of journal.new) if (existsSync(at.fresh(name))) renamePatiently(at.fresh(name), at.here(name));
  for (const name of journal.new) if (!existsSync(at.here(name))) throw new Error(`${name} is missing`);
  syncFolder(at.kept('.'));
  syncFolder(dataFolder);
}

function undo(dataFolder: string, journal: Journal): void {
  const at = inside(dataFolder, journal);
  for (const name of journal.new) {
    // what is here is the new one only when the old one was moved away, or never was
    const isNew = !existsSync(at.fresh(name)) && existsSync(at.here(name)) && (existsSync(at.kept(name)) || !journal.old.includes(name));
    if (!isNew) continue;
    mkdirSync(at.fresh('.'), { recursive: true, mode: 0o700 });
    renamePatiently(at.here(name), at.fresh(name));
  }
  for (const name of journal.old) if (existsSync(at.kept(name))) renamePatiently(at.kept(name), at.here(name));
  syncFolder(dataFolder);
  rmSync(at.here(RESTORE_JOURNAL), { force: true });
  if (namesIn(at.kept('.')).length === 0) removeQuietly(at.kept('.'));
  clearWork(dataFolder, 'restore');
}

const leftovers = [
  /^records-version-\d+-[\dTZ-]+\.db\.part(?:-journal)?$/,
  /^(?:records\.db|settings\.json|runs-summaries\.json|flueside-backup-[\dT-]+\.zip)\.part$/,
];

/** At start, under the lock: nothing half made stays, above all no copy of the records that no list shows. */
export function tidyDataFolder(dataFolder: string): void {
  clearWork(dataFolder);
  tidyKept(dataFolder);
  for (const name of namesIn(dataFolder)) if (leftovers.some((pattern) => pattern.test(name))) removeQuietly(join(dataFolder, name));
}
