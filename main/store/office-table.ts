/** What the store knows of an office: what still has to go there, what came from there, what a person has to look at. */
import type { ItemKind, Tombstone } from '../../shared/office/item.ts';
import type { Result } from '../../shared/result.ts';
import type { Problem } from '../../shared/problem.ts';
import { attempt } from './attempt.ts';
import type { Database } from './database.ts';
import { inOneStep } from './one-step.ts';

export type Queued = { readonly n: number; readonly kind: ItemKind; readonly id: string };
export type KnownItem = { readonly hash: string; readonly bodyHash: string };
export type Removal = Tombstone & { readonly applianceId: string };
export type ConflictRow = { key: string; kind: string; id: string; foundMs: number; hash: string | undefined; body: string };

export type OfficeTable = {
  /** the next that wait behind `after`, the longest waiting first */
  queued(after: number, limit: number): Queued[];
  count(): { queued: number; conflicts: number };
  /** It was sent as it was when this row was read; changed since, it waits under another number. */
  sent(row: Queued): void;
  /** nothing of it has to be sent: it is as it came */
  notQueued(kind: ItemKind, id: string): void;
  isKnown(kind: ItemKind, id: string, hash: string): boolean;
  /** states of it that were current here, the oldest first; those too that were sent without an answer */
  ours(kind: ItemKind, id: string): KnownItem[];
  /** It is about to be sent: whether it arrived is not known before the office's word, and never if that is lost. */
  sending(item: { kind: ItemKind; id: string; hash: string; bodyHash: string }): void;
  /** @param isOurs it is, or was, what is here; else it was only seen */
  know(item: { kind: ItemKind; id: string; hash: string; bodyHash?: string; number?: number | undefined }, isOurs: boolean): void;
  /** the number that a visit has where it was signed */
  numberOf(visitId: string): number | undefined;
  removals(applianceId: string): Removal[];
  addRemoval(removal: Removal): void;
  conflicts(): ConflictRow[];
  addConflict(row: ConflictRow): void;
  removeConflict(key: string): void;
  /** @param hashes only those with one of these states; all of it when left out */
  removeConflictsOf(kind: string, id: string, hashes?: readonly string[]): void;
  mark(name: string): string | undefined;
  setMark(name: string, value: string): void;
  /** Another office: nothing is known there, everything is sent anew. What a person has to decide stays. */
  forget(): void;
  queueAll(): void;
  inOneStep<T>(work: () => Result<T, Problem>): Result<T, Problem>;
  attempt<T>(work: () => T): Result<T, Problem>;
};

/** in the column `is_ours`: ours, and perhaps in the office */
const SENDING = 2;

