import type { Migration } from './migration.ts';

/** Instruments, bench tests, reference gases, target cards, warm-up curves, exercises: one shape of table for all of them. */
export const library: Migration = {
  version: 2,
  sql: `
CREATE TABLE document (kind TEXT NOT NULL, id TEXT NOT NULL, parent_id TEXT, changed_ms INTEGER NOT NULL, revision INTEGER NOT NULL, search TEXT NOT NULL, body TEXT NOT NULL, PRIMARY KEY (kind, id)) WITHOUT ROWID;
CREATE INDEX document_by_parent ON document (kind, parent_id, changed_ms);
CREATE INDEX document_by_time ON document (kind, changed_ms);
`,
};
