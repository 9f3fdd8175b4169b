/** What a person does to a visit, is asked about, and times. */
import { describe, expect, it } from 'vitest';
import { problem } from '../../../shared/problem.ts';
import { codeOf, value } from '../../helpers/ports/run-service.ts';
import { stateOf } from '../../renderer/helpers/records.ts';
import {
  caller,
  clock,
  records,
  service,
  settings,
  alarms,
  breakStore,
  setAlarms,
  changeSettings,
  runs,
  of,
  last,
  startRun,
  turn,
  read,
  begin,
  stored,
  openForEachTest,
} from './visits-in-the-host.ts';

openForEachTest();

describe('what a person does to a visit', () => {
  it('is no signature and no close while a reading could not be written into it', async () => {
    const runId = startRun();
    const { id } = await begin('service', runId);
    await service.handlers['visit.edit'](
      { id, changes: [{ path: ['notLeftRunning'], after: { leftOff: true, redTagged: true, ownerTold: 'B. Sample', wallMs: 2 } }] },
      caller,
    );
    read(runId, 'last');
    breakStore(problem('disk-full'));
    const both = async (): Promise<string[]> => [
      codeOf(await service.handlers['visit.sign']({ id, name: 'A. Sample' }, caller)),
      codeOf(await service.handlers['visit.close']({ id }, caller)),
    ];
    expect(await both()).toEqual(['disk-full', 'disk-full']);
    breakStore(undefined);
    expect(codeOf(await service.handlers['visit.sign']({ id, name: 'A. Sample' }, caller))).toBe('ok');
    expect((await stored(id)).trials.map(({ reading }) => reading?.id)).toEqual(['last']);
  });
  it('is no signature while an instrument of the visit measures CO in the room and the visit does not say so', async () => {
    const runId = startRun();
    const { id } = await begin('service', runId);
    const edit = (path: (string | number)[], after: object) =>
      service.handlers['visit.edit']({ id, changes: [{ path, after: after as never }] }, caller);
    await edit(['notLeftRunning'], { leftOff: true, redTagged: true, ownerTold: 'B. Sample', wallMs: 2 });
    await edit(['roomCo', 0], { ppm: 0, wallMs: 1 });
    const sign = async (): Promise<string> => codeOf(await service.handlers['visit.sign']({ id, name: 'A. Sample' }, caller));
    setAlarms([{ key: 'room-co', runId, level: 'out', ppm: 150 }]);
    expect(await sign()).toBe('room-co-now');
    await edit(['roomCo', 1], { ppm: 60, wallMs: 3 });
    expect(await sign()).toBe('room-co-now');
    // another instrument's room is not this one, and what only asks for a look stops nothing
    setAlarms([
      { key: 'room-co', runId: 'elsewhere', level: 'out', ppm: 150 },
      { key: 'room-co', runId, level: 'notice', ppm: 12 },
    ]);
    await edit(['roomCo', 2], { ppm: 0, wallMs: 4 });
    setAlarms([{ key: 'room-co', runId, level: 'stop', ppm: 60 }]);
    expect(await sign()).toBe('room-co-now');
    await edit(['roomCo', 3], { ppm: 60, wallMs: 5 });
    expect(await sign()).toBe('ok');
    setAlarms([]);
  });
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
    breakStore(problem('disk-full'));
    read(runId, 'one', { fromMs: 5000, toMs: 25_000 });
    await clock.advance(500);
    expect(alarms.get(`visit-${id}`)).toMatchObject({ code: 'visit-not-saved' });
    await clock.advance(10_000);
    expect(alarms.size).toBe(1);
    breakStore(undefined);
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
    changeSettings({ ...settings, tolerances: { ...settings.tolerances, o2Percent: 0.5 } });
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

  it('give no time when the computer slept while one ran: 20 s of 80 s would pass a control that locks out in 45', async () => {
    const { id } = await begin('service');
    const watch = (act: 'press' | 'lap' | 'reset') => service.handlers['visit.watch']({ id, test: 'lockout-no-ignition', act }, caller);
    await watch('press');
    await clock.advance(20_000);
    clock.jumpWall(60_000);
    expect(codeOf(await watch('press'))).toBe('watch-time-lost');
    expect(last('visit.watches')).toEqual({ watches: [] });
    // the next press is a new start
    await watch('press');
    await clock.advance(15_000);
    expect(value(await watch('press')).watches).toMatchObject([{ elapsedS: 15, running: false }]);
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
