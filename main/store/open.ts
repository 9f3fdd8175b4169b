import { existsSync, mkdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { err, ok, type Result } from '../../shared/result.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { attempt, problemOf } from './attempt.ts';
import { openDatabase, type Database } from './database.ts';
import { createEraser, type Eraser } from './erase.ts';
import { latestVersion, migrations } from './migrations/index.ts';
import { onlyForOwner, syncFile, syncFolder } from './files.ts';
import { peek, type Peeked } from './peek.ts';
import { storeTexts } from '../../shared/words/host.ts';

export const RECORDS_FILE = 'records.db';
/** 'FLUE': marks the file as ours, so that another program's database is never taken for it. */
export const APPLICATION_ID = 0x464c5545;
/** Present while the records are open; left behind by a kill, and then the file is checked thoroughly. */
export const IN_USE_FILE = 'records.in-use';

export type OpenRecords = {
  readonly db: Database;
  /** what the person has to be told: a damaged or foreign file was set aside, and under which name */
  readonly notices: readonly Problem[];
  /** around everything that has to be gone from the file */
  readonly eraser: Eraser;
  readonly close: () => void;
};

export type OpenOptions = {
  readonly folder: string;
  readonly wallMs: number;
  /** a second process that only looks (a report on the command line): leaves the mark of the first alone */
  readonly guest?: boolean;
};

/**
 * Opens the records, or says why not. A damaged or foreign file is set aside (its handle closed first) and a fresh one is begun;
 * an older one is copied, then migrated; a newer one is refused untouched.
 */
export const openRecords = (options: OpenOptions): Promise<Result<OpenRecords, Problem>> =>
  new Promise((resolve) => resolve(openNow(options)));

function openNow({ folder, wallMs, guest = false }: OpenOptions): Result<OpenRecords, Problem> {
  const path = join(folder, RECORDS_FILE);
  const notices: Problem[] = [];
  try {
    mkdirSync(folder, { recursive: true, mode: 0o700 });
  } catch (failure) {
    return err(problem('store-read-only', String((failure as Error).message)));
  }
  const endedBadly = existsSync(join(folder, IN_USE_FILE));
  // the mark is set only once the records are made, so beside it an empty file has lost them
  const seen = attempt(() => peek(path).kind);
  if (endedBadly && !guest && seen.ok && isEmpty(seen.value)) notices.push(problem('store-gone'));
  for (let round = 0; round < 2; round++) {
    const opened = tryOpen(path, { wallMs, thorough: endedBadly || round > 0 });
    if (opened.ok) {
      const marked = guest ? ok(undefined) : markInUse(folder);
      if (!marked.ok) {
        opened.value.close();
        return marked;
      }
      const eraser = createEraser(opened.value, { folder, file: RECORDS_FILE });
      if (!guest) eraser.makeUp();
      return ok({
        db: opened.value,
        notices,
        eraser,
        close() {
          if (!guest) eraser.makeUp();
          // one tidy file is left, so that a copy of it alone is whole
          attempt(() => opened.value.exec('PRAGMA wal_checkpoint(TRUNCATE)'));
          opened.value.close();
          if (!guest) rmSync(join(folder, IN_USE_FILE), { force: true });
        },
      });
    }
    const { code } = opened.error;
    if (guest || (code !== 'store-damaged' && code !== 'store-foreign')) return err(opened.error);
    const aside = setAside(path, wallMs);
    if (!aside.ok) return aside;
    notices.push(problem(code, `It is kept as ${aside.value}.`));
  }
  return err(problem('store-damaged'));
}

/** A folder that was made read-only since may still be read by the engine. */
function markInUse(folder: string): Result<undefined, Problem> {
  try {
    writeFileSync(join(folder, IN_USE_FILE), '', { mode: 0o600 });
    return ok(undefined);
  } catch (failure) {
    return err(problemOf(failure) ?? problem('store-read-only', String((failure as Error).message)));
  }
}

const isEmpty = (kind: Peeked['kind']): boolean => kind === 'none' || kind === 'empty';

type TryOptions = { wallMs: number; thorough: boolean; setsCopyAside?: boolean };
function tryOpen(path: string, { wallMs, thorough, setsCopyAside = true }: TryOptions): Result<Database, Problem> {
  let db: Database | undefined;
  try {
    const seen = peek(path);
    if (seen.kind === 'no-database' || (seen.kind === 'database' && seen.owner !== APPLICATION_ID)) return err(problem('store-foreign'));
    if (seen.kind === 'database' && seen.version > latestVersion) return err(newer(seen.version));
    // made before the engine makes it, so that nobody else can read it or the journal beside it for a moment
    if (seen.kind === 'none') writeFileSync(path, '', { mode: 0o600 });
    else for (const tail of ['', '-wal', '-shm']) onlyForOwner(path + tail);
    db = openDatabase(path);
    const opened = db;
    opened.exec('PRAGMA trusted_schema = OFF; PRAGMA secure_delete = ON;');
    const tables = opened.one('SELECT count(*) AS n FROM sqlite_schema')?.['n'];
    const version = Number(opened.one('PRAGMA user_version')?.['user_version'] ?? 0);
    const owner = Number(opened.one('PRAGMA application_id')?.['application_id'] ?? 0);
    const isNew = tables === 0 && version === 0 && owner === 0;
    const refusal = isNew ? undefined : inspect(opened, { version, owner, thorough });
    if (refusal !== undefined) {
      opened.close();
      return err(refusal);
    }
    opened.exec('PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL;');
    const migrated = migrate(opened, { version, path, wallMs, setsCopyAside });
    if (!migrated.ok) {
      opened.close();
      return migrated;
    }
    return ok(opened);
  } catch (failure) {
    db?.close();
    const known = problemOf(failure);
    if (known === undefined) throw failure;
    return err(known);
  }
}

const newer = (version: number): Problem => problem('store-newer', storeTexts.otherVersion(version, latestVersion));

function inspect(db: Database, { version, owner, thorough }: { version: number; owner: number; thorough: boolean }): Problem | undefined {
  if (owner !== APPLICATION_ID) return problem('store-foreign');
  if (version > latestVersion) return newer(version);
  if (version < 1 || schemaOf(db) !== expectedSchema(version)) return problem('store-damaged', storeTexts.otherTables);
  if (thorough) {
    const report = db.all('PRAGMA quick_check(5)').map((row) => String(Object.values(row)[0]));
    if (report[0] !== 'ok') return problem('store-damaged', report.join('; ').slice(0, 400));
  }
  return undefined;
}

/**
 * Every table, index, view and trigger as SQLite keeps it. Only what SQLite makes by itself is left out: indexes and statistics, known by its
 * own prefix to the letter (`LIKE` would take `_` for any sign). Views and triggers are never left out, whatever they are called.
 */
const schemaOf = (db: Database): string =>
  db
    .all(
      "SELECT type || ' ' || name || ' ' || coalesce(sql, '') AS line FROM sqlite_schema WHERE type IN ('trigger', 'view') OR substr(name, 1, 7) <> 'sqlite_' ORDER BY type, name",
    )
    .map((row) => String(row['line']))
    .join('\n');

const expected = new Map<number, string>();
function expectedSchema(version: number): string {
  let schema = expected.get(version);
  if (schema === undefined) {
    const scratch = openDatabase(':memory:');
    for (const step of migrations.slice(0, version)) scratch.exec(step.sql);
    schema = schemaOf(scratch);
    scratch.close();
    expected.set(version, schema);
  }
  return schema;
}

type MigrateOptions = { version: number; path: string; wallMs: number; setsCopyAside: boolean };
function migrate(db: Database, { version, path, wallMs, setsCopyAside }: MigrateOptions): Result<undefined, Problem> {
  if (version === latestVersion) return ok(undefined);
  return attempt(() => {
    if (version > 0 && setsCopyAside) {
      // the copy is whole and checkpointed, unlike a copy of the file beside a live WAL
      const copy = `${path.replace(/\.db$/, '')}-version-${version}-${stamp(wallMs)}.db`;
      if (!existsSync(copy)) {
        // half a copy never bears the name of a whole one
        db.exec(`VACUUM INTO '${`${copy}.part`.replace(/'/g, "''")}'`);
        onlyForOwner(`${copy}.part`);
        syncFile(`${copy}.part`);
        renameSync(`${copy}.part`, copy);
        syncFolder(dirname(copy));
      }
    }
    db.inTransaction(() => {
      for (const step of migrations.slice(version)) {
        db.exec(step.sql);
        step.rewrite?.(db);
      }
      db.exec(`PRAGMA application_id = ${APPLICATION_ID}; PRAGMA user_version = ${latestVersion};`);
    });
    return undefined;
  });
}

/** Moves the file and its journal out of the way; nothing is ever overwritten. @returns the new name */
function setAside(path: string, wallMs: number): Result<string, Problem> {
  let name = `${path}.set-aside-${stamp(wallMs)}`;
  for (let n = 2; existsSync(name); n++) name = `${path}.set-aside-${stamp(wallMs)}-${n}`;
  try {
    renameSync(path, name);
    for (const tail of ['-wal', '-shm']) if (existsSync(path + tail)) renameSync(path + tail, name + tail);
    return ok(name.slice(name.lastIndexOf(RECORDS_FILE)));
  } catch (failure) {
    return err(problem('store-read-only', String((failure as Error).message)));
  }
}

/**
 * Looks through a records file that comes from elsewhere and brings it up to date in place. It is closed again when this returns.
 *
 * @returns why it is no file of records that this Flueside can use
 */
export function checkRecordsFile(path: string, wallMs: number): Result<undefined, Problem> {
  const seen = attempt(() => peek(path));
  if (!seen.ok) return seen;
  if (isEmpty(seen.value.kind)) return err(problem('file-damaged', storeTexts.noRecords));
  const opened = tryOpen(path, { wallMs, thorough: true, setsCopyAside: false });
  if (!opened.ok) return err(asFileProblem(opened.error));
  // the last to close it takes its journal in
  opened.value.close();
  return ok(undefined);
}

/** What is wrong with a file that was handed in is not wrong with the records that are here. */
function asFileProblem({ code, detail }: Problem): Problem {
  const codes: Partial<Record<Problem['code'], Problem['code']>> = {
    'store-damaged': 'file-damaged',
    'store-foreign': 'file-foreign',
    'store-newer': 'file-newer',
  };
  return problem(codes[code] ?? code, detail);
}

/** Time for a file name: no ':' (Windows). */
export const stamp = (wallMs: number): string => new Date(wallMs).toISOString().replace(/[:.]/g, '-');
