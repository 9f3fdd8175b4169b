/**
 * The only file that knows which SQLite we use. Everything else sees this small interface, so that another engine is a change of one file.
 * It is loaded lazily: its native part is heavy, and commands such as `compute` never need it.
 */
import { createRequire } from 'node:module';
import { Worker } from 'node:worker_threads';
import type * as Sqlite from '@photostructure/sqlite';

export type Row = Record<string, unknown>;
type Value = string | number | null;

export interface Database {
  run(sql: string, ...values: readonly Value[]): void;
  one(sql: string, ...values: readonly Value[]): Row | undefined;
  all(sql: string, ...values: readonly Value[]): Row[];
  exec(sql: string): void;
  /** All or nothing; nested calls join the outer one. */
  inTransaction<T>(work: () => T): T;
  /** The same with pauses inside: whoever calls it keeps everybody else away from these records meanwhile. */
  inLongTransaction<T>(work: () => Promise<T>): Promise<T>;
  /** Writes the file anew without what was deleted, in another thread. @returns false when a reader held the journal back @throws as `copyTo` */
  writeAnew(): Promise<boolean>;
  /** A whole, compact copy while the records stay in use, made by another thread. @throws what the disk throws */
  copyTo(path: string): Promise<void>;
  /** the file's handles are closed when this returns */
  close(): void;
}

const ENGINE = '@photostructure/sqlite';

export function openDatabase(path: string): Database {
  // the bundle is ESM, the package CommonJS with a native part: it stays outside the bundle
  const { DatabaseSync } = createRequire(import.meta.url)(ENGINE) as typeof Sqlite;
  // defensive: a hostile file cannot have its own schema rewritten through us; words in double quotes are never taken for text
  const engine = new DatabaseSync(path, { timeout: 2000, enableForeignKeyConstraints: true, defensive: true });
  const prepared = new Map<string, Sqlite.StatementSyncInstance>();
  const statement = (sql: string) => {
    let found = prepared.get(sql);
    if (found === undefined) {
      found = engine.prepare(sql);
      prepared.set(sql, found);
    }
    return found;
  };
  let depth = 0;
  const begin = (): void => {
    engine.exec('BEGIN IMMEDIATE');
    depth = 1;
  };
  const undone = (failure: unknown): unknown => {
    try {
      engine.exec('ROLLBACK');
    } catch {
      // SQLite has rolled back by itself (disk full, input/output error), or the records were closed, which does the same
    }
    return failure;
  };
  return {
    run: (sql, ...values) => void statement(sql).run(...values),
    one: (sql, ...values) => statement(sql).get(...values) as Row | undefined,
    all: (sql, ...values) => statement(sql).all(...values) as Row[],
    exec: (sql) => void engine.exec(sql),
    inTransaction(work) {
      if (depth > 0) return work();
      begin();
      try {
        const result = work();
        engine.exec('COMMIT');
        return result;
      } catch (failure) {
        throw undone(failure);
      } finally {
        depth = 0;
      }
    },
    async inLongTransaction(work) {
      begin();
      try {
        const result = await work();
        engine.exec('COMMIT');
        return result;
      } catch (failure) {
        throw undone(failure);
      } finally {
        depth = 0;
      }
    },
    writeAnew: () => inThread(path),
    copyTo: async (target) => void (await inThread(path, target)),
    close() {
      prepared.clear();
      if (engine.isOpen) engine.close();
    },
  };
}

/**
 * `VACUUM` and `VACUUM INTO` read everything in one call, and a run that is being captured must not wait for it. They write only what is in
 * use: nothing that was deleted gets into the copy. The program of the thread is so short that it needs no file of its own.
 */
const VACUUM_PROGRAM = `
const { parentPort, workerData } = require('node:worker_threads');
const { DatabaseSync } = require(workerData.engine);
const db = new DatabaseSync(workerData.from, { timeout: 5000 });
let said;
try {
  db.exec("PRAGMA trusted_schema = OFF");
  if (workerData.to === undefined) db.exec('VACUUM');
  else db.prepare('VACUUM INTO ?').run(workerData.to);
  said = { isEmptied: workerData.to !== undefined || db.prepare('PRAGMA wal_checkpoint(TRUNCATE)').get().busy === 0 };
} catch (failure) {
  said = { sqliteCodeName: failure.sqliteCodeName, code: failure.code, message: String(failure.message) };
}
// whoever hears that it is done may close, rename or copy the file: nothing of it is open here then
db.close();
parentPort.postMessage(said);
`;

function inThread(from: string, to?: string): Promise<boolean> {
  return new Promise((resolve, reject) => {
    const engine = createRequire(import.meta.url).resolve(ENGINE);
    const worker = new Worker(VACUUM_PROGRAM, { eval: true, workerData: { engine, from, to } });
    worker.once('message', (said: { message?: string; isEmptied?: boolean }) => {
      if (said.message === undefined) resolve(said.isEmptied === true);
      else reject(Object.assign(new Error(said.message), said));
    });
    worker.once('error', reject);
    worker.once('exit', () => reject(new Error('The thread ended before it was done.')));
  });
}
