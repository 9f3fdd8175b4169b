/**
 * Makes deleted text vanish from the file. Overwriting what is freed is not enough: SQLite leaves pieces behind where it moves rows between
 * pages, and the journal keeps earlier pages. So the file is written anew and the journal emptied.
 */
import { existsSync, statSync, unlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { attempt, problemOf } from './attempt.ts';
import type { Database } from './database.ts';

/** Present while something that was deleted may still be in the file; survives a kill. */
const ERASE_DUE_FILE = 'records.erase-due';
/** Written anew in about 0.2 s, in which the records wait; a bigger file waits until they are closed. */
const AT_ONCE_BYTES = 32 * 2 ** 20;

export type Eraser = {
  /** said before anything is deleted, so that a kill in between is made up for */
  readonly begin: () => void;
  /** @returns false when the file is too big to be written anew while it is in use */
  readonly finish: () => Promise<boolean>;
  /** whatever the size; does nothing when nothing is due */
  readonly makeUp: () => void;
};

export function createEraser(db: Database, { folder, file }: { folder: string; file: string }): Eraser {
  const due = join(folder, ERASE_DUE_FILE);
  const rewrite = (): boolean => {
    const done = attempt(() => {
      db.exec('VACUUM');
      // a second process that reads holds the journal back; then it stays due
      return db.one('PRAGMA wal_checkpoint(TRUNCATE)')?.['busy'] === 0;
    });
    if (!done.ok || !done.value) return false;
    if (existsSync(due)) unlinkSync(due);
    return true;
  };
  return {
    begin: () => void attempt(() => writeFileSync(due, '')),
    async finish() {
      try {
        if (statSync(join(folder, file)).size > AT_ONCE_BYTES || !(await db.writeAnew())) return false;
        if (existsSync(due)) unlinkSync(due);
        return true;
      } catch (failure) {
        if (problemOf(failure) === undefined) throw failure;
        return false;
      }
    },
    makeUp: () => void (existsSync(due) && rewrite()),
  };
}
