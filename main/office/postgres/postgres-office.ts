/** An office in PostgreSQL. The server keeps the items and its lists; everything it answers is read as something that anybody might have written. */
import { randomUUID } from 'node:crypto';
import type { FoundAppliance } from '../../../shared/ipc/office-commands.ts';
import { factsOf, itemKinds, removalKey, type ItemKind } from '../../../shared/office/item.ts';
import { problem, type Problem } from '../../../shared/problem.ts';
import { err, ok, type Result } from '../../../shared/result.ts';
import { officeTexts } from '../../../shared/words/host.ts';
import { fold } from '../../store/search.ts';
import { readStored, type Office, type OfficeAbout, type StoredItem, type WrongItem } from '../office.ts';
import { openServer, type Ask, type Server, type ServerChoice } from './connect.ts';
import { LAPTOP_ROLE, officeMigrations, OFFICE_ROLE, OLDEST_SERVER, POSTGRES_VERSION, SCHEMA } from './migrations.ts';

const PAGE = 200;
const CHECK_PAGE = 500;
const MOST_BYTES = 8 * 2 ** 20;

type ItemRow = { seq: string; kind: ItemKind; id: string; hash: Buffer; content: string };
const COLUMNS = 'seq, kind, id, hash, content';

function readRow({ kind, id, hash, content }: ItemRow): { item?: StoredItem; wrong?: WrongItem } {
  const name = { kind, id, hash: hash.toString('hex') };
  const read = readStored(name, content);
  return read.ok ? { item: read.value } : { wrong: { name: `${kind} ${id}`, why: read.error } };
}
const readRows = (rows: readonly ItemRow[]): { items: StoredItem[]; wrong: WrongItem[] } => {
  const read = rows.map(readRow);
  return { items: read.flatMap(({ item }) => item ?? []), wrong: read.flatMap(({ wrong }) => wrong ?? []) };
};

/** Makes or updates the tables, as the owner of the database. */
export async function initPostgresOffice(
  choice: ServerChoice,
  { name, password }: { name: string; password: () => string | undefined },
): Promise<Result<{ id: string; from: number; to: number }, Problem>> {
  const server = openServer(choice, password);
  if (!server.ok) return server;
  try {
    const done = await server.value.inOneStep(async (ask) => {
      if ((await serverVersion(ask)) < OLDEST_SERVER) return problem('office-server-old');
      for (const role of [LAPTOP_ROLE, OFFICE_ROLE]) {
        const [known] = await ask('SELECT 1 FROM pg_roles WHERE rolname = $1', [role]);
        if (known === undefined) await ask(`CREATE ROLE ${role} NOLOGIN`);
      }
      await ask(`CREATE SCHEMA IF NOT EXISTS ${SCHEMA}`);
      const [there] = await ask("SELECT 1 FROM pg_tables WHERE schemaname = $1 AND tablename = 'office'", [SCHEMA]);
      const [made] = there === undefined ? [] : await ask<{ id: string; version: number }>('SELECT id, version FROM office');
      const from = made?.version ?? 0;
      if (from > POSTGRES_VERSION) return problem('office-newer');
      for (const step of officeMigrations.slice(from)) await ask(step.sql);
      const id = made?.id ?? randomUUID();
      if (made === undefined) await ask('INSERT INTO office (id, name, version) VALUES ($1, $2, $3)', [id, name, POSTGRES_VERSION]);
      else await ask('UPDATE office SET version = $1', [POSTGRES_VERSION]);
      await indexSearch(ask);
      return { id, from, to: POSTGRES_VERSION };
    });
    if (!done.ok) return done.error.code === 'office-read-only' ? err(problem('office-read-only', officeTexts.initAsOwner)) : done;
    return 'code' in done.value ? err(done.value) : ok(done.value);
  } finally {
    await server.value.close();
  }
}

const serverVersion = async (ask: Ask): Promise<number> =>
  Number((await ask<{ server_version_num: string }>('SHOW server_version_num'))[0]?.server_version_num ?? 0);

/** Words are found inside of texts by an extension that PostgreSQL ships with; a server without it looks through the whole list. */
async function indexSearch(ask: Ask): Promise<void> {
  const [there] = await ask("SELECT 1 FROM pg_available_extensions WHERE name = 'pg_trgm'");
  if (there === undefined) return;
  await ask(`CREATE EXTENSION IF NOT EXISTS pg_trgm SCHEMA ${SCHEMA}`);
  await ask('CREATE INDEX IF NOT EXISTS listed_by_words ON listed USING gin (search gin_trgm_ops)');
}

/** A user of the server for one laptop, who may insert and read. @returns nothing; the password is the caller's */
export async function addLaptop(
  choice: ServerChoice,
  { laptop, laptopPassword, password }: { laptop: string; laptopPassword: string; password: () => string | undefined },
): Promise<Result<undefined, Problem>> {
  const server = openServer(choice, password);
  if (!server.ok) return server;
  try {
    const done = await server.value.inOneStep(async (ask) => {
      const [made] = await ask<{ sql: string }>(
        `SELECT format('CREATE ROLE %I LOGIN PASSWORD %L IN ROLE ${LAPTOP_ROLE}', $1::text, $2::text) AS sql`,
        [laptop, laptopPassword],
      );
      await ask(made?.sql ?? '');
    });
    return done.ok ? ok(undefined) : done;
  } finally {
    await server.value.close();
  }
}

