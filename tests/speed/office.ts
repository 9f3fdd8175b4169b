/**
 * An office with a million visits in PostgreSQL: search, one appliance's history, sending. The million is made by the server itself and is small (each about
 * 1 kB); the visits that are sent, and those of the appliances whose history is read, are of full size as well.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import { initPostgresOffice, openPostgresOffice } from '../../main/office/postgres/postgres-office.ts';
import type { Office } from '../../main/office/office.ts';
import { meet, push, type SyncStore } from '../../main/office/sync.ts';
import { openRecords } from '../../main/store/open.ts';
import { storeTables } from '../../main/store/tables.ts';
import { visitHash } from '../../main/store/visits.ts';
import type { Problem } from '../../shared/problem.ts';
import type { Result } from '../../shared/result.ts';
import type { Visit } from '../../shared/tuning/visit/visit.ts';
import { fullVisit } from '../helpers/visits/full-visit.ts';
import { applianceItem, boiler, MAY_3, signedVisit, visitItem } from '../helpers/visits/office-items.ts';
import { noPostgres, startPostgres } from '../helpers/host/postgres.ts';

const VISITS = 1_000_000;
const APPLIANCES = 200_000;
const PUSHED = 1000;
const ROUNDS = 25;
const DAY_MS = 86_400_000;

type Report = (name: string, value: number, unit: string, note?: string) => void;
const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0;
const must = <T>(result: Result<T, Problem>): T => {
  if (!result.ok) throw new Error(`${result.error.code} ${result.error.detail ?? ''}`);
  return result.value;
};

export async function speedOffice(report: Report): Promise<void> {
  if (noPostgres !== undefined) return console.log(`  skipped, ${noPostgres}`);
  const server = await startPostgres({ safe: true });
  const root = mkdtempSync(join(tmpdir(), 'flueside-speed-office-'));
  const password = (): string => server.ownerPassword;
  let office: Office | undefined;
  try {
    must(await initPostgresOffice(server.owner, { name: 'Workshop', password }));
    const { host, port, database, user } = server.owner;
    const client = new pg.Client({
      host,
      port,
      database,
      user,
      password: server.ownerPassword,
      ssl: { rejectUnauthorized: false },
      options: '-c search_path=flueside,public',
    });
    // what goes wrong is said by the question that was asked
    client.on('error', () => undefined);
    await client.connect();
    const from = performance.now();
    await fill(client);
    report(
      'making the visits in the server',
      (performance.now() - from) / 1000,
      's',
      `${VISITS.toLocaleString('en')} visits, ${APPLIANCES.toLocaleString('en')} appliances`,
    );
    office = must(openPostgresOffice(server.owner, { wallMs: () => Date.now(), password }));
    const asked = office;
    must(await asked.about());

    const searches: [string, (n: number) => Parameters<Office['search']>[0]][] = [
      ['place and house number', (n) => ({ words: `Lane${(n * 37) % 900} ${n}`, limit: 50 })],
      ['owner', (n) => ({ words: `owner${(n * 7919) % APPLIANCES}`, limit: 50 })],
      ['a word that many have', () => ({ words: 'boiler', limit: 50 })],
      ['number of a visit', (n) => ({ words: String((n * 104_729) % VISITS), limit: 50 })],
      ['due before a day', (n) => ({ words: '', dueBefore: `2027-01-${String(10 + (n % 20))}`, limit: 50 })],
      ['place and due', (n) => ({ words: `Lane${n}`, dueBefore: '2027-06-01', limit: 50 })],
    ];
    for (const [name, query] of searches) {
      const times: number[] = [];
      let found = 0;
      for (let n = 1; n <= ROUNDS; n++) {
        const start = performance.now();
        found += must(await asked.search(query(n))).length;
        times.push(performance.now() - start);
      }
      if (found === 0) throw new Error(`nothing was found by ${name}`);
      report(`search: ${name}`, median(times), 'ms', `worst ${Math.max(...times).toFixed(0)}; goal: at most 100`);
    }

    const full = fullSize();
    const fullBytes = Buffer.byteLength(JSON.stringify(full));
    for (let unit = 0; unit < 5; unit++)
      must(
        await asked.put(
          Array.from({ length: 10 }, (_, n) =>
            visitItem(signedLike(full, { id: `full-${unit}-${n}`, number: n + 1, applianceId: `unit-${unit}` })),
          ),
        ),
      );
    for (const [name, unitOf] of [
      ['an appliance', (n: number) => `unit-${(n * 7919) % APPLIANCES}`],
      ['an appliance with ten visits of full size', (n: number) => `unit-${n % 5}`],
    ] as const) {
      const times: number[] = [];
      for (let n = 1; n <= ROUNDS; n++) {
        const start = performance.now();
        // the server cannot sign: visits that it made are read and hashed whole, and then named as wrong
        const { items, wrong } = must(await asked.ofAppliance(unitOf(n), 10));
        if (items.length + wrong.length < 2) throw new Error('no history');
        times.push(performance.now() - start);
      }
      report(`history of ${name}`, median(times), 'ms', `worst ${Math.max(...times).toFixed(0)}; goal: at most 50`);
    }

    for (const [name, make] of [
      ['small', (n: number, round: number) => signedVisit(`push-${round}-${n}`, { n: n + 1, applianceId: `unit-${n}` })],
      [
        'of full size',
        (n: number, round: number) => signedLike(full, { id: `push-full-${round}-${n}`, number: n + 1, applianceId: `unit-${n}` }),
      ],
    ] as const) {
      const times: number[] = [];
      for (let round = 0; round < 3; round++) times.push(await timePush(join(root, `${name}-${round}`), asked, (n) => make(n, round)));
      const note = name === 'small' ? '' : `${Math.round(fullBytes / 1000)} kB each; `;
      report(`sending ${PUSHED} visits ${name}`, median(times) / 1000, 's', `${note}goal: at most 20`);
    }

    const sizes = await client.query<{ rows: string; tables: string; indexes: string; words: string }>(
      `SELECT (SELECT count(*) FROM item) AS rows,
        (SELECT sum(pg_table_size(inhrelid)) FROM pg_inherits WHERE inhparent = 'item'::regclass) AS tables,
        (SELECT sum(pg_indexes_size(inhrelid)) FROM pg_inherits WHERE inhparent = 'item'::regclass) AS indexes,
        pg_total_relation_size('listed') AS words`,
    );
    const [size] = sizes.rows;
    report('items', Number(size?.rows), '');
    report('their texts', Number(size?.tables) / 1e6, 'MB');
    report('their indexes', Number(size?.indexes) / 1e6, 'MB');
    report('the list that is searched, with its indexes', Number(size?.words) / 1e6, 'MB');
    await client.end();
  } finally {
    await office?.close();
    await server.stop();
    rmSync(root, { recursive: true, force: true });
  }
}

/** All at once and without the triggers, which would do row by row what is done here in one go. */
async function fill(client: pg.Client): Promise<void> {
  await client.query('ALTER TABLE item DISABLE TRIGGER item_listed');
  await client.query('ALTER TABLE item DISABLE TRIGGER item_not_removed');
  const appliance = applianceItem(
    'unit-@',
    boiler({ name: 'Boiler @', place: '@ Lane#, Town', owner: 'owner@', nextDue: '2027-01-01' }),
  ).text;
  await client.query(
    `INSERT INTO item (kind, id, hash, day, appliance_id, wall_ms, changed_ms, removals, content)
     SELECT 'appliance', 'unit-' || n, sha256(convert_to(said, 'UTF8')), '1970-01-01', 'unit-' || n, 0, 0, '{}', said
     FROM generate_series(0, $1::int - 1) AS n,
       LATERAL (SELECT replace(replace(replace($2::text, '@', n::text), '#', (n % 900)::text), '2027-01-01', to_char(date '2026-06-01' + n % 700, 'YYYY-MM-DD')) AS said) AS made`,
    [APPLIANCES, appliance],
  );
  const first = signedVisit('visit-@', { applianceId: 'unit-#' });
  const visit = visitItem({ ...first, number: 1_234_567 })
    .text.replaceAll(String(first.startedWallMs), '$')
    .replace('1234567', '%');
  const years = 6;
  await client.query(
    `INSERT INTO item (kind, id, hash, day, appliance_id, number, wall_ms, changed_ms, removals, content)
     SELECT 'visit', 'visit-' || n, sha256(convert_to(said, 'UTF8')), (to_timestamp(at / 1000.0) AT TIME ZONE 'UTC')::date, 'unit-' || n % $3::int, n, at, 0, '{}', said
     FROM generate_series(1, $1::int) AS n, LATERAL (SELECT $4::bigint - (n::bigint * 7919 % ${years * 365}) * ${DAY_MS} AS at) AS timed,
       LATERAL (SELECT replace(replace(replace(replace($2::text, '@', n::text), '#', (n % $3::int)::text), '$', at::text), '%', n::text) AS said) AS made`,
    [VISITS, visit, APPLIANCES, MAY_3],
  );
  await client.query(
    `INSERT INTO listed (appliance_id, name, place, owner, due, changed_ms, visits, last_visit_ms, search)
     SELECT a.appliance_id, s ->> 'name', s ->> 'place', s ->> 'owner', s ->> 'nextDue', 0, v.n, v.last, search_text(s)
     FROM item a CROSS JOIN LATERAL (SELECT a.content::jsonb -> 'appliance' AS s) AS said
     LEFT JOIN (SELECT appliance_id, count(*) AS n, max(wall_ms) AS last FROM item WHERE kind = 'visit' GROUP BY appliance_id) v USING (appliance_id)
     WHERE a.kind = 'appliance'`,
  );
  await client.query('ALTER TABLE item ENABLE TRIGGER item_listed');
  await client.query('ALTER TABLE item ENABLE TRIGGER item_not_removed');
  await client.query('VACUUM ANALYZE');
}

const fullSize = (): Visit => fullVisit({ source: 'port' }).visit;
function signedLike(visit: Visit, more: Pick<Visit, 'id' | 'number' | 'applianceId'>): Visit {
  const { signature: _, ...open } = visit;
  const plain: Visit = { ...open, ...more, edits: [] };
  return { ...plain, signature: { name: 'A. Sample', wallMs: MAY_3, hash: visitHash(plain), editsBefore: 0 } };
}

async function timePush(folder: string, office: Office, make: (n: number) => Visit): Promise<number> {
  const opened = must(await openRecords({ folder, wallMs: Date.now() }));
  const tables = storeTables(opened);
  const store: SyncStore = { use: (work) => Promise.resolve(work(tables)), erase: (work) => Promise.resolve(work(tables)) };
  try {
    for (let n = 0; n < PUSHED; n++) must(tables.visits.adopt(make(n), MAY_3));
    must(await meet(store, office));
    const start = performance.now();
    const { sent } = must(await push(store, office, () => Date.now()));
    if (sent !== PUSHED) throw new Error(`${sent} were sent`);
    return performance.now() - start;
  } finally {
    opened.close();
  }
}
