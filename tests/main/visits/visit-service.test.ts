/** The visits in the host, with a clock that is moved by hand: no window, no wire, no waiting. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { createRecords, type Records } from '../../../main/store/records.ts';
import type { VisitService } from '../../../main/visits/visit-parts.ts';
import { createVisitService } from '../../../main/visits/visit-service.ts';
import { trainingCards } from '../../../shared/geometry/training-cards.ts';
import type { GeometryLeft } from '../../../shared/measurement/geometry-left.ts';
import type { Caller, EventName, Payload } from '../../../shared/ipc/contract.ts';
import { Settings } from '../../../shared/ipc/settings.ts';
import type { RunInfo } from '../../../shared/ipc/run-info.ts';
import type { Mark, MarkBody } from '../../../shared/measurement/mark.ts';
import type { Reading } from '../../../shared/measurement/state.ts';
import { problem, type Problem } from '../../../shared/problem.ts';
import { err, ok } from '../../../shared/result.ts';
import { codeOf, value } from '../../helpers/ports/run-service.ts';
import { defined } from '../../../shared/defined.ts';
import { createFakeClock, type FakeClock } from '../../helpers/fake-clock.ts';
import { infoOf, readingOf, stateOf, turnOf } from '../../renderer/helpers/records.ts';

const caller: Caller = { clientId: 'window', role: 'operator' };
let folder: string;
let clock: FakeClock;
let records: Records;
let service: VisitService;
let settings: Settings;
let told: { name: EventName; payload: unknown }[];
let alarms: Map<string, Problem>;
let ids = 0;
/** the next writes of the store come to this */
let broken: Problem | undefined;
/** what the simulated burner was told of its geometry */
const burners = new Map<string, GeometryLeft>();
let runs: Map<string, { info: RunInfo; marks: Mark[]; readings: Reading[] }>;

const of = <K extends EventName>(name: K): Payload<K>[] =>
  told.filter((one) => one.name === name).map(({ payload }) => payload as Payload<K>);
const last = <K extends EventName>(name: K): Payload<K> | undefined => of(name).at(-1);

