import type { z } from 'zod';
import { err, ok, type Result } from '../../shared/result.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { attempt } from './attempt.ts';
import type { Database } from './database.ts';
import { fold, searchClause } from './search.ts';
import { storeTexts } from '../../shared/words/host.ts';
import { whenDefined } from '../../shared/defined.ts';

export type Stored<T> = {
  readonly id: string;
  readonly revision: number;
  readonly changedMs: number;
  readonly body: T;
  /** it is signed, and no longer what was signed */
  readonly altered?: boolean;
};

/** Documents of a kind that is signed: the store refuses to change or remove them, whoever asks. */
export type Seal<T> = { readonly isSigned: (body: T) => boolean; readonly isAltered: (body: T) => boolean; readonly refusal: Problem };

export type Documents<T> = {
  get(id: string): Result<Stored<T>, Problem>;
  list(query?: {
    search?: string | undefined;
    parentId?: string | undefined;
    limit?: number;
    offset?: number;
  }): Result<{ rows: Stored<T>[]; unreadable: number }, Problem>;
  count(): Result<number, Problem>;
  /** @param revision the one that was read; another one in between is a 'changed-elsewhere'. Absent: new, or overwrite whatever is there. */
  save(
    id: string,
    body: T,
    at: { wallMs: number; parentId?: string | undefined; revision?: number | undefined },
  ): Result<Stored<T>, Problem>;
  remove(id: string): Result<undefined, Problem>;
};

/** One kind of document: checked by its schema on the way in and out. A body that no longer fits is reported, never dropped. */
export function documents<T>(
  db: Database,
  kind: string,
  schema: z.ZodType<T>,
  searchText: (body: T) => string,
  seal?: Seal<T>,
): Documents<T> {
  const read = (row: Record<string, unknown>): Result<Stored<T>, Problem> => {
    const body = parseJson(String(row['body']));
    const checked = schema.safeParse(body);
    if (!checked.success) return err(problem('store-damaged', storeTexts.unreadable(kind, String(row['id']))));
    return ok({
      id: String(row['id']),
      revision: Number(row['revision']),
      changedMs: Number(row['changed_ms']),
      body: checked.data,
      ...(seal?.isAltered(checked.data) === true ? { altered: true } : {}),
    });
  };
  /** asked inside the transaction that would change it */
  const isLocked = (row: Record<string, unknown> | undefined): boolean => {
    if (seal === undefined || row === undefined) return false;
    const checked = schema.safeParse(parseJson(String(row['body'])));
    return checked.success && seal.isSigned(checked.data);
  };
  return {
    get(id) {
      const row = attempt(() => db.one('SELECT * FROM document WHERE kind = ? AND id = ?', kind, id));
      if (!row.ok) return row;
      return row.value === undefined ? err(problem('not-found')) : read(row.value);
    },
    list({ search = '', parentId, limit = 200, offset = 0 } = {}) {
      const clause = searchClause(search, 'search');
      const rows = attempt(() =>
        db.all(
          `SELECT * FROM document WHERE kind = ? AND ${clause.sql} ${parentId === undefined ? '' : 'AND parent_id = ?'} ORDER BY changed_ms DESC, id DESC LIMIT ? OFFSET ?`,
          kind,
          ...clause.values,
          ...whenDefined(parentId),
          limit,
          offset,
        ),
      );
      if (!rows.ok) return rows;
      const read_ = rows.value.map(read);
      const good = read_.flatMap((row) => (row.ok ? [row.value] : []));
      return ok({ rows: good, unreadable: read_.length - good.length });
    },
    count: () => attempt(() => Number(db.one('SELECT count(*) AS n FROM document WHERE kind = ?', kind)?.['n'] ?? 0)),
    save(id, body, { wallMs, parentId, revision }) {
      const checked = schema.safeParse(body);
      if (!checked.success) return err(problem('request-invalid', checked.error.issues[0]?.message));
      const saved = attempt(() =>
        db.inTransaction((): Result<Stored<T>, Problem> => {
          const row = db.one('SELECT revision, body FROM document WHERE kind = ? AND id = ?', kind, id);
          if (seal !== undefined && isLocked(row)) return err(seal.refusal);
          const now = Number(row?.['revision'] ?? 0);
          if (revision !== undefined && revision !== now) return err(problem('changed-elsewhere'));
          db.run(
            'INSERT OR REPLACE INTO document (kind, id, parent_id, changed_ms, revision, search, body) VALUES (?, ?, ?, ?, ?, ?, ?)',
            kind,
            id,
            parentId ?? null,
            wallMs,
            now + 1,
            fold(searchText(checked.data)),
            JSON.stringify(checked.data),
          );
          return ok({ id, revision: now + 1, changedMs: wallMs, body: checked.data });
        }),
      );
      return saved.ok ? saved.value : saved;
    },
    remove(id) {
      const done = attempt(() =>
        db.inTransaction((): Result<undefined, Problem> => {
          if (seal !== undefined && isLocked(db.one('SELECT body FROM document WHERE kind = ? AND id = ?', kind, id)))
            return err(seal.refusal);
          db.run('DELETE FROM document WHERE kind = ? AND id = ?', kind, id);
          return ok(undefined);
        }),
      );
      return done.ok ? done.value : done;
    },
  };
}

export function parseJson(text: string): unknown {
  try {
    return JSON.parse(text) as unknown;
  } catch {
    return undefined;
  }
}