export function openPostgresOffice(
  choice: ServerChoice,
  { wallMs, password }: { wallMs: () => number; password: () => string | undefined },
): Result<Office, Problem> {
  const opened = openServer(choice, password);
  if (!opened.ok) return opened;
  const server: Server = opened.value;
  let about: OfficeAbout | undefined;

  const look = async (ask: Ask): Promise<OfficeAbout | Problem> => {
    if ((await serverVersion(ask)) < OLDEST_SERVER) return problem('office-server-old');
    const [office] = await ask<{ id: string; name: string; version: number; now: string }>(
      'SELECT id, name, version, (extract(epoch FROM clock_timestamp()) * 1000)::bigint AS now FROM office',
    );
    if (office === undefined) return problem('office-none');
    if (office.version > POSTGRES_VERSION) return problem('office-newer');
    if (office.version < POSTGRES_VERSION) return problem('office-older');
    return { officeId: office.id, name: office.name, clockAheadMs: Number(office.now) - wallMs() };
  };
  /** the version is looked at once for each connection that holds, not with every question */
  const whenReady = async <T>(work: (ask: Ask) => Promise<T>, how: 'use' | 'inOneStep' = 'use'): Promise<Result<T, Problem>> => {
    if (about === undefined) {
      const seen = await server.use(look);
      if (!seen.ok) return seen;
      if ('code' in seen.value) return err(seen.value);
      about = seen.value;
    }
    const done = await server[how](work);
    if (!done.ok) about = undefined;
    return done;
  };

  const insert = async (ask: Ask, items: readonly StoredItem[]): Promise<number> => {
    const facts = items.map((stored) => ({ stored, facts: factsOf(stored.item) }));
    const column = <T>(of: (one: (typeof facts)[number]) => T): T[] => facts.map(of);
    const rows = await ask(
      `INSERT INTO item (kind, id, hash, day, appliance_id, number, wall_ms, changed_ms, removals, content)
       SELECT kind, id, decode(hash, 'hex'), day, appliance_id, number, wall_ms, changed_ms, ARRAY(SELECT jsonb_array_elements_text(removals)), content
       FROM unnest($1::text[], $2::text[], $3::text[], $4::date[], $5::text[], $6::int[], $7::bigint[], $8::bigint[], $9::jsonb[], $10::text[])
         AS given (kind, id, hash, day, appliance_id, number, wall_ms, changed_ms, removals, content)
       ON CONFLICT DO NOTHING RETURNING 1`,
      [
        column(({ stored }) => stored.kind),
        column(({ stored }) => stored.id),
        column(({ stored }) => stored.hash),
        column(({ facts: { wallMs: at } }) => dayOf(at)),
        column(({ facts: { applianceId } }) => applianceId ?? null),
        column(({ facts: { number } }) => number ?? null),
        column(({ facts: { wallMs: at } }) => Math.round(at)),
        column(({ facts: { changedMs } }) => Math.round(changedMs)),
        column(({ stored: { item }, facts: { removals } }) =>
          JSON.stringify(item.kind === 'tombstone' ? [removalKey(item.tombstone)] : removals),
        ),
        column(({ stored }) => stored.text),
      ],
    );
    return rows.length;
  };

  return ok({
    async about() {
      about = undefined;
      const done = await whenReady(() => Promise.resolve(undefined));
      return done.ok && about !== undefined ? ok(about) : done.ok ? err(problem('office-none')) : done;
    },
    count: () =>
      whenReady(async (ask) => {
        const rows = await ask<{ kind: ItemKind; n: string }>('SELECT kind, count(*) AS n FROM item GROUP BY kind');
        const [size] = await ask<{ bytes: string }>(
          "SELECT sum(pg_total_relation_size(inhrelid)) AS bytes FROM pg_inherits WHERE inhparent = 'item'::regclass",
        );
        return { items: Object.fromEntries(rows.map(({ kind, n }) => [kind, Number(n)])), bytes: Number(size?.bytes ?? 0) };
      }),
    put: (items) =>
      whenReady(async (ask) => {
        let added = 0;
        for (const batch of batches(items)) added += await insert(ask, batch);
        return { added, same: items.length - added };
      }, 'inOneStep'),
    next: ({ cursor = '', kinds = itemKinds, isKnown }) =>
      whenReady(async (ask) => {
        const after = Number(cursor) || 0;
        const names = await ask<Omit<ItemRow, 'content'>>(
          'SELECT seq, kind, id, hash FROM item WHERE seq > $1 AND kind = ANY ($2) ORDER BY seq LIMIT $3',
          [after, kinds, PAGE],
        );
        const fresh = names.filter(({ kind, id, hash }) => !isKnown({ kind, id, hash: hash.toString('hex') }));
        const rows =
          fresh.length === 0
            ? []
            : await ask<ItemRow>(`SELECT ${COLUMNS} FROM item WHERE seq = ANY ($1) ORDER BY seq`, [fresh.map(({ seq }) => seq)]);
        return { ...readRows(rows), cursor: String(names.at(-1)?.seq ?? after), hasMore: names.length === PAGE };
      }),
    ofAppliance: (applianceId, visits) =>
      whenReady(async (ask) => {
        const lasting = await ask<ItemRow>(
          `SELECT ${COLUMNS} FROM item WHERE appliance_id = $1 AND day < '1970-01-02' ORDER BY kind = 'tombstone' DESC, seq`,
          [applianceId],
        );
        const done = await ask<ItemRow>(
          `SELECT ${COLUMNS} FROM item WHERE appliance_id = $1 AND kind = 'visit' ORDER BY day DESC, wall_ms DESC LIMIT $2`,
          [applianceId, visits],
        );
        return readRows([...lasting, ...done]);
      }),
    byId: (kind, id) =>
      whenReady(
        async (ask) =>
          readRows(await ask<ItemRow>(`SELECT ${COLUMNS} FROM item WHERE kind = $1 AND id = $2 ORDER BY seq`, [kind, id])).items,
      ),
    search: ({ words, dueBefore, limit }) =>
      whenReady(async (ask) => {
        const terms = fold(words).split(/\s+/).filter(Boolean).slice(0, 8);
        const values: unknown[] = [];
        const value = (one: unknown): string => `$${values.push(one)}`;
        const like = terms.map((term) => `search LIKE ${value(`%${term.replace(/[\\%_]/g, '\\$&')}%`)}`);
        const due = dueBefore === undefined ? [] : [`due < ${value(dueBefore)}`];
        const where = [...like, ...due].join(' AND ') || 'true';
        const shown = 'appliance_id, name, place, owner, serial, due, visits, last_visit_ms';
        const order = dueBefore === undefined ? 'last_visit_ms DESC NULLS LAST' : 'due, last_visit_ms DESC NULLS LAST';
        const most = value(limit);
        const rows = await ask<ListedRow>(`SELECT ${shown} FROM listed WHERE ${where} ORDER BY ${order} LIMIT ${most}`, values);
        const number = terms.length === 1 && /^\d{1,9}$/.test(terms[0] ?? '') ? Number(terms[0]) : undefined;
        const byNumber =
          number === undefined
            ? []
            : await ask<ListedRow>(
                `SELECT ${shown} FROM listed WHERE appliance_id IN (SELECT appliance_id FROM item WHERE number = $1) ORDER BY ${order} LIMIT $2`,
                [number, limit],
              );
        const all = new Map([...byNumber, ...rows].map((row) => [row.appliance_id, row]));
        return [...all.values()].slice(0, limit).map(foundOf);
      }),
    async check(progress) {
      const wrong: WrongItem[] = [];
      let items = 0;
      for (let after = '0'; ;) {
        const from = after;
        const page = await whenReady((ask) =>
          ask<ItemRow>(`SELECT ${COLUMNS} FROM item WHERE seq > $1 ORDER BY seq LIMIT ${CHECK_PAGE}`, [from]),
        );
        if (!page.ok) return page;
        const last = page.value.at(-1);
        if (last === undefined) return ok({ items, wrong });
        const read = readRows(page.value);
        wrong.push(...read.wrong);
        items += read.items.length;
        progress?.(items);
        after = last.seq;
      }
    },
    close: () => server.close(),
  });
}

