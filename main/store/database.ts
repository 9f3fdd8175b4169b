/**
 * The only file that knows which SQLite we use. Everything else sees this small interface, so that another engine is a change of one file.
 * libsql is loaded lazily: its native part is heavy, and commands such as `compute` never need it.
 */
import { createRequire } from 'node:module';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import type Libsql from 'libsql';

export type Row = Record<string, unknown>;
type Value = string | number | null;

export interface Database {
  run(sql: string, ...values: readonly Value[]): void;
  one(sql: string, ...values: readonly Value[]): Row | undefined;
  all(sql: string, ...values: readonly Value[]): Row[];
  exec(sql: string): void;
  /** All or nothing; nested calls join the outer one. */
  inTransaction<T>(work: () => T): T;
  close(): void;
}

export function openDatabase(path: string): Database {
  // the bundle is ESM, the package CommonJS with a native part: it stays outside the bundle
  const Engine = createRequire(import.meta.url)('libsql') as typeof Libsql;
  const engine = new Engine(path);
  const prepared = new Map<string, Libsql.Statement<Value[]>>();
  const statement = (sql: string) => {
    let found = prepared.get(sql);
    if (found === undefined) {
      found = engine.prepare<Value[]>(sql);
      prepared.set(sql, found);
    }
    return found;
  };
  let depth = 0;
  return {
    run: (sql, ...values) => void statement(sql).run(...values),
    one: (sql, ...values) => statement(sql).get(...values) as Row | undefined,
    all: (sql, ...values) => statement(sql).all(...values) as Row[],
    exec: (sql) => void engine.exec(sql),
    inTransaction(work) {
      if (depth > 0) return work();
      engine.exec('BEGIN IMMEDIATE');
      depth = 1;
      try {
        const result = work();
        engine.exec('COMMIT');
        return result;
      } catch (failure) {
        try {
          engine.exec('ROLLBACK');
        } catch {
          // SQLite has rolled back by itself (disk full, input/output error)
        }
        throw failure;
      } finally {
        depth = 0;
      }
    },
    close: () => {
      prepared.clear();
      engine.close();
    },
  };
}

/**
 * libsql keeps the file open after `close()` until its statements have been collected, and Windows does not rename an open file.
 * So the collector is asked to run now; needed only on the rare way to setting a file aside.
 */
export async function releaseHandles(): Promise<void> {
  setFlagsFromString('--expose-gc');
  const collect = runInNewContext('typeof gc === "function" ? gc : undefined') as (() => void) | undefined;
  for (let round = 0; round < 3; round++) {
    collect?.();
    await new Promise((resolve) => setImmediate(resolve));
  }
}
