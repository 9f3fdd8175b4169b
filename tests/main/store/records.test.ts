import { leftOff } from '../../helpers/visits/left-off.ts';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { Settings } from '../../../shared/ipc/settings.ts';
import type { Caller, Input, Output } from '../../../shared/ipc/contract.ts';
import type { Result } from '../../../shared/result.ts';
import type { Problem } from '../../../shared/problem.ts';
import { openRecords } from '../../../main/store/open.ts';
import { createRecords, type Records, type StoreHandlers } from '../../../main/store/records.ts';
import { gatherRecords } from '../../../main/report/gather-report.ts';
import { visitHash } from '../../../main/store/visits.ts';

const wallMs = Date.UTC(2026, 10, 25, 9, 30);
const caller: Caller = { clientId: 'window', role: 'operator' };
let folder: string;
let records: Records;
let published: string[];

const open = (): Records =>
  createRecords({
    clock: {
      wallMs: () => wallMs,
      nowMs: () => 0,
      zoneMinutes: () => -300,
      sleep: () => Promise.resolve(),
      every: () => () => undefined,
      after: () => () => undefined,
    },
    dataFolder: folder,
    appVersion: '1',
    settings: () => Settings.parse({ technician: { name: 'Training technician', licence: 'T-1' } }),
    newId: (() => {
      let n = 0;
      return () => `id-${++n}-${published.length}`;
    })(),
    publish: (name) => published.push(name),
    hashRun: (runId) => Promise.resolve(runId === 'r1' ? 'abc' : undefined),
    takeUpload: () => undefined,
    offerDownload: ({ fileName }) => fileName,
  });
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'flueside-records-'));
  published = [];
  records = open();
});
afterEach(() => {
  records.close();
  rmSync(folder, { recursive: true, force: true });
});

async function call<K extends keyof StoreHandlers>(name: K, input: Input<K>): Promise<Output<K>> {
  const result = await (records.handlers[name] as (input: Input<K>, caller: Caller) => Promise<Result<Output<K>, Problem>>)(input, caller);
  if (!result.ok) throw new Error(result.error.code);
  return result.value;
}
const refusal = (promise: Promise<unknown>): Promise<string> =>
  promise.then(
    () => 'done',
    (failure: Error) => failure.message,
  );
const van = { format: 1 as const, name: 'Van 1', serial: 'S-1', cells: [], certificateUntil: '2026-11-20' };
const page = { search: '', limit: 100, offset: 0 };