function openService(): void {
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

/** A run comes up, as the run service tells of it. */
function startRun(part: Partial<RunInfo> = {}): string {
  const info = infoOf({ startWallMs: clock.wallMs(), setting: { stage: '1', positions: [{ name: 'shutter', value: 7 }] }, ...part });
  runs.set(info.runId, { info, marks: [], readings: [] });
  service.told(info.runId, { kind: 'changed' });
  return info.runId;
}
function mark(runId: string, body: MarkBody, timeMs = 0): Mark {
  const run = runs.get(runId)!;
  const made: Mark = { id: `mark-${++ids}`, timeMs, body };
  run.marks = [...run.marks, made].sort((a, b) => a.timeMs - b.timeMs);
  service.told(runId, { kind: 'mark', mark: made });
  return made;
}
const turn = (runId: string, timeMs: number, shutter: number): Mark => mark(runId, turnOf('', timeMs, shutter).body, timeMs);
function read(runId: string, id: string, part: Partial<Reading> = {}): void {
  const run = runs.get(runId)!;
  run.readings = [...run.readings.filter((one) => one.id !== id), readingOf(id, part)];
  service.told(runId, { kind: 'reading' });
}
const begin = async (kind: 'service' | 'training' = 'service', runId?: string) =>
  value(await service.handlers['visit.begin']({ kind, ...(runId !== undefined && { runId }) }, caller)).visit;
const stored = async (id: string) => value(await records.visit(id)).visit;

describe('a visit and its runs', () => {
  it('takes the run on screen in, and its trials as they come, without any window', async () => {
    const runId = startRun();
    const { id } = await begin('service', runId);
    expect((await stored(id)).runs).toMatchObject([{ id: runId, source: 'port' }]);
    read(runId, 'one', { fromMs: 5000, toMs: 25_000 });
    turn(runId, 30_000, 6);
    await clock.advance(50);
    read(runId, 'two', { fromMs: 50_000, toMs: 70_000 });
    await clock.advance(500);
    const visit = await stored(id);
    expect(visit.trials.map(({ setting, reading }) => [setting.positions[0]?.value, reading?.id])).toEqual([
      [7, 'one'],
      [6, 'two'],
    ]);
    // nobody typed that: it is in no list of edits
    expect(visit.edits).toEqual([]);
    expect(last('visit.trials')).toMatchObject({
      runId,
      trials: [
        { number: 1, running: false },
        { number: 2, running: true },
      ],
    });
  });

  it('sets the simulated burner as the gauge says, when a figure is measured and when it is set anew', async () => {
    const runId = startRun();
    const { id } = await begin('service', runId);
    expect(burners.has(runId)).toBe(false);
    const geometry = { card: trainingCards[1], tubeEnd: 'straight', arrangement: 'two' };
    const put = (rows: object) =>
      service.handlers['visit.edit'](
        {
          id,
          changes: [
            { path: ['setUp', 'lengthUnit'], after: 'inch' },
            { path: ['setUp', 'geometry'], after: { ...geometry, rows } as never },
          ],
        },
        caller,
      );
    value(await put({ heightAboveCentreline: { asFound: '7/16' } }));
    // card 1/2 ±1/32 in: the tips are 1/32 in below its lower limit
    expect(burners.get(runId)?.heightAboveCentreline).toBeCloseTo(-25.4 / 32, 6);
    value(await put({ heightAboveCentreline: { asFound: '7/16', asLeft: '1/2' } }));
    expect(burners.get(runId)?.heightAboveCentreline).toBe(0);
  });
  it('has what a person marked in every window within 300 ms', async () => {
    const runId = startRun();
    await begin('service', runId);
    read(runId, 'one', { fromMs: 5000, toMs: 25_000 });
    await clock.advance(1000);
    told = [];
    mark(runId, { kind: 'smoke', spots: [{ number: 1 }] }, 26_000);
    await clock.advance(300);
    expect(last('visit.changed')?.visit.trials[0]?.smoke?.spots).toEqual([{ number: 1 }]);
    expect(last('visit.trials')?.trials[0]?.smoke?.spots).toEqual([{ number: 1 }]);
  });

  it('takes the check after tightening as a trial of its own, and an undone mark back', async () => {
    const runId = startRun();
    const { id } = await begin('service', runId);
    read(runId, 'one', { fromMs: 5000, toMs: 25_000 });
    turn(runId, 30_000, 6);
    read(runId, 'two', { fromMs: 35_000, toMs: 50_000 });
    const tight = turn(runId, 60_000, 6);
    read(runId, 'three', { fromMs: 65_000, toMs: 80_000 });
    await clock.advance(500);
    expect((await stored(id)).trials.map(({ reading }) => reading?.id)).toEqual(['one', 'two', 'three']);
    const run = runs.get(runId)!;
    run.marks = run.marks.filter((one) => one !== tight);
    run.readings = run.readings.filter(({ id: one }) => one !== 'three');
    service.told(runId, { kind: 'edit' });
    await clock.advance(500);
    expect((await stored(id)).trials.map(({ reading }) => reading?.id)).toEqual(['one', 'two']);
  });

  it('keeps practice out of a service visit, and an ended run out of any', async () => {
    const { id } = await begin('service');
    const practice = startRun({ runId: 'practice', source: { kind: 'simulated', scenario: 'a', title: 'A', seed: 1, shape: 'columns' } });
    await service.handlers['visit.open']({ id, runId: practice }, caller);
    const ended = startRun({ runId: 'ended', phase: 'ended' });
    await service.handlers['visit.open']({ id, runId: ended }, caller);
    await clock.advance(500);
    expect((await stored(id)).runs).toEqual([]);
    const training = await begin('training', practice);
    expect((await stored(training.id)).runs).toMatchObject([{ id: practice, source: 'simulated' }]);
  });

  it('goes on where it was when the host starts again: the run finds its visit, and the visit is in front', async () => {
    const runId = startRun();
    const { id } = await begin('service', runId);
    read(runId, 'one', { fromMs: 5000, toMs: 25_000 });
    turn(runId, 30_000, 6);
    await clock.advance(500);
    const { marks, readings } = runs.get(runId)!;
    // killed: nothing is closed in order
    records.close();
    told = [];
    openService();
    runs.set(runId, { info: infoOf({ startWallMs: clock.wallMs() }), marks, readings });
    service.told(runId, { kind: 'resumed' });
    await clock.advance(500);
    expect(last('visit.front')?.stored?.visit.id).toBe(id);
    read(runId, 'two', { fromMs: 50_000, toMs: 70_000 });
    await clock.advance(500);
    expect((await stored(id)).trials.map(({ setting, reading }) => [setting.positions[0]?.value, reading?.id])).toEqual([
      [7, 'one'],
      [6, 'two'],
    ]);
  });

  it('goes on after it was put aside, and comes to a second visit no more', async () => {
    const runId = startRun();
    const { id } = await begin('service', runId);
    await service.handlers['visit.leave']({}, caller);
    expect(last('visit.front')).toEqual({});
    read(runId, 'one', { fromMs: 5000, toMs: 25_000 });
    await clock.advance(500);
    expect((await stored(id)).trials).toHaveLength(1);
  });

  it('gives the run the fuel of the visit that takes it in', async () => {
    const { id } = await begin('service');
    await service.handlers['visit.edit']({ id, changes: [{ path: ['fuelId'], after: 'b20' }] }, caller);
    const runId = startRun({ fuelId: 'no2' });
    await service.handlers['visit.open']({ id, runId }, caller);
    expect(runs.get(runId)?.info.fuelId).toBe('b20');
  });

  it('gives its runs the fuel and the CO2max that are said while they run; another fuel takes the CO2max along', async () => {
    const runId = startRun({ fuelId: 'no2' });
    const { id } = await begin('service', runId);
    const edit = async (path: string[], after?: unknown) =>
      service.handlers['visit.edit']({ id, changes: [{ path, ...(after !== undefined && { after: after as never }) }] }, caller);
    const fuel = () => [runs.get(runId)?.info.fuelId, runs.get(runId)?.info.co2MaxPercent];
    await edit(['co2MaxPercent'], 15.2);
    expect(fuel()).toEqual(['no2', 15.2]);
    expect(codeOf(await edit(['co2MaxPercent'], 11.8))).toBe('value-out-of-range');
    expect((await stored(id)).co2MaxPercent).toBe(15.2);
    await edit(['fuelId'], 'no1');
    expect(fuel()).toEqual(['no1', undefined]);
    expect((await stored(id)).co2MaxPercent).toBeUndefined();
    await edit(['co2MaxPercent'], 15);
    await edit(['co2MaxPercent']);
    expect(fuel()).toEqual(['no1', undefined]);
  });

  it('gives them to a run that is begun for the visit', async () => {
    const { id } = await begin('service');
    const changes = [
      { path: ['fuelId'], after: 'b20' },
      { path: ['co2MaxPercent'], after: 15.3 },
    ];
    value(await service.handlers['visit.edit']({ id, changes }, caller));
    const runId = startRun({ fuelId: 'no2', visitId: id });
    await clock.advance(50);
    expect(runs.get(runId)?.info).toMatchObject({ fuelId: 'b20', co2MaxPercent: 15.3 });
  });
});

describe('what a person does to a visit', () => {
  it('is refused where the runs say it, where there is no such place, and after the signature', async () => {
    const runId = startRun();
    const { id } = await begin('service', runId);
    const edit = async (path: (string | number)[], after: unknown) =>
      codeOf(await service.handlers['visit.edit']({ id, changes: [{ path, after: after as never }] }, caller));
    expect(await edit(['trials'], [])).toBe('request-invalid');
    expect(await edit(['runs', 0], { id: 'x', startWallMs: 0, source: 'port' })).toBe('request-invalid');
    expect(await edit(['notes', 7], { wallMs: 1, text: 'x' })).toBe('not-found');
    expect(await edit(['people', 3, 'name'], 'B')).toBe('not-found');
    expect(await edit(['notes', '-'], { wallMs: 1, text: 'x' })).toBe('ok');
    // no test was done: it may be signed only as left off
    expect(await edit(['notLeftRunning'], { leftOff: true, redTagged: true, ownerTold: 'B. Sample', wallMs: 2 })).toBe('ok');
    expect(codeOf(await service.handlers['visit.sign']({ id, name: 'A. Sample' }, caller))).toBe('ok');
    expect(await edit(['airTypedC'], 20)).toBe('visit-signed');
    expect(codeOf(await service.handlers['visit.watch']({ id, test: 'flame-failure', act: 'press' }, caller))).toBe('visit-finished');
    // the run goes on, and what is signed stays what was signed
    const signed = await stored(id);
    read(runId, 'late', { fromMs: 5000, toMs: 25_000 });
    turn(runId, 40_000, 5);
    await clock.advance(3000);
    expect(await stored(id)).toEqual(signed);
    expect(alarms.size).toBe(0);
  });

  it('is in the list of edits for both of two people who type the same field, and the last one is what stays', async () => {
    const { id } = await begin('service');
    const type = (after: number) => service.handlers['visit.edit']({ id, changes: [{ path: ['airTypedC'], after }] }, caller);
    await Promise.all([type(20), type(21)]);
    const visit = await stored(id);
    expect(visit.airTypedC).toBe(21);
    expect(visit.edits.filter(({ path }) => path[0] === 'airTypedC').map(({ before, after }) => [before, after])).toEqual([
      [undefined, 20],
      [20, 21],
    ]);
    expect(last('visit.changed')?.visit.airTypedC).toBe(21);
  });

  it('is told in the order in which it was saved, whatever else is saved meanwhile', async () => {
    const runId = startRun();
    const { id } = await begin('service', runId);
    const steps = ['safety', 'air-curve'] as const;
    for (let turns = 0; turns < 8; turns++) {
      const goTo = service.handlers['visit.goTo']({ id, step: steps[turns % 2]!, stage: '1' }, caller);
      for (let turn = 0; turn < turns; turn++) await Promise.resolve();
      await Promise.all([goTo, service.handlers['visit.edit']({ id, changes: [{ path: ['airTypedC'], after: turns }] }, caller)]);
    }
    const revisions = of('visit.changed').map(({ revision }) => revision);
    expect(revisions).toEqual([...revisions].sort((a, b) => a - b));
    expect(last('visit.changed')?.visit).toEqual(await stored(id));
  });

  it('is not said to be saved when it is not: an alarm that stays until a later try goes well', async () => {
    const runId = startRun();
    const { id } = await begin('service', runId);
    broken = problem('disk-full');
    read(runId, 'one', { fromMs: 5000, toMs: 25_000 });
    await clock.advance(500);
    expect(alarms.get(`visit-${id}`)).toMatchObject({ code: 'visit-not-saved' });
    await clock.advance(10_000);
    expect(alarms.size).toBe(1);
    broken = undefined;
    await clock.advance(3000);
    expect(alarms.size).toBe(0);
    expect((await stored(id)).trials).toHaveLength(1);
  });

  it('is gone from every window when the visit is deleted, and its run goes on alone', async () => {
    const runId = startRun();
    const { id } = await begin('service', runId);
    expect(codeOf(await service.handlers['visit.remove']({ id }, caller))).toBe('ok');
    expect(last('visit.front')).toEqual({});
    expect(codeOf(await service.handlers['visit.goTo']({ id, step: 'safety', stage: '1' }, caller))).toBe('not-found');
    read(runId, 'one', { fromMs: 5000, toMs: 25_000 });
    await clock.advance(3000);
    expect(last('visit.trials')?.trials[0]?.reading?.id).toBe('one');
    expect(alarms.size).toBe(0);
  });

  it('is refused for a visit that another window signed or deleted meanwhile, whatever the command, and changes nothing', async () => {
    const runId = startRun();
    const all = async (id: string) => {
      const { handlers } = service;
      const note = { path: ['notes', '-'], after: { wallMs: 1, text: 'x' } };
      return {
        edit: codeOf(await handlers['visit.edit']({ id, changes: [note] }, caller)),
        sign: codeOf(await handlers['visit.sign']({ id, name: 'A. Sample' }, caller)),
        close: codeOf(await handlers['visit.close']({ id }, caller)),
        watch: codeOf(await handlers['visit.watch']({ id, test: 'flame-failure', act: 'press' }, caller)),
        goTo: codeOf(await handlers['visit.goTo']({ id, step: 'air-curve', stage: '1' }, caller)),
        remove: codeOf(await handlers['visit.remove']({ id }, caller)),
        open: codeOf(await handlers['visit.open']({ id, runId }, caller)),
      };
    };
    const leftOff = { leftOff: true, redTagged: true, ownerTold: 'B. Sample', wallMs: 2 };
    const signed = await begin('service', runId);
    await service.handlers['visit.edit']({ id: signed.id, changes: [{ path: ['notLeftRunning'], after: leftOff }] }, caller);
    expect(codeOf(await service.handlers['visit.sign']({ id: signed.id, name: 'A. Sample' }, caller))).toBe('ok');
    const before = await stored(signed.id);
    const refused = { edit: 'visit-signed', sign: 'visit-signed', close: 'visit-signed', watch: 'visit-finished', remove: 'visit-signed' };
    // it is still shown, and the step in front of a window is its own affair
    expect(await all(signed.id)).toEqual({ ...refused, goTo: 'ok', open: 'ok' });
    expect(await stored(signed.id)).toEqual(before);

    const deleted = await begin('service');
    expect(codeOf(await service.handlers['visit.remove']({ id: deleted.id }, caller))).toBe('ok');
    expect(new Set(Object.values(await all(deleted.id)))).toEqual(new Set(['not-found']));
    expect(codeOf(await records.handlers['visit.get']({ id: deleted.id }, caller))).toBe('not-found');
    expect(alarms.size).toBe(0);
  });

  it('has the tolerances of the settings, also when they are changed in the middle', async () => {
    const { id } = await begin('service');
    expect((await stored(id)).tolerances).toEqual(settings.tolerances);
    const before = settings;
    settings = { ...settings, tolerances: { ...settings.tolerances, o2Percent: 0.5 } };
    await service.settingsChanged(before);
    expect((await stored(id)).tolerances?.o2Percent).toBe(0.5);
  });

  it('remembers the step without an edit', async () => {
    const { id, at } = await begin('service');
    expect(at).toEqual({ step: 'start', stage: '1' });
    await service.handlers['visit.goTo']({ id, step: 'safety', stage: '1' }, caller);
    expect(await stored(id)).toMatchObject({ at: { step: 'safety', stage: '1' }, edits: [] });
  });
});

describe('the question about an unmarked shift', () => {
  const o2 = (runId: string, timeMs: number, mean: number, state: 'settled' | 'moving'): void =>
    service.told(runId, { kind: 'states', states: [stateOf('o2', state, { timeMs, sinceMs: timeMs, value: mean })] });
  const shift = (runId: string): void => {
    o2(runId, 60_000, 7, 'settled');
    o2(runId, 120_000, 6, 'moving');
    o2(runId, 145_000, 5.5, 'moving');
  };

  it('is asked once, with no window there to see it, and waits in `visit.now`', async () => {
    const runId = startRun();
    shift(runId);
    expect(of('visit.asked')).toHaveLength(1);
    const now = value(await service.handlers['visit.now']({}, caller));
    expect(now.asked).toMatchObject([{ runId, question: { fromPercent: 7, toPercent: 5.5, atMs: 120_000 } }]);
  });

  it('is answered with a mark at the time of the shift, labelled; a second answer is refused', async () => {
    const runId = startRun();
    const { id } = await begin('service', runId);
    shift(runId);
    const questionId = last('visit.asked')!.question!.id;
    const setting = { stage: '1', positions: [{ name: 'shutter', value: 5 }] };
    const answer = () => service.handlers['visit.answerShift']({ runId, questionId, setting }, caller);
    expect(codeOf(await answer())).toBe('ok');
    expect(runs.get(runId)?.marks.map(({ timeMs, body }) => [timeMs, body])).toEqual([
      [120_000, { kind: 'adjustment', setting, inferred: true }],
    ]);
    expect(last('visit.asked')?.question).toBeUndefined();
    expect(codeOf(await answer())).toBe('question-gone');
    read(runId, 'after', { fromMs: 150_000, toMs: 170_000 });
    await clock.advance(500);
    expect((await stored(id)).trials).toMatchObject([{ inferred: true, setting }]);
  });

  it('is not asked about what was before a restart of the host', () => {
    const runId = startRun();
    o2(runId, 60_000, 7, 'settled');
    service.told(runId, { kind: 'resumed' });
    o2(runId, 120_000, 6, 'moving');
    o2(runId, 145_000, 5.5, 'moving');
    expect(of('visit.asked')).toEqual([]);
  });
});

describe('the stopwatches', () => {
  it('are timed by the host: a second window, a reload and a takeover show the same', async () => {
    const runId = startRun({ timeMs: 700 });
    const { id } = await begin('service', runId);
    const watch = (act: 'press' | 'lap' | 'reset') =>
      service.handlers['visit.watch']({ id, test: 'lockout-no-ignition', act, runId }, caller);
    await watch('press');
    await clock.advance(12_500);
    const seen = value(await service.handlers['visit.now']({}, caller)).watches;
    expect(seen.watches).toEqual([{ test: 'lockout-no-ignition', elapsedS: 12.5, running: true, laps: [], run: { runId, timeMs: 700 } }]);
    await watch('lap');
    await clock.advance(2500);
    const stopped = value(
      await service.handlers['visit.watch']({ id, test: 'lockout-no-ignition', act: 'press' }, { clientId: 'other', role: 'operator' }),
    );
    expect(stopped.watches).toMatchObject([{ elapsedS: 15, running: false, laps: [12.5] }]);
    await clock.advance(60_000);
    expect(last('visit.watches')).toEqual(stopped);
    // a stopped one is not pressed on
    expect(value(await watch('press')).watches[0]?.elapsedS).toBe(15);
    expect(value(await watch('reset')).watches).toEqual([]);
  });

  it('are those of the visit in front, and end with it', async () => {
    const { id } = await begin('service');
    await service.handlers['visit.watch']({ id, test: 'flame-failure', act: 'press' }, caller);
    const other = await begin('training');
    expect(last('visit.watches')).toEqual({ watches: [] });
    await service.handlers['visit.open']({ id }, caller);
    expect(last('visit.watches')?.watches).toHaveLength(1);
    await service.handlers['visit.close']({ id }, caller);
    await service.handlers['visit.open']({ id: other.id }, caller);
    await service.handlers['visit.open']({ id }, caller);
    expect(last('visit.watches')).toEqual({ watches: [] });
  });
});

describe('hints', () => {
  it('come from the samples, with or without a visit and a window, and are told when they change', async () => {
    const runId = startRun();
    // an oxygen cell that says more than air holds
    for (let second = 0; second < 120; second++)
      service.told(runId, { kind: 'sample', sample: { timeMs: second * 1000, values: { o2: 23.5, co: 10, stackTemperature: 200 } } });
    await clock.advance(5100);
    expect(last('visit.hints')).toMatchObject({ runId });
    expect(last('visit.hints')?.hints.map(({ pattern }) => pattern)).toContain('impossible-o2');
    const count = of('visit.hints').length;
    await clock.advance(20_000);
    expect(of('visit.hints')).toHaveLength(count);
  });
});
