/** What both offices promise, and what a server says when something is wrong. */
import { fileURLToPath } from 'node:url';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Office, StoredItem } from '../../../main/office/office.ts';
import type { ServerChoice } from '../../../main/office/postgres/connect.ts';
import { problemOfServer } from '../../../main/office/postgres/server-problems.ts';
import { addLaptop, initPostgresOffice, openPostgresOffice } from '../../../main/office/postgres/postgres-office.ts';
import { applianceItem, boiler, removalItem, signedVisit, visitItem } from '../../helpers/visits/office-items.ts';
import { noPostgres, startPostgres, type TestServer } from '../../helpers/host/postgres.ts';
import { personOutEdit } from '../../../shared/tuning/visit/appliance-edits.ts';
import { withoutPerson } from '../../../shared/office/merge-appliance.ts';
import { NOW, wallMs, value, codeOf, hashes, openFolder, removeFolders } from './office-parts.ts';

removeFolders();

let server: TestServer | undefined;
let laptop: ServerChoice | undefined;
const LAPTOP_PASSWORD = 'laptop of the test';
beforeAll(async () => {
  if (noPostgres !== undefined) return;
  server = await startPostgres();
  const password = (): string => server?.ownerPassword ?? '';
  value(await initPostgresOffice(server.owner, { name: 'Workshop', password }));
  value(await addLaptop(server.owner, { laptop: 'laptop one', laptopPassword: LAPTOP_PASSWORD, password }));
  laptop = { ...server.owner, user: 'laptop one' };
});
afterAll(() => server?.stop());

const openServerOffice = (): Office => value(openPostgresOffice(laptop as ServerChoice, { wallMs, password: () => LAPTOP_PASSWORD }));
const asked = { host: 'office.example', port: 5432, database: 'd', does: 'write' } as const;

describe.each([
  ['a folder', openFolder, undefined],
  ['PostgreSQL', () => Promise.resolve(openServerOffice()), noPostgres],
] as const)('an office in %s', (_, open, why) => {
  let office: Office;
  beforeAll(async () => {
    if (why === undefined) office = await open();
  });
  afterAll(() => office?.close());
  const all = async (): Promise<StoredItem[]> => {
    const items: StoredItem[] = [];
    for (let cursor: string | undefined; ;) {
      const page = value(
        await office.next({
          cursor,
          isKnown: ({ kind, id, hash }) => items.some((one) => one.kind === kind && one.id === id && one.hash.startsWith(hash)),
        }),
      );
      items.push(...page.items);
      if (!page.hasMore) return items;
      cursor = page.cursor;
    }
  };

  it.skipIf(why !== undefined)('gives back what it was given, once, however often it is sent', async () => {
    const items = [
      visitItem(signedVisit('v-1', { n: 41, applianceId: 'a-1' })),
      applianceItem('a-1', boiler({ place: 'Müllerweg 4', owner: 'Ann Example', nextDue: '2027-05-01' })),
    ];
    expect(value(await office.put(items))).toEqual({ added: 2, same: 0 });
    expect(value(await office.put(items))).toEqual({ added: 0, same: 2 });
    const got = await all();
    expect(hashes(got)).toEqual(hashes(items));
    expect(got.map(({ text }) => text).sort()).toEqual(items.map(({ text }) => text).sort());
    expect(value(await office.check()).wrong).toEqual([]);
  });

  it.skipIf(why !== undefined).each([
    ['place, in other letters', 'mullerweg'],
    ['owner', 'example'],
    ['several words', 'ann cellar'],
    ['number of a visit', '41'],
  ])('finds an appliance by %s', async (_name, words) => {
    const found = value(await office.search({ words, limit: 10 }));
    expect(found.map(({ applianceId, visits }) => [applianceId, visits])).toEqual([['a-1', 1]]);
  });
  it.skipIf(why !== undefined)('finds what is due, and nothing that is not', async () => {
    expect(value(await office.search({ words: '', dueBefore: '2027-05-02', limit: 10 })).map(({ due }) => due)).toEqual(['2027-05-01']);
    expect(value(await office.search({ words: '', dueBefore: '2027-05-01', limit: 10 }))).toEqual([]);
    expect(value(await office.search({ words: 'nobody', limit: 10 }))).toEqual([]);
    expect(value(await office.search({ words: '%', limit: 10 }))).toEqual([]);
  });

  it.skipIf(why !== undefined)('brings the newest visits of an appliance with all that is known of it', async () => {
    value(await office.put([5, 3, 9, 7].map((n) => visitItem(signedVisit(`v-of-2-${n}`, { n, applianceId: 'a-2' })))));
    value(await office.put([applianceItem('a-2', boiler())]));
    const { items } = value(await office.ofAppliance('a-2', 2));
    expect(items.map(({ id }) => id).sort()).toEqual(['a-2', 'v-of-2-7', 'v-of-2-9']);
  });

  it.skipIf(why !== undefined)('forgets a person who was removed, and does not take them back from a laptop that was away', async () => {
    const old = boiler({ place: 'Elm Lane 8', owner: 'Carl Removed' });
    value(await office.put([applianceItem('a-3', old), visitItem(signedVisit('v-3', { applianceId: 'a-3' }))]));
    const removal = { wallMs: NOW, by: 'B. Sample' };
    const after = withoutPerson('a-3', { appliance: old, edits: [] }, [removal]);
    value(await office.put([removalItem('a-3', removal), applianceItem('a-3', after.appliance, [...after.edits])]));
    // a laptop that did not hear of it sends what it knows
    value(await office.put([applianceItem('a-3', { ...old, contact: 'carl' })]));
    expect(value(await office.search({ words: 'removed', limit: 5 }))).toEqual([]);
    const { items } = value(await office.ofAppliance('a-3', 5));
    expect(items.filter(({ kind }) => kind === 'appliance').map(({ item }) => item)).toMatchObject([
      { appliance: { pseudonymised: true }, edits: [personOutEdit(removal)] },
    ]);
    expect(items.filter(({ kind }) => kind === 'tombstone')).toHaveLength(1);
    expect(items.some(({ text }) => text.includes('Carl'))).toBe(false);
    // what is signed stays
    expect(items.filter(({ kind }) => kind === 'visit')).toHaveLength(1);
  });

  it.skipIf(why !== undefined)('goes on behind its cursor and misses nothing', async () => {
    const seen = new Set((await all()).map(({ hash }) => hash));
    const page = value(await office.next({ isKnown: ({ hash }) => [...seen].some((one) => one.startsWith(hash)) }));
    expect(page.items).toEqual([]);
    value(
      await office.put(
        Array.from({ length: 210 }, (_unused, n) => visitItem(signedVisit(`page-${n}`, { n: 500 + n, applianceId: `a-${n % 3}` }))),
      ),
    );
    const fresh = (await all()).filter(({ hash }) => !seen.has(hash));
    expect(new Set(fresh.map(({ id }) => id)).size).toBe(210);
  });
});