describe('appliances and visits', () => {
  it('numbers visits, finds them by every word, and reads them again after a restart', async () => {
    const boiler = await call('appliance.save', {
      appliance: { format: 1, name: 'Boiler in the Müller cellar', kind: 'boiler-water', serial: '100%_a' },
    });
    const first = await call('visit.create', { kind: 'service', applianceId: boiler.id });
    const second = await call('visit.create', { kind: 'service' });
    expect([first.visit.number, second.visit.number]).toEqual([1, 2]);
    expect(first.visit.people).toEqual([{ role: 'technician', name: 'Training technician', licence: 'T-1' }]);
    await call('visit.edit', { id: first.visit.id, changes: [{ path: ['notes', 0], after: { wallMs, text: 'door seal worn' } }] });
    records.close();
    records = open();
    const numbers = async (search: string) => (await call('visit.list', { ...page, search })).visits.map((visit) => visit.number);
    expect(await numbers('muller')).toEqual([1]);
    expect(await numbers('SEAL door')).toEqual([1]);
    expect(await numbers('seal window')).toEqual([]);
    expect(await numbers('%')).toEqual([]);
    expect((await numbers('')).sort()).toEqual([1, 2]);
    expect((await call('appliance.list', { ...page, search: '0%_' })).total).toBe(1);
    expect((await call('appliance.list', { ...page, search: '0_%' })).total).toBe(0);
  });

  it('keeps who changed what, and what stood before', async () => {
    const { visit } = await call('visit.create', { kind: 'service' });
    await call('visit.edit', { id: visit.id, changes: [{ path: ['airTypedC'], after: 18 }] });
    const { visit: changed, revision } = await call('visit.edit', {
      id: visit.id,
      changes: [{ path: ['airTypedC'], after: 19 }],
      reason: 'read again',
    });
    expect(changed.airTypedC).toBe(19);
    expect(changed.edits.at(-1)).toMatchObject({
      by: 'Training technician',
      path: ['airTypedC'],
      before: 18,
      after: 19,
      reason: 'read again',
    });
    expect(revision).toBe(4);
    expect(published).toContain('visit.changed');
  });

  it('refuses a value that cannot be, and changes nothing', async () => {
    const { visit } = await call('visit.create', { kind: 'service' });
    expect(
      await refusal(
        call('visit.edit', {
          id: visit.id,
          changes: [
            { path: ['airTypedC'], after: 20 },
            { path: ['trials'], after: 'none' },
          ],
        }),
      ),
    ).toBe('value-out-of-range');
    expect(await refusal(call('visit.edit', { id: visit.id, changes: [{ path: ['__proto__', 'x'], after: 1 }] }))).toBe('request-invalid');
    expect((await call('visit.get', { id: visit.id })).visit.airTypedC).toBeUndefined();
  });

  it.each([
    ['an entry of a list that is not there', ['notes', 3, 'text']],
    ['a place far behind the end of a list', ['notes', 1_000_000]],
    ['a place before its beginning', ['notes', -1]],
    ['a field of nothing', ['signature', 'name']],
  ])('refuses to change %s, and says so instead of acknowledging it', async (_what, path) => {
    const { visit } = await call('visit.create', { kind: 'service' });
    const before = await call('visit.get', { id: visit.id });
    const answer = await refusal(call('visit.edit', { id: visit.id, changes: [{ path, after: 'x' }] }));
    expect(['not-found', 'request-invalid']).toContain(answer);
    expect(await call('visit.get', { id: visit.id })).toEqual(before);
  });

  it('lists the others where one body or one summary is no JSON', async () => {
    const { id } = await call('appliance.save', { appliance: { format: 1, name: 'Boiler north', kind: 'furnace', nextDue: '2027-01-31' } });
    const broken = await call('appliance.save', { appliance: { format: 1, name: 'Boiler south', kind: 'furnace' } });
    const { visit } = await call('visit.create', { kind: 'service', applianceId: id });
    const other = await call('visit.create', { kind: 'service', applianceId: id });
    records.close();
    const opened = await openRecords({ folder, wallMs });
    if (!opened.ok) throw new Error(opened.error.code);
    opened.value.db.run("UPDATE appliance SET body = '{' WHERE id = ?", broken.id);
    opened.value.db.run("UPDATE visit SET summary = '{', body = 'no JSON' WHERE id = ?", other.visit.id);
    opened.value.close();
    records = open();
    for (const sort of ['changed', 'due', 'name'] as const)
      expect((await call('appliance.list', { ...page, sort, today: '2027-02-01' })).appliances.map((one) => one.id)).toEqual([id]);
    expect((await call('visit.list', page)).visits.map((one) => one.id)).toEqual([visit.id]);
    expect(await refusal(call('visit.get', { id: other.visit.id }))).toBe('store-damaged');
  });

  it('signs with a hash over the body, then takes corrections beside it, with a reason', async () => {
    const { visit } = await call('visit.create', { kind: 'service' });
    await call('visit.edit', {
      id: visit.id,
      changes: [{ path: ['runs'], after: [{ id: 'r1', startWallMs: wallMs, source: 'port' }] }],
    });
    expect(await refusal(call('visit.sign', { id: visit.id, name: 'A. Technician' }))).toBe('visit-not-safe');
    await call('visit.edit', { id: visit.id, changes: [{ path: ['notLeftRunning'], after: leftOff }] });
    const { visit: signed } = await call('visit.sign', { id: visit.id, name: 'A. Technician' });
    expect(signed.runs[0]?.hash).toBe('abc');
    expect(signed.signature?.hash).toBe(visitHash(signed));
    expect(await refusal(call('visit.edit', { id: visit.id, changes: [{ path: ['airTypedC'], after: 21 }] }))).toBe('visit-signed');
    const { visit: corrected } = await call('visit.edit', {
      id: visit.id,
      changes: [{ path: ['airTypedC'], after: 21 }],
      reason: 'typed in the wrong field',
    });
    expect(corrected.airTypedC).toBeUndefined();
    expect(corrected.edits.at(-1)?.after).toBe(21);
    expect(corrected.signature?.hash).toBe(visitHash(corrected));
    expect(visitHash({ ...corrected, airTypedC: 30 })).not.toBe(corrected.signature?.hash);
    expect(await refusal(call('visit.remove', { id: visit.id }))).toBe('visit-signed');
    expect(await refusal(call('visit.sign', { id: visit.id, name: 'Again' }))).toBe('visit-signed');
  });

  it.each([
    [
      'calibrated anew',
      (id: string) => call('document.save', { kind: 'instrument', id, body: { ...van, name: 'Van old', certificateUntil: '2027-11-30' } }),
    ],
    ['removed', (id: string) => call('document.remove', { kind: 'instrument', id })],
  ])('a signed visit keeps its instrument and its certificate, run out that day, once it is %s', async (_, later) => {
    const { id } = await call('document.save', { kind: 'instrument', body: van });
    const { visit } = await call('visit.create', { kind: 'service' });
    await call('visit.edit', {
      id: visit.id,
      changes: [
        { path: ['instrumentName'], after: 'Van 1' },
        { path: ['notLeftRunning'], after: leftOff },
      ],
    });
    const { visit: signed } = await call('visit.sign', { id: visit.id, name: 'A. Technician' });
    expect(signed.signature?.hash).toBe(visitHash(signed));
    await later(id);
    const stored = await call('visit.get', { id: visit.id });
    expect(stored).toMatchObject({ certificateUntil: '2026-11-20', visit: signed });
    const { documents } = await call('document.list', { kind: 'instrument', ...page });
    const none = () => Promise.resolve(undefined);
    const sources = {
      appliance: none,
      document: none,
      documentsOf: () => Promise.resolve([]),
      documents: () => Promise.resolve(documents),
    };
    expect((await gatherRecords(stored.visit, sources, '1')).instrument?.instrument).toMatchObject(van);
    // said on purpose to have been another one: that one's certificate, and the signed one's never
    const corrected = await call('visit.edit', {
      id: visit.id,
      changes: [{ path: ['instrumentName'], after: 'Spare' }],
      reason: 'the spare one was used',
    });
    expect(corrected.certificateUntil).toBeUndefined();
  });

  it('signs neither a simulated visit nor one with an open bypass', async () => {
    const { visit } = await call('visit.create', { kind: 'service' });
    await call('visit.edit', { id: visit.id, changes: [{ path: ['bypasses', 0], after: { what: 'limit jumper', openedWallMs: wallMs } }] });
    expect(await refusal(call('visit.sign', { id: visit.id, name: 'X' }))).toBe('bypass-open');
    expect(await refusal(call('visit.close', { id: visit.id }))).toBe('bypass-open');
    await call('visit.edit', { id: visit.id, changes: [{ path: ['bypasses', 0, 'closedWallMs'], after: wallMs }] });
    await call('visit.edit', {
      id: visit.id,
      changes: [{ path: ['runs'], after: [{ id: 'r2', startWallMs: wallMs, source: 'simulated' }] }],
    });
    expect(await refusal(call('visit.sign', { id: visit.id, name: 'X' }))).toBe('visit-not-signable');
    expect((await call('visit.close', { id: visit.id })).visit.kind).toBe('training');
  });

  it('sorts appliances by what is due first, and counts what is overdue', async () => {
    const due = { 'Boiler 2': '2026-12-01', 'Boiler 3': undefined, Äther: '2026-11-24', Boiler: '2026-11-25', 'Boiler 4': undefined };
    for (const [name, nextDue] of Object.entries(due))
      await call('appliance.save', { appliance: { format: 1, kind: 'other', name, ...(nextDue === undefined ? {} : { nextDue }) } });
    const list = async (more: Partial<Input<'appliance.list'>>) => {
      const { appliances, overdue } = await call('appliance.list', { ...page, today: '2026-11-25', ...more });
      return { names: appliances.map(({ appliance }) => appliance.name), overdue };
    };
    expect(await list({ sort: 'due' })).toEqual({ names: ['Äther', 'Boiler', 'Boiler 2', 'Boiler 3', 'Boiler 4'], overdue: 1 });
    expect((await list({ sort: 'name' })).names).toEqual(['Äther', 'Boiler', 'Boiler 2', 'Boiler 3', 'Boiler 4']);
    expect(await list({ sort: 'due', search: 'boiler', limit: 1 })).toEqual({ names: ['Boiler'], overdue: 0 });
    expect(await list({ today: '2027-01-01', limit: 1 })).toMatchObject({ overdue: 3 });
  });

  it('keeps an appliance that has visits, but takes the person out', async () => {
    const { id } = await call('appliance.save', {
      appliance: { format: 1, name: 'House of A', kind: 'furnace', owner: 'A', place: 'B street', serial: '77' },
    });
    await call('visit.create', { kind: 'service', applianceId: id });
    expect(await refusal(call('appliance.remove', { id, how: 'delete' }))).toBe('has-visits');
    await call('appliance.remove', { id, how: 'pseudonymise' });
    const { stored } = await call('appliance.get', { id });
    expect(stored.appliance).toMatchObject({ serial: '77', pseudonymised: true });
    expect(JSON.stringify(stored.appliance)).not.toMatch(/House of A|B street/);
  });

  it('keeps who changed what of an appliance; the page is told the newest, and how many there were before', async () => {
    const { id } = await call('appliance.save', { appliance: { format: 1, name: 'Boiler', kind: 'furnace' } });
    const year = (n: number) => 1900 + n;
    for (let n = 1; n <= 203; n++)
      await call('appliance.save', { id, appliance: { format: 1, name: 'Boiler', kind: 'furnace', year: year(n % 2) } });
    const { edits, earlierEdits, stored } = await call('appliance.get', { id });
    expect(stored.revision).toBe(204);
    expect([edits.length, earlierEdits]).toEqual([200, 3]);
    expect(edits.at(-1)).toEqual({ wallMs, by: 'Training technician', path: ['year'], before: 1900, after: 1901 });
  });

  it('notices that another window was faster', async () => {
    const saved = await call('appliance.save', { appliance: { format: 1, name: 'Boiler', kind: 'boiler-water' } });
    await call('appliance.save', {
      id: saved.id,
      revision: saved.revision,
      appliance: { format: 1, name: 'Boiler 2', kind: 'boiler-water' },
    });
    expect(
      await refusal(
        call('appliance.save', {
          id: saved.id,
          revision: saved.revision,
          appliance: { format: 1, name: 'Boiler 3', kind: 'boiler-water' },
        }),
      ),
    ).toBe('changed-elsewhere');
  });

  it('makes a backup while it is in use', async () => {
    await call('visit.create', { kind: 'service' });
    expect((await call('backup.make', {})).fileName).toBe('flueside-backup-2026-11-25T09-30-00.zip');
  });
});
