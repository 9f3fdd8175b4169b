/** Alarms of CO as windows hear of them: at once when they begin, each once, and no longer than what they tell of is there. */
import { describe, expect, it } from 'vitest';
import { createAlarmService } from '../../../main/alarms/alarm-service.ts';
import type { RunInfo } from '../../../shared/ipc/run-info.ts';
import type { Alarm } from '../../../shared/tuning/advice/alarms.ts';
import { alarmSentence } from '../../../shared/words/tune/alarms.ts';
import { newVisit, type Visit } from '../../../shared/tuning/visit/visit.ts';
import { infoOf, stateOf } from '../../renderer/helpers/records.ts';

function openAlarms() {
  const told: (readonly Alarm[])[] = [];
  const infos = new Map<string, RunInfo>([['run', infoOf({ runId: 'run', phase: 'running' })]]);
  const service = createAlarmService({
    runInfo: (runId) => infos.get(runId),
    isOnBench: () => false,
    publish: (_, { alarms }) => void told.push(alarms),
  });
  let timeMs = 0;
  return {
    service,
    told,
    set: (runId: string, info: Partial<RunInfo> | undefined) =>
      info === undefined ? infos.delete(runId) : infos.set(runId, infoOf({ runId, ...info })),
    /** O2 at 4 %: air-free is 1.24 times as measured */
    lines: (co: number, count = 5, runId = 'run', more: object = {}): void => {
      for (let i = 0; i < count; i++)
        service.told(runId, { kind: 'sample', sample: { timeMs: (timeMs += 1000), values: { o2: 4, co }, ...more } });
    },
    levels: () => service.now().map(({ key, level }) => `${key} ${level}`),
  };
}
const visitOf = (more: Partial<Visit> = {}): Visit => ({
  ...newVisit({ id: 'v', number: 1, kind: 'service', startedWallMs: 0, zoneMinutes: 0, unitPreset: 'us', adjusters: [] }),
  ...more,
});
const room = (...ppm: number[]): Partial<Visit> => ({ roomCo: ppm.map((one, at) => ({ wallMs: at, ppm: one })) as never });

describe('CO in the flue', () => {
  it('is told with the line that brings another level; a figure that moves with the next batch, and only when it moved', () => {
    const { told, lines, service } = openAlarms();
    lines(50, 20);
    expect(told).toEqual([]);
    lines(600, 1);
    expect(told).toHaveLength(1);
    lines(700, 3);
    expect(told).toHaveLength(1);
    const batch = { kind: 'batch' } as never;
    service.told('run', batch);
    service.told('run', batch);
    expect(told).toHaveLength(2);
    lines(50, 3);
    expect(told.at(-1)).toEqual([]);
  });

  it.each(['paused', 'learning', 'running'] as const)('stays one while the run is %s', (phase) => {
    const { lines, set, service, levels } = openAlarms();
    lines(600);
    set('run', { phase });
    service.told('run', { kind: 'changed' } as never);
    expect(levels()).toEqual(['flue-co alarm']);
  });

  it.each(['lost', 'ended'] as const)('is none of now when the run is %s, and the windows hear so', (phase) => {
    const { lines, set, service, told } = openAlarms();
    lines(600);
    set('run', { phase });
    service.told('run', { kind: 'changed' } as never);
    expect([service.now(), told.at(-1)]).toEqual([[], []]);
  });

  it('is none of now while the instrument is silent, and is one again with the line that says so', () => {
    const { lines, service, levels } = openAlarms();
    lines(600);
    service.told('run', { kind: 'states', states: [stateOf('co', 'silent')] });
    expect(levels()).toEqual([]);
    lines(600, 1);
    expect(levels()).toEqual(['flue-co alarm']);
  });

  it.each(['restarted', 'resumed'] as const)('a run that %s has no alarm from before: the next lines say what is', (kind) => {
    const { lines, service, told, levels } = openAlarms();
    lines(600);
    service.told('run', { kind });
    expect([service.now(), told.at(-1)]).toEqual([[], []]);
    lines(600, 1);
    expect(levels()).toEqual(['flue-co alarm']);
  });

  it.each(['restarted', 'lost'] as const)(
    'what comes back after the run was %s is no new start of the burner: no spike is made of an alarm',
    (what) => {
      const { lines, set, service, levels } = openAlarms();
      lines(600);
      if (what === 'restarted') service.told('run', { kind: 'restarted' });
      else
        for (const phase of ['lost', 'running'] as const) {
          set('run', { phase });
          service.told('run', { kind: 'changed' } as never);
        }
      // ten seconds of air, as when the probe is put back: not long enough for another start
      for (let at = 0; at < 10; at++) lines(0, 1, 'run', { values: { o2: 20.9, co: 0 } });
      lines(600, 2);
      expect(levels()).toEqual(['flue-co alarm']);
    },
  );

  it.each(['restarted', 'resumed'] as const)('a run that %s forgets what the probe breathed before', (kind) => {
    const { lines, service, levels } = openAlarms();
    service.told('run', { kind: 'states', states: [stateOf('co', 'suspect', { reason: 'fresh-air' })] });
    lines(600);
    expect(levels()).toEqual([]);
    service.told('run', { kind });
    lines(600);
    expect(levels()).toEqual(['flue-co alarm']);
  });

  it.each(['purge', 'zeroing', 'warming-up'])('an instrument that says it does not measure (%s) is believed', (state) => {
    const { lines, levels } = openAlarms();
    lines(600, 5, 'run', { state });
    expect(levels()).toEqual([]);
  });

  it('of two runs are two alarms', () => {
    const { lines, set, levels } = openAlarms();
    set('other', { phase: 'running' });
    lines(600);
    lines(90, 5, 'other');
    expect(levels()).toEqual(['flue-co alarm', 'flue-co notice']);
  });
});

