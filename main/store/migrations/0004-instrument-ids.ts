import { findInstrument } from '../../../shared/bench/find-instrument.ts';
import { Visit } from '../../../shared/tuning/visit/visit.ts';
import { parseJson } from '../documents.ts';
import type { Migration } from './migration.ts';
import { defined } from '../../../shared/defined.ts';

/**
 * Visits held the typed name of their instrument where its id is now. A name that one instrument has, and no other, becomes its id; else the name
 * stands alone. What is signed stays as it was written to the last letter, and so does what cannot be read.
 */
export const instrumentIds: Migration = {
  version: 4,
  sql: '',
  rewrite(db) {
    const instruments = db
      .all("SELECT id, body FROM document WHERE kind = 'instrument'")
      .map(({ id, body }) => ({ id: String(id), body: parseJson(String(body)) }));
    for (const { id } of db.all("SELECT id FROM visit WHERE status <> 'signed'")) {
      const read = Visit.safeParse(parseJson(String(db.one('SELECT body FROM visit WHERE id = ?', String(id))?.['body'])));
      if (!read.success || read.data.signature !== undefined) continue;
      const found = findInstrument(read.data, instruments);
      const visit: Visit = { ...read.data, ...defined({ instrumentId: found?.id }) };
      db.run('UPDATE visit SET body = ? WHERE id = ?', JSON.stringify(visit), String(id));
    }
  },
};
