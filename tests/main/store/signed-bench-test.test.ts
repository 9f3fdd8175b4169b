/** Signed bench tests in the store itself: refused for every caller, and held against their hash when they are read. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { onTestFinished, describe, expect, it } from 'vitest';
import { hashOfTest } from '../../../main/bench/signature.ts';
import { createRecords, type Records } from '../../../main/store/records.ts';
import { openRecords } from '../../../main/store/open.ts';
import type { BenchTest } from '../../../shared/bench/bench-test.ts';
import type { Caller } from '../../../shared/ipc/contract.ts';
import { Settings } from '../../../shared/ipc/settings.ts';
import { createFakeClock } from '../../helpers/host/fake-clock.ts';
import { testWith } from '../../shared/bench/made-test.ts';

const caller: Caller = { clientId: 'window-1', role: 'operator' };
const { watermark: _, ...measured } = testWith({ wallMs: Date.UTC(2026, 10, 24, 9), co: 1000, t90S: 30, left: 1000 });
const done: BenchTest = { ...measured, status: 'done', endedWallMs: measured.startedWallMs + 600_000 };
const signed: BenchTest = { ...done, signature: { name: 'B. Tester', wallMs: 1, hash: hashOfTest(done) } };

async function openStore(bodies: Record<string, unknown> = {}): Promise<Records> {
  const folder = mkdtempSync(join(tmpdir(), 'flueside-signed-'));
  const opened = await openRecords({ folder, wallMs: 0 });
  if (!opened.ok) throw new Error(opened.error.code);
  for (const [id, body] of Object.entries(bodies))
    opened.value.db.run(
      'INSERT INTO document (kind, id, parent_id, changed_ms, revision, search, body) VALUES (?, ?, ?, ?, ?, ?, ?)',
      'bench-test',
      id,
      'i1',
      0,
      1,
      '',
      JSON.stringify(body),
    );
  opened.value.close();
  const records = createRecords({
    clock: createFakeClock(0),
    dataFolder: folder,
    appVersion: '1',
    settings: () => Settings.parse({}),
    newId: () => 'new',
    publish: () => undefined,
    hashRun: () => Promise.resolve(undefined),
    takeUpload: () => undefined,
    offerDownload: () => '',
  });
  onTestFinished(() => {
    records.close();
    rmSync(folder, { recursive: true, force: true });
  });
  return records;
}
const codeOf = (answer: { ok: boolean; error?: { code: string } }): string => answer.error?.code ?? 'ok';
const get = async (records: Records, id: string) => {
  const found = await records.handlers['document.get']({ kind: 'bench-test', id }, caller);
  if (!found.ok) throw new Error(found.error.code);
  return found.value;
};

describe('a signed bench test in the store', () => {
  it('is refused for every caller: the window, and the program itself', async () => {
    const records = await openStore({ t1: signed });
    const body = JSON.parse(JSON.stringify({ ...signed, person: 'Somebody else' })) as never;
    expect(codeOf(await records.handlers['document.save']({ kind: 'bench-test', id: 't1', body }, caller))).toBe('request-invalid');
    expect(codeOf(await records.handlers['document.remove']({ kind: 'bench-test', id: 't1' }, caller))).toBe('bench-signed');
    const own = await records.use((tables) =>
      tables.documents['bench-test'].save('t1', { ...signed, person: 'Somebody else' }, { wallMs: 1 }),
    );
    expect(codeOf(own)).toBe('bench-signed');
    expect((await get(records, 't1')).body).toEqual(JSON.parse(JSON.stringify(signed)));
  });

  it('of which one cannot be read leaves the list without it, and the list says how many', async () => {
    const records = await openStore({ t1: signed, t2: { format: 'unknown' }, t3: 7 });
    const listed = await records.handlers['document.list']({ kind: 'bench-test', search: '', offset: 0, limit: 10 }, caller);
    expect(listed.ok && [listed.value.documents.map(({ id }) => id), listed.value.unreadable]).toEqual([['t1'], 2]);
  });

  it('cannot be slipped in by a window: bench tests are saved by bench commands only', async () => {
    const records = await openStore();
    const body = JSON.parse(JSON.stringify(signed)) as never;
    expect(codeOf(await records.handlers['document.save']({ kind: 'bench-test', body }, caller))).toBe('request-invalid');
  });

  it('an unsigned one can still be removed', async () => {
    const records = await openStore({ t1: done });
    expect(codeOf(await records.handlers['document.remove']({ kind: 'bench-test', id: 't1' }, caller))).toBe('ok');
  });

  it('is held against its hash when it is read', async () => {
    const records = await openStore({ whole: signed, changed: { ...signed, person: 'Somebody else' } });
    expect((await get(records, 'whole')).altered).toBeUndefined();
    expect((await get(records, 'changed')).altered).toBe(true);
  });

  it('one of an earlier version opens as it was: signed, without a hash, and locked', async () => {
    const old = { ...done, signature: { name: 'B. Tester', wallMs: 1 } };
    const records = await openStore({ old });
    const read = await get(records, 'old');
    expect(read.altered).toBeUndefined();
    expect(read.body).toEqual(JSON.parse(JSON.stringify(old)));
    const own = await records.use((tables) => tables.documents['bench-test'].save('old', done, { wallMs: 1 }));
    expect(codeOf(own)).toBe('bench-signed');
  });
});