export function createOfficeTable(db: Database): OfficeTable {
  const text = (value: unknown): string => String(value);
  return {
    queued: (after, limit) =>
      db
        .all('SELECT n, kind, id FROM office_queue WHERE n > ? ORDER BY n LIMIT ?', after, limit)
        .map((row) => ({ n: Number(row['n']), kind: row['kind'] as ItemKind, id: text(row['id']) })),
    count: () => ({
      queued: Number(db.one('SELECT count(*) AS n FROM office_queue')?.['n'] ?? 0),
      conflicts: Number(db.one('SELECT count(*) AS n FROM office_conflict')?.['n'] ?? 0),
    }),
    sent: ({ n }) => db.run('DELETE FROM office_queue WHERE n = ?', n),
    notQueued: (kind, id) => db.run('DELETE FROM office_queue WHERE kind = ? AND id = ?', kind, id),
    isKnown: (kind, id, hash) =>
      db.one(
        'SELECT 1 AS yes FROM office_item WHERE kind = ? AND id = ? AND hash >= ? AND hash < ? AND is_ours <> ?',
        kind,
        id,
        hash,
        `${hash}g`,
        SENDING,
      ) !== undefined,
    ours: (kind, id) =>
      db
        .all('SELECT hash, body_hash FROM office_item WHERE kind = ? AND id = ? AND is_ours > 0 ORDER BY n', kind, id)
        .map((row) => ({ hash: text(row['hash']), bodyHash: text(row['body_hash']) })),
    sending: ({ kind, id, hash, bodyHash }) =>
      db.run(
        'INSERT OR IGNORE INTO office_item (kind, id, hash, body_hash, is_ours) VALUES (?, ?, ?, ?, ?)',
        kind,
        id,
        hash,
        bodyHash,
        SENDING,
      ),
    know: ({ kind, id, hash, bodyHash = '', number }, isOurs) =>
      db.run(
        'INSERT OR REPLACE INTO office_item (kind, id, hash, body_hash, is_ours, number) VALUES (?, ?, ?, ?, ?, ?)',
        kind,
        id,
        hash,
        bodyHash,
        isOurs ? 1 : 0,
        number ?? null,
      ),
    numberOf: (visitId) => {
      const number = db.one(
        "SELECT number FROM office_item WHERE kind = 'visit' AND id = ? AND number IS NOT NULL ORDER BY n LIMIT 1",
        visitId,
      )?.['number'];
      return number === undefined ? undefined : Number(number);
    },
    removals: (applianceId) =>
      db.all('SELECT wall_ms, by, deleted FROM office_removal WHERE appliance_id = ? ORDER BY wall_ms, by', applianceId).map((row) => ({
        applianceId,
        wallMs: Number(row['wall_ms']),
        by: text(row['by']),
        ...(row['deleted'] === 1 && { deleted: true as const }),
      })),
    addRemoval: ({ applianceId, wallMs, by, deleted }) =>
      db.run(
        'INSERT OR IGNORE INTO office_removal (appliance_id, wall_ms, by, deleted) VALUES (?, ?, ?, ?)',
        applianceId,
        wallMs,
        by,
        deleted === true ? 1 : 0,
      ),
    conflicts: () =>
      db.all('SELECT * FROM office_conflict ORDER BY found_ms DESC, key LIMIT 500').map((row) => ({
        key: text(row['key']),
        kind: text(row['kind']),
        id: text(row['id']),
        foundMs: Number(row['found_ms']),
        hash: typeof row['hash'] === 'string' ? row['hash'] : undefined,
        body: text(row['body']),
      })),
    addConflict: ({ key, kind, id, foundMs, hash, body }) =>
      db.run(
        'INSERT OR REPLACE INTO office_conflict (key, kind, id, found_ms, hash, body) VALUES (?, ?, ?, ?, ?, ?)',
        key,
        kind,
        id,
        foundMs,
        hash ?? null,
        body,
      ),
    removeConflict: (key) => db.run('DELETE FROM office_conflict WHERE key = ?', key),
    removeConflictsOf(kind, id, hashes) {
      if (hashes === undefined) db.run('DELETE FROM office_conflict WHERE kind = ? AND id = ?', kind, id);
      for (const hash of hashes ?? []) db.run('DELETE FROM office_conflict WHERE kind = ? AND id = ? AND hash = ?', kind, id, hash);
    },
    mark: (name) => {
      const value = db.one('SELECT value FROM office_mark WHERE name = ?', name)?.['value'];
      return typeof value === 'string' ? value : undefined;
    },
    setMark: (name, value) => db.run('INSERT OR REPLACE INTO office_mark (name, value) VALUES (?, ?)', name, value),
    forget() {
      db.run('DELETE FROM office_item');
      db.run('DELETE FROM office_mark');
    },
    queueAll() {
      db.run("INSERT OR REPLACE INTO office_queue (kind, id) SELECT 'appliance', id FROM appliance ORDER BY changed_ms");
      db.run("INSERT OR REPLACE INTO office_queue (kind, id) SELECT 'visit', id FROM visit WHERE status = 'signed' ORDER BY started_ms");
      db.run(
        "INSERT OR REPLACE INTO office_queue (kind, id) SELECT kind, id FROM document WHERE kind IN ('instrument', 'figures-card', 'knowledge', 'bench-test') ORDER BY changed_ms",
      );
      db.run("INSERT OR REPLACE INTO office_queue (kind, id) SELECT DISTINCT 'tombstone', appliance_id FROM office_removal");
    },
    inOneStep: (work) => inOneStep(db, work),
    attempt: (work) => attempt(work),
  };
}