type ListedRow = {
  appliance_id: string;
  name: string;
  place: string;
  owner: string;
  serial: string;
  due: string | null;
  visits: number;
  last_visit_ms: string | null;
};
const foundOf = (row: ListedRow): FoundAppliance => ({
  applianceId: row.appliance_id,
  name: row.name,
  place: row.place,
  owner: row.owner,
  serial: row.serial,
  visits: row.visits,
  ...(row.due !== null && { due: row.due }),
  ...(row.last_visit_ms !== null && { lastVisitWallMs: Number(row.last_visit_ms) }),
});

/** The day of the work by UTC: the same on every laptop, since it is part of what keeps an item from being stored twice. */
const dayOf = (wallMs: number): string => (wallMs <= 0 ? '1970-01-01' : new Date(Math.max(wallMs, 86_400_000)).toISOString().slice(0, 10));

function* batches(items: readonly StoredItem[]): Generator<StoredItem[]> {
  let batch: StoredItem[] = [];
  let bytes = 0;
  for (const one of items) {
    if (batch.length > 0 && bytes + one.text.length > MOST_BYTES) {
      yield batch;
      [batch, bytes] = [[], 0];
    }
    batch.push(one);
    bytes += one.text.length;
  }
  if (batch.length > 0) yield batch;
}
