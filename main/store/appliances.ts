import { err, ok, type Result } from '../../shared/result.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { Appliance } from '../../shared/tuning/visit/appliance.ts';
import { ApplianceEdit, applianceEdits } from '../../shared/tuning/visit/appliance-edits.ts';
import { VisitSummary, type applianceSorts, type StoredAppliance } from '../../shared/ipc/store-commands.ts';
import { attempt } from './attempt.ts';
import type { Database, Row } from './database.ts';
import { parseJson } from './documents.ts';
import { fold, searchClause } from './search.ts';
import { plainRefusal } from '../../shared/plain-refusal.ts';
import { storeTexts } from '../../shared/words/host.ts';

export type Appliances = {
  list(query: {
    search?: string;
    limit?: number;
    offset?: number;
    sort?: (typeof applianceSorts)[number] | undefined;
    today?: string | undefined;
  }): Result<{ appliances: StoredAppliance[]; total: number; overdue: number }, Problem>;
  get(id: string): Result<StoredAppliance, Problem>;
  /** What was changed of it, the oldest first. Apart from `get`, so that it goes nowhere by accident: it names earlier owners. */
  edits(id: string): Result<ApplianceEdit[], Problem>;
  /** What differs from what is stored is kept in its edits; creating is no edit. */
  save(
    id: string,
    appliance: Appliance,
    wallMs: number,
    how?: { by?: string; revision?: number | undefined },
  ): Result<StoredAppliance, Problem>;
  /** Writes it with these edits in the place of those that are stored: for what is no plain change. */
  put(id: string, appliance: Appliance, edits: readonly ApplianceEdit[], wallMs: number): Result<StoredAppliance, Problem>;
  /** Only when no visit belongs to it. */
  remove(id: string): Result<undefined, Problem>;
  readonly nameOf: (id: string) => string | undefined;
};

// one row that holds no JSON must not make the whole list fail
const DUE = "CASE WHEN json_valid(body) THEN json_extract(body, '$.appliance.nextDue') END";
const orders = {
  changed: 'changed_ms DESC, id DESC',
  due: `${DUE} IS NULL, ${DUE}, search, id`,
  // what is searched begins with the name, in lower case and without accents
  name: 'search, id',
} as const;

