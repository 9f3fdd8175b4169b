import type { Migration } from './migration.ts';

/**
 * What goes to an office and what came from one. The queue is filled by the store itself in the same step as the record, so nothing that is saved can be
 * left out; it holds names only, and goes nowhere unless an office is set.
 */
export const office: Migration = {
  version: 3,
  sql: `
CREATE TABLE office_queue (n INTEGER PRIMARY KEY AUTOINCREMENT, kind TEXT NOT NULL, id TEXT NOT NULL, UNIQUE (kind, id));
CREATE TABLE office_item (n INTEGER PRIMARY KEY AUTOINCREMENT, kind TEXT NOT NULL, id TEXT NOT NULL, hash TEXT NOT NULL, body_hash TEXT NOT NULL, is_ours INTEGER NOT NULL, number INTEGER, UNIQUE (kind, id, hash));
CREATE TABLE office_removal (appliance_id TEXT NOT NULL, wall_ms NUMERIC NOT NULL, by TEXT NOT NULL, deleted INTEGER NOT NULL, PRIMARY KEY (appliance_id, wall_ms, by)) WITHOUT ROWID;
CREATE TABLE office_conflict (key TEXT PRIMARY KEY, kind TEXT NOT NULL, id TEXT NOT NULL, found_ms INTEGER NOT NULL, hash TEXT, body TEXT NOT NULL) WITHOUT ROWID;
CREATE INDEX office_conflict_by_id ON office_conflict (kind, id);
CREATE TABLE office_mark (name TEXT PRIMARY KEY, value TEXT NOT NULL) WITHOUT ROWID;
CREATE TRIGGER office_visit AFTER INSERT ON visit WHEN NEW.status = 'signed'
BEGIN INSERT OR REPLACE INTO office_queue (kind, id) VALUES ('visit', NEW.id); END;
CREATE TRIGGER office_appliance AFTER INSERT ON appliance
BEGIN INSERT OR REPLACE INTO office_queue (kind, id) VALUES ('appliance', NEW.id); END;
CREATE TRIGGER office_appliance_gone AFTER DELETE ON appliance
BEGIN
  DELETE FROM office_queue WHERE kind IN ('appliance', 'knowledge') AND id = OLD.id;
  INSERT OR REPLACE INTO office_queue (kind, id) SELECT 'tombstone', OLD.id WHERE EXISTS (SELECT 1 FROM office_item WHERE kind = 'appliance' AND id = OLD.id);
END;
CREATE TRIGGER office_visit_gone AFTER DELETE ON visit
BEGIN DELETE FROM office_queue WHERE kind = 'visit' AND id = OLD.id; END;
CREATE TRIGGER office_document_gone AFTER DELETE ON document
BEGIN DELETE FROM office_queue WHERE kind = OLD.kind AND id = OLD.id; END;
CREATE TRIGGER office_document AFTER INSERT ON document WHEN NEW.kind IN ('instrument', 'figures-card', 'knowledge', 'bench-test')
BEGIN INSERT OR REPLACE INTO office_queue (kind, id) VALUES (NEW.kind, NEW.id); END;
INSERT INTO office_queue (kind, id) SELECT 'appliance', id FROM appliance ORDER BY changed_ms;
INSERT INTO office_queue (kind, id) SELECT 'visit', id FROM visit WHERE status = 'signed' ORDER BY started_ms;
INSERT INTO office_queue (kind, id) SELECT kind, id FROM document WHERE kind IN ('instrument', 'figures-card', 'knowledge', 'bench-test') ORDER BY changed_ms;
`,
};
