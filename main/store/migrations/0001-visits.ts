import type { Migration } from './migration.ts';

/** Appliances, visits and what was changed about them. Bodies are JSON documents, checked by schema on the way in and out. */
export const visits: Migration = {
  version: 1,
  sql: `
CREATE TABLE appliance (id TEXT PRIMARY KEY, changed_ms INTEGER NOT NULL, search TEXT NOT NULL, body TEXT NOT NULL) WITHOUT ROWID;
CREATE TABLE visit (id TEXT PRIMARY KEY, number INTEGER NOT NULL UNIQUE, appliance_id TEXT, status TEXT NOT NULL, started_ms INTEGER NOT NULL, changed_ms INTEGER NOT NULL, revision INTEGER NOT NULL, search TEXT NOT NULL, summary TEXT NOT NULL, body TEXT NOT NULL) WITHOUT ROWID;
CREATE INDEX visit_list ON visit (started_ms, search);
CREATE INDEX visit_by_appliance ON visit (appliance_id, started_ms);
CREATE TABLE edit (id TEXT PRIMARY KEY, entity TEXT NOT NULL, entity_id TEXT NOT NULL, wall_ms INTEGER NOT NULL, body TEXT NOT NULL) WITHOUT ROWID;
CREATE INDEX edit_by_entity ON edit (entity, entity_id, wall_ms);
`,
};