describe('the limits of a visit', () => {
  it('count for its runs, also for one that it took in later, until they are taken back or the visit has ended', () => {
    const { lines, service, levels } = openAlarms();
    const limits = { flueCoLimits: { noticePpm: 10, alarmPpm: 50 } };
    const runs = { runs: [{ id: 'run', source: 'port' }] as never };
    service.visitStored(visitOf(limits));
    lines(100);
    expect(levels()).toEqual(['flue-co notice']);
    service.visitStored(visitOf({ ...limits, ...runs }));
    lines(100);
    expect(levels()).toEqual(['flue-co alarm']);
    expect(service.visits()).toEqual(['v']);
    service.visitStored(visitOf(runs));
    lines(100);
    expect(levels()).toEqual(['flue-co notice']);
    service.visitStored(visitOf({ ...limits, ...runs }));
    service.visitRemoved('v');
    lines(100);
    expect(levels()).toEqual(['flue-co notice']);
    expect(service.visits()).toEqual([]);
  });

  it('count for a run that was started for it', () => {
    const { lines, set, service, levels } = openAlarms();
    set('run', { phase: 'running', visitId: 'v' });
    service.visitStored(visitOf({ flueCoLimits: { noticePpm: 10, alarmPpm: 50 } }));
    lines(100);
    expect(levels()).toEqual(['flue-co alarm']);
  });

  it('a run goes back to the usual limits when its visit is removed, and not when another one is', () => {
    const { lines, service, levels } = openAlarms();
    service.visitStored(visitOf({ flueCoLimits: { noticePpm: 500, alarmPpm: 2000 }, runs: [{ id: 'run', source: 'port' }] as never }));
    service.visitStored(visitOf({ id: 'w', runs: [] }));
    lines(350);
    expect(levels()).toEqual([]);
    service.visitRemoved('w');
    lines(350);
    expect(levels()).toEqual([]);
    service.visitRemoved('v');
    lines(350);
    expect(levels()).toEqual(['flue-co alarm']);
  });
});

describe('CO in the room', () => {
  it('is an alarm from the last figure that was written down, until it is lower, the visit has ended or was removed', () => {
    const { service, told } = openAlarms();
    service.visitStored(visitOf(room(120)));
    expect(service.now()).toEqual([{ key: 'room-co', visitId: 'v', level: 'out', ppm: 120 }]);
    expect(told).toHaveLength(1);
    service.visitStored(visitOf(room(120, 40)));
    expect(service.now()).toMatchObject([{ level: 'stop', ppm: 40 }]);
    service.visitStored(visitOf(room(120, 40, 5)));
    expect([service.now(), told.at(-1)]).toEqual([[], []]);
    service.visitStored(visitOf(room(40)));
    service.visitStored(visitOf({ ...room(40), endedWallMs: 5 }));
    expect([service.now(), told.at(-1)]).toEqual([[], []]);
    service.visitStored(visitOf(room(40)));
    service.visitStored(visitOf({ ...room(40), signature: { name: 'A', wallMs: 1, hash: 'x', editsBefore: 0 } }));
    expect(service.now()).toEqual([]);
    service.visitStored(visitOf(room(40)));
    service.visitRemoved('v');
    expect([service.now(), told.at(-1)]).toEqual([[], []]);
  });
});

// levels: product description (9 notice, 35 burner off and out of the room, 100 everybody out)
describe('CO in the room, where the instrument has a meter for it', () => {
  const room = (ambientCo: number) => ({ values: { o2: 4, co: 10, ambientCo } });

  it('is an alarm from the line that shows it until one shows less, with a visit or without', () => {
    const { lines, levels, service, told } = openAlarms();
    lines(10, 1, 'run', room(8));
    expect(levels()).toEqual([]);
    lines(10, 1, 'run', room(9));
    expect(levels()).toEqual(['room-co notice']);
    lines(10, 1, 'run', room(35));
    expect([service.now(), told.at(-1)]).toEqual(new Array(2).fill([{ key: 'room-co', runId: 'run', level: 'stop', ppm: 35 }]));
    lines(10, 1, 'run', room(150));
    expect(levels()).toEqual(['room-co out']);
    // a line without a figure, or none at all, says nothing new of the room
    lines(10);
    service.told('run', { kind: 'states', states: [stateOf('co', 'silent')] });
    expect(levels()).toEqual(['room-co out']);
    lines(10, 1, 'run', room(3));
    expect([service.now(), told.at(-1)]).toEqual([[], []]);
  });

  it('over the range of its meter is the gravest', () => {
    const { lines, levels, service } = openAlarms();
    lines(10, 1, 'run', { absent: { ambientCo: 'over-range' } });
    expect(levels()).toEqual(['room-co out']);
    expect(service.now().map((alarm) => alarmSentence(alarm).strong)).toEqual([
      'Everybody out now. More than the meter can show of CO in the room. Call for help from outside; do not stay to ventilate.',
    ]);
  });

  it('of a run that ended or is away is none of now, and neither is what is replayed', () => {
    const { lines, set, service, levels } = openAlarms();
    lines(10, 1, 'run', room(150));
    set('run', { phase: 'lost' });
    service.told('run', { kind: 'changed' } as never);
    expect(levels()).toEqual([]);
    set('old', { phase: 'running', source: { kind: 'replay' } as never });
    lines(10, 1, 'old', room(150));
    expect(levels()).toEqual([]);
  });
});