describe.skipIf(noPostgres !== undefined)('a server that is not as it should be', () => {
  const about = async (choice: Partial<ServerChoice>, password: string | undefined = LAPTOP_PASSWORD): Promise<string | undefined> => {
    const office = openPostgresOffice({ ...(laptop as ServerChoice), ...choice }, { wallMs, password: () => password });
    if (!office.ok) return office.error.code;
    const said = codeOf(await office.value.about());
    await office.value.close();
    return said;
  };
  const asOwner = async (...statements: string[]): Promise<void> => {
    const { host, port, database, user } = (server as TestServer).owner;
    const client = new pg.Client({
      host,
      port,
      database,
      user,
      password: server?.ownerPassword,
      ssl: { rejectUnauthorized: false },
      options: '-c search_path=flueside',
    });
    await client.connect();
    for (const sql of statements) await client.query(sql);
    await client.end();
  };

  it('is used when all is well', async () => expect(await about({})).toBeUndefined());
  it.each([
    ['a wrong password', {}, 'wrong', 'office-password'],
    ['no password', {}, '', 'office-asks-password'],
    ['a user that it does not know', { user: 'nobody' }, 'x', 'office-password'],
    ['a certificate that is not trusted', { certificateFile: '' }, LAPTOP_PASSWORD, 'office-certificate'],
    ['a certificate for another name', { host: 'localhost' }, LAPTOP_PASSWORD, 'office-certificate'],
    ['a certificate file that is not there', { certificateFile: 'gone.crt' }, LAPTOP_PASSWORD, 'office-certificate'],
    ['a database that is not there', { database: 'gone' }, LAPTOP_PASSWORD, 'office-none'],
    ['a database without an office', { database: 'template1' }, LAPTOP_PASSWORD, 'office-none'],
    ['a port where nobody answers', { port: 1 }, LAPTOP_PASSWORD, 'office-unreachable'],
    ['another computer without TLS', { host: 'office.example', withoutTls: true }, LAPTOP_PASSWORD, 'office-no-tls'],
  ] as const)('%s is said', async (_, choice, password, code) => expect(await about(choice, password)).toBe(code));

  it('says that a file named as certificate is none', () => {
    const certificateFile = fileURLToPath(import.meta.url);
    const office = openPostgresOffice({ ...(laptop as ServerChoice), certificateFile }, { wallMs, password: () => undefined });
    expect(office).toMatchObject({
      error: { code: 'office-certificate', detail: expect.stringContaining('no certificate in it') as string },
    });
  });

  it('says that the office is newer, and sends nothing', async () => {
    await asOwner('UPDATE office SET version = version + 1');
    expect(await about({})).toBe('office-newer');
    const office = openServerOffice();
    expect(codeOf(await office.put([applianceItem('a-new', boiler())]))).toBe('office-newer');
    await office.close();
    expect(codeOf(await initPostgresOffice((server as TestServer).owner, { name: 'x', password: () => server?.ownerPassword }))).toBe(
      'office-newer',
    );
    await asOwner('UPDATE office SET version = version - 1');
    expect(await about({})).toBeUndefined();
  });

  it('says that it has a user of this name already', async () => {
    const password = (): string => server?.ownerPassword ?? '';
    const again = { laptop: 'laptop one', laptopPassword: 'x', password };
    expect(codeOf(await addLaptop((server as TestServer).owner, again))).toBe('office-user-taken');
  });

  it('says who may not read, and who may not begin an office', async () => {
    await asOwner('REVOKE SELECT ON item FROM flueside_laptop');
    const office = openServerOffice();
    expect(codeOf(await office.next({ isKnown: () => false }))).toBe('office-no-access');
    await office.close();
    await asOwner('GRANT SELECT ON item TO flueside_laptop');
    const begun = await initPostgresOffice(laptop as ServerChoice, { name: 'x', password: () => LAPTOP_PASSWORD });
    expect(begun).toMatchObject({ error: { code: 'office-read-only', detail: expect.stringContaining('owner') as string } });
  });

  it('is started once: a second start changes nothing', async () => {
    const again = value(await initPostgresOffice((server as TestServer).owner, { name: 'other', password: () => server?.ownerPassword }));
    expect(again.from).toBe(again.to);
  });

  it.each([
    'UPDATE item SET content = content',
    'DELETE FROM item',
    'TRUNCATE item',
    'UPDATE listed SET owner = owner',
    "INSERT INTO listed (appliance_id) VALUES ('x')",
    'DROP TABLE item',
    'UPDATE office SET version = 7',
    "INSERT INTO item (kind, id, hash, day, wall_ms, changed_ms, removals, content, sent_by) VALUES ('visit', 'x', '', now(), 0, 0, '{}', '', 'somebody else')",
  ])('a laptop may not: %s', async (sql) => {
    const { host, port, database, user } = laptop as ServerChoice;
    const client = new pg.Client({
      host,
      port,
      database,
      user,
      password: LAPTOP_PASSWORD,
      ssl: { rejectUnauthorized: false },
      options: '-c search_path=flueside',
    });
    await client.connect();
    await expect(client.query(sql)).rejects.toMatchObject({ code: '42501' });
    await client.end();
  });

  it('refuses an item whose hash is not that of its text', async () => {
    const office = openServerOffice();
    const item = visitItem(signedVisit('v-false', { applianceId: 'a-9' }));
    expect(codeOf(await office.put([{ ...item, text: item.text.replace('note 1', 'note 7') }]))).toBe('office-item-wrong');
    await office.close();
  });

  it('says when an item was changed by somebody who may', async () => {
    await asOwner(
      "INSERT INTO item (kind, id, hash, day, wall_ms, changed_ms, removals, content) VALUES ('visit', 'foreign', sha256('[1]'), '2026-01-01', 0, 0, '{}', '[1]')",
    );
    const office = openServerOffice();
    expect(value(await office.check()).wrong).toEqual([{ name: 'visit foreign', why: 'foreign' }]);
    await asOwner("DELETE FROM item WHERE id = 'foreign'");
    await office.close();
  });

  it('says when its clock is a day off', async () => {
    const office = value(
      openPostgresOffice(laptop as ServerChoice, { wallMs: () => Date.now() - 86_400_000, password: () => LAPTOP_PASSWORD }),
    );
    expect(Math.round((value(await office.about()).clockAheadMs ?? 0) / 3_600_000)).toBe(24);
    await office.close();
  });

  it('is used again after it was killed', async () => {
    const office = openServerOffice();
    value(await office.about());
    await server?.kill();
    expect(codeOf(await office.put([applianceItem('a-k', boiler())]))).toBe('office-unreachable');
    await server?.start();
    expect(value(await office.put([applianceItem('a-k', boiler())]))).toEqual({ added: 1, same: 0 });
    await office.close();
  });

  it.each([
    ['40001', 'office-unreachable'],
    ['53100', 'office-full'],
    ['25006', 'office-read-only'],
    ['42501', 'office-read-only'],
    ['53300', 'office-unreachable'],
    ['57P03', 'office-unreachable'],
    ['CERT_HAS_EXPIRED', 'office-certificate'],
  ])('%s is %s', (code, said) => expect(problemOfServer(Object.assign(new Error('no'), { code }), asked)?.code).toBe(said));
});
