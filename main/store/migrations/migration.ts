import type { Database } from '../database.ts';

/**
 * One step of the schema. Append only: a step that has shipped is never edited. `rewrite` comes after the tables, for what SQL cannot say, in the
 * same transaction.
 */
export type Migration = { readonly version: number; readonly sql: string; readonly rewrite?: (db: Database) => void };