export function createAppliances(db: Database): Appliances {
  const columns = `id, body, (SELECT count(*) FROM visit WHERE appliance_id = appliance.id) AS visits, (SELECT max(started_ms) FROM visit WHERE appliance_id = appliance.id) AS last_ms, (SELECT summary FROM visit WHERE appliance_id = appliance.id ORDER BY started_ms DESC LIMIT 1) AS last_summary`;
  const read = (row: Row | undefined): Result<StoredAppliance, Problem> => {
    if (row === undefined) return err(problem('not-found'));
    const wrapped = wrapperOf(row);
    const checked = Appliance.safeParse(wrapped?.appliance);
    if (!checked.success) return err(problem('store-damaged', storeTexts.applianceUnreadable(String(row['id']))));
    const last = VisitSummary.pick({ zoneMinutes: true }).safeParse(
      parseJson(typeof row['last_summary'] === 'string' ? row['last_summary'] : ''),
    );
    return ok({
      id: String(row['id']),
      appliance: checked.data,
      revision: Number(wrapped?.revision ?? 1),
      visits: Number(row['visits'] ?? 0),
      ...(typeof row['last_ms'] === 'number' ? { lastVisitWallMs: row['last_ms'] } : {}),
      ...(last.success && { lastVisitZoneMinutes: last.data.zoneMinutes }),
    });
  };
  const get = (id: string): Result<StoredAppliance, Problem> => {
    const row = attempt(() => db.one(`SELECT ${columns} FROM appliance WHERE id = ?`, id));
    return row.ok ? read(row.value) : row;
  };
  /** `edits` gives those that are to be stored with it; of what cannot be read, the edits stay all the same */
  const write = (
    id: string,
    appliance: Appliance,
    wallMs: number,
    { revision, edits }: { revision?: number | undefined; edits: (stored: unknown[], before: Appliance | undefined) => unknown[] },
  ): Result<StoredAppliance, Problem> => {
    const checked = Appliance.safeParse(appliance);
    if (!checked.success) return err(problem('request-invalid', plainRefusal(checked.error)));
    const saved = attempt(() =>
      db.inTransaction((): Result<undefined, Problem> => {
        const row = db.one(`SELECT ${columns} FROM appliance WHERE id = ?`, id);
        const before = read(row);
        const now = before.ok ? before.value.revision : 0;
        if (revision !== undefined && revision !== now) return err(problem('changed-elsewhere'));
        const { name, place, owner, maker, model, serial } = checked.data;
        const kept = edits(editsIn(row), before.ok ? before.value.appliance : undefined);
        db.run(
          'INSERT OR REPLACE INTO appliance (id, changed_ms, search, body) VALUES (?, ?, ?, ?)',
          id,
          wallMs,
          fold([name, place, owner, maker, model, serial].join(' ')),
          JSON.stringify({ revision: now + 1, appliance: checked.data, ...(kept.length === 0 ? {} : { edits: kept }) }),
        );
        return ok(undefined);
      }),
    );
    if (!saved.ok) return saved;
    return saved.value.ok ? get(id) : saved.value;
  };
  return {
    get,
    edits(id) {
      const row = attempt(() => db.one('SELECT body FROM appliance WHERE id = ?', id));
      if (!row.ok) return row;
      if (row.value === undefined) return err(problem('not-found'));
      return ok(editsIn(row.value).flatMap((edit) => ApplianceEdit.safeParse(edit).data ?? []));
    },
    save(id, appliance, wallMs, { by = 'operator', revision } = {}) {
      const made = { wallMs, by };
      return write(id, appliance, wallMs, {
        revision,
        edits: (stored, before) => [...stored, ...(before === undefined ? [] : applianceEdits(before, appliance, made))],
      });
    },
    put: (id, appliance, edits, wallMs) => write(id, appliance, wallMs, { edits: () => [...edits] }),
    list({ search = '', limit = 100, offset = 0, sort = 'changed', today }) {
      const clause = searchClause(search, 'search');
      const found = attempt(() => ({
        rows: db.all(
          `SELECT ${columns} FROM appliance WHERE ${clause.sql} ORDER BY ${orders[sort]} LIMIT ? OFFSET ?`,
          ...clause.values,
          limit,
          offset,
        ),
        total: Number(db.one(`SELECT count(*) AS n FROM appliance WHERE ${clause.sql}`, ...clause.values)?.['n'] ?? 0),
        overdue:
          today === undefined
            ? 0
            : Number(db.one(`SELECT count(*) AS n FROM appliance WHERE ${clause.sql} AND ${DUE} < ?`, ...clause.values, today)?.['n'] ?? 0),
      }));
      if (!found.ok) return found;
      const { rows, total, overdue } = found.value;
      return ok({ appliances: rows.map(read).flatMap((row) => (row.ok ? [row.value] : [])), total, overdue });
    },
    remove(id) {
      const stored = get(id);
      if (!stored.ok) return stored;
      if (stored.value.visits > 0) return err(problem('has-visits'));
      return attempt(() => {
        db.run('DELETE FROM appliance WHERE id = ?', id);
        return undefined;
      });
    },
    nameOf: (id) => {
      const stored = get(id);
      return stored.ok ? stored.value.appliance.name : undefined;
    },
  };
}

type Wrapper = { revision?: unknown; appliance?: unknown; edits?: unknown };
const wrapperOf = (row: Row): Wrapper | undefined => parseJson(String(row['body'])) as Wrapper | undefined;
/** As they are stored; an appliance of an earlier version has none. */
const editsIn = (row: Row | undefined): unknown[] => {
  const edits = row === undefined ? undefined : wrapperOf(row)?.edits;
  return Array.isArray(edits) ? (edits as unknown[]) : [];
};
