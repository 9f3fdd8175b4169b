/** What visits have taught of an appliance, in the records. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { createRecords, type Records } from '../../../main/store/records.ts';
import type { BenchTest } from '../../../shared/bench/bench-test.ts';
import { createKnownAppliances, keepResponse, type KnownAppliances } from '../../../main/visits/known-appliance.ts';
import { Settings } from '../../../shared/ipc/settings.ts';
import { ApplianceKnowledge, type SettlingKnowledge } from '../../../shared/measurement/knowledge.ts';
import type { RunHeader } from '../../../shared/measurement/run.ts';
import { ok } from '../../../shared/result.ts';
import { value } from '../../helpers/ports/run-service.ts';
import { createFakeClock } from '../../helpers/host/fake-clock.ts';

const caller = { clientId: 'window', role: 'operator' } as const;
const taught: SettlingKnowledge = {
  format: 'flueside-knowledge',
  version: 1,
  appliance: 'pressure-atomizing oil burner',
  visits: 1,
  channels: { o2: { sensor: { mean: 2.1, sd: 0.1 } } },
};
let folder: string;
let records: Records;
let known: KnownAppliances;
let ids = 0;

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'flueside-known-'));
  records = createRecords({
    clock: createFakeClock(),
    dataFolder: folder,
    appVersion: '1',
    settings: () => Settings.parse({}),
    newId: () => `id-${++ids}`,
    publish: () => undefined,
    hashRun: () => Promise.resolve('abc'),
    takeUpload: () => undefined,
    offerDownload: ({ fileName }) => fileName,
  });
  known = createKnownAppliances(records, { wallMs: () => 5, changed: () => undefined });
});
afterEach(() => {
  records.close();
  rmSync(folder, { recursive: true, force: true });
});

const makeAppliance = async (): Promise<string> =>
  value(await records.handlers['appliance.save']({ appliance: { format: 1, name: 'Boiler', kind: 'boiler-water' } } as never, caller)).id;
const makeVisit = async (applianceId?: string): Promise<string> =>
  value(await records.handlers['visit.create']({ kind: 'service', ...(applianceId !== undefined && { applianceId }) } as never, caller))
    .visit.id;
const headerOf = (visitId: string | undefined, kind: 'serial' | 'simulated' = 'serial'): RunHeader =>
  ({ source: { kind }, ...(visitId !== undefined && { visitId }) }) as RunHeader;

describe('what visits have taught', () => {
  it('is there for the next visit of the same appliance, and counts visits, not runs', async () => {
    const applianceId = await makeAppliance();
    const first = await makeVisit(applianceId);
    expect(await known.of(first)).toEqual(ok(undefined));
    await known.learn(headerOf(first), taught);
    await known.learn(headerOf(first), { ...taught, visits: 2 });
    const second = await makeVisit(applianceId);
    expect(value(await known.of(second))?.visits).toBe(1);
    await known.learn(headerOf(second), taught);
    expect(value(await known.of(second))).toEqual({ ...taught, visits: 2 });
    expect(value(await known.of(await makeVisit(await makeAppliance())))).toBeUndefined();
  });
  it('comes from an instrument only, and belongs to an appliance', async () => {
    const visit = await makeVisit(await makeAppliance());
    await known.learn(headerOf(visit, 'simulated'), taught);
    await known.learn(headerOf(undefined), taught);
    expect(value(await known.of(visit))).toBeUndefined();
    const without = await makeVisit();
    await known.learn(headerOf(without), taught);
    expect(value(await known.of(without))).toBeUndefined();
  });
  it('of an instrument is what its newest bench test found: for every visit with it, until it is deleted', async () => {
    const instrumentId = value(
      await records.handlers['document.save']({ kind: 'instrument', body: { format: 1, name: 'Analyser', cells: [] } } as never, caller),
    ).id;
    const visit = await makeVisit();
    value(await records.handlers['visit.edit']({ id: visit, changes: [{ path: ['instrumentId'], after: instrumentId }] }, caller));
    const times = (tau: number) => Object.fromEntries(['dead', 'tau'].map((name) => [name, { value: tau, expanded: 1 }]));
    const tested = (startedWallMs: number, tau: number) =>
      ({
        startedWallMs,
        instrumentId,
        rounds: [{ steps: [{ application: { channels: { o2: { response: times(tau) } } } }] }],
      }) as unknown as BenchTest;
    const keep = (id: string, test: BenchTest) => records.use((tables) => keepResponse(tables, id, test, 5));
    expect((await keep('t2', tested(2, 12))).ok).toBe(true);
    expect((await keep('t1', tested(1, 30))).ok).toBe(true);
    const found = value(await known.of(visit));
    expect([found?.visits, found?.benchWallMs]).toEqual([0, 2]);
    expect(Math.exp(found?.channels.o2?.sensor.mean ?? 0)).toBeCloseTo(12, 1);
    // what a run of an appliance then teaches is no bench test
    const at = await makeVisit(await makeAppliance());
    await known.learn(headerOf(at), { ...taught, benchWallMs: 2 });
    expect(value(await known.of(at))?.benchWallMs).toBeUndefined();
    value(await records.handlers['document.remove']({ kind: 'knowledge', id: instrumentId }, caller));
    expect(value(await known.of(visit))).toBeUndefined();
  });
  it('can be deleted, and is not written by a window', async () => {
    const applianceId = await makeAppliance();
    const visit = await makeVisit(applianceId);
    await known.learn(headerOf(visit), taught);
    const listed = value(
      await records.handlers['document.list']({ kind: 'knowledge', parentId: applianceId, search: '', limit: 1, offset: 0 }, caller),
    );
    expect(ApplianceKnowledge.parse(listed.documents[0]?.body).visitIds).toEqual([visit]);
    const body = { visitIds: [], knowledge: taught } as never;
    expect((await records.handlers['document.save']({ kind: 'knowledge', id: applianceId, body }, caller)).ok).toBe(false);
    value(await records.handlers['document.remove']({ kind: 'knowledge', id: applianceId }, caller));
    expect(value(await known.of(visit))).toBeUndefined();
  });
});
