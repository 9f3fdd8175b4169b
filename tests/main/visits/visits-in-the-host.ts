/** The visits in the host, with a clock that is moved by hand: no window, no wire, no waiting. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach } from 'vitest';
import { createRecords, type Records } from '../../../main/store/records.ts';
import type { VisitService } from '../../../main/visits/visit-parts.ts';
import { createVisitService } from '../../../main/visits/visit-service.ts';
import type { GeometryLeft } from '../../../shared/measurement/geometry-left.ts';
import type { Caller, EventName, Payload } from '../../../shared/ipc/contract.ts';
import { Settings } from '../../../shared/ipc/settings.ts';
import type { RunInfo } from '../../../shared/ipc/run-info.ts';
import type { Mark, MarkBody } from '../../../shared/measurement/mark.ts';
import type { Reading } from '../../../shared/measurement/state.ts';
import type { Alarm } from '../../../shared/tuning/advice/alarms.ts';
import type { Problem } from '../../../shared/problem.ts';
import { err, ok } from '../../../shared/result.ts';
import { value } from '../../helpers/ports/run-service.ts';
import { defined } from '../../../shared/defined.ts';
import { createFakeClock, type FakeClock } from '../../helpers/host/fake-clock.ts';
import { infoOf, readingOf, turnOf } from '../../renderer/helpers/records.ts';

export const caller: Caller = { clientId: 'window', role: 'operator' };
let folder: string;
export let clock: FakeClock;
export let records: Records;
export let service: VisitService;
export let settings: Settings;
export let told: { name: EventName; payload: unknown }[];
export let alarms: Map<string, Problem>;
let ids = 0;
/** the next writes of the store come to this */
let broken: Problem | undefined;
let dangers: readonly Alarm[] = [];
/** what the alarms of the host say now */
export const setAlarms = (now: readonly Alarm[]): void => void (dangers = now);
/** what the simulated burner was told of its geometry */
export const burners = new Map<string, GeometryLeft>();
export let runs: Map<string, { info: RunInfo; marks: Mark[]; readings: Reading[] }>;
export const of = <K extends EventName>(name: K): Payload<K>[] =>
  told.filter((one) => one.name === name).map(({ payload }) => payload as Payload<K>);
export const last = <K extends EventName>(name: K): Payload<K> | undefined => of(name).at(-1);
export function openService(): void {
  const publish = <K extends EventName>(name: K, payload: Payload<K>): void => {
    told.push({ name, payload: structuredClone(payload) });
    if (name === 'visit.changed') service.stored(payload as Payload<'visit.changed'>);
  };
  records = createRecords({
    clock,
    dataFolder: folder,
    appVersion: '1',
    settings: () => settings,
    newId: () => `id-${++ids}`,
    publish,
    hashRun: () => Promise.resolve('abc'),
    takeUpload: () => undefined,
    offerDownload: ({ fileName }) => fileName,
  });
  service = createVisitService({
    clock,
    windowClock: clock,
    settings: () => settings,
    alarms: () => dangers,
    records: { ...records, use: (work) => (broken === undefined ? records.use(work) : Promise.resolve(err(broken))) },
    runs: {
      runs: () => [...runs.values()].map(({ info }) => info),
      look: (runId) => runs.get(runId),
      setGeometry: (runId, left) => void burners.set(runId, left),
      handlers: {
        'run.mark': ({ runId, body, timeMs }) => Promise.resolve(ok(mark(runId, body, timeMs))),
        'run.editMark': () => Promise.resolve(ok({})),
        'run.change': ({ runId, fuelId, co2MaxPercent }) => {
          const run = runs.get(runId)!;
          const { co2MaxPercent: before, ...info } = run.info;
          const co2Max = co2MaxPercent === undefined ? before : (co2MaxPercent ?? undefined);
          run.info = { ...info, ...defined({ fuelId: fuelId ?? info.fuelId, co2MaxPercent: co2Max }) };
          return Promise.resolve(ok(run.info));
        },
      },
    },
    publish,
    raise: (key, what) => alarms.set(key, what),
    clear: (key) => alarms.delete(key),
  });
}
/** A run comes up, as the run service tells of it. */
export function startRun(part: Partial<RunInfo> = {}): string {
  const info = infoOf({ startWallMs: clock.wallMs(), setting: { stage: '1', positions: [{ name: 'shutter', value: 7 }] }, ...part });
  runs.set(info.runId, { info, marks: [], readings: [] });
  service.told(info.runId, { kind: 'changed' });
  return info.runId;
}
export function mark(runId: string, body: MarkBody, timeMs = 0): Mark {
  const run = runs.get(runId)!;
  const made: Mark = { id: `mark-${++ids}`, timeMs, body };
  run.marks = [...run.marks, made].sort((a, b) => a.timeMs - b.timeMs);
  service.told(runId, { kind: 'mark', mark: made });
  return made;
}
export const turn = (runId: string, timeMs: number, shutter: number): Mark => mark(runId, turnOf('', timeMs, shutter).body, timeMs);
export function read(runId: string, id: string, part: Partial<Reading> = {}): void {
  const run = runs.get(runId)!;
  run.readings = [...run.readings.filter((one) => one.id !== id), readingOf(id, part)];
  service.told(runId, { kind: 'reading' });
}
export const begin = async (kind: 'service' | 'training' = 'service', runId?: string) =>
  value(await service.handlers['visit.begin']({ kind, ...(runId !== undefined && { runId }) }, caller)).visit;
export const stored = async (id: string) => value(await records.visit(id)).visit;

export function breakStore(what: Problem | undefined): void {
  broken = what;
}
export function changeSettings(next: Settings): void {
  settings = next;
}

/** A folder, records and a visit service for each test. */
export function openForEachTest(): void {
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'flueside-visits-'));
    clock = createFakeClock();
    told = [];
    alarms = new Map();
    broken = undefined;
    runs = new Map();
    settings = Settings.parse({ technician: { name: 'A. Sample' } });
    openService();
  });
  afterEach(async () => {
    broken = undefined;
    await service.close();
    records.close();
    rmSync(folder, { recursive: true, force: true });
  });
}
