import { describe, expect, it } from 'vitest';
import { createAlarmService } from '../../../main/alarms/alarm-service.ts';
import type { Alarm } from '../../../shared/tuning/advice/alarms.ts';
import { newVisit } from '../../../shared/tuning/visit/visit.ts';
import { infoOf } from '../../renderer/helpers/records.ts';

function openAlarms() {
  const told: (readonly Alarm[])[] = [];
  let onBench = false;
  const service = createAlarmService({
    runInfo: () => infoOf({ runId: 'run' }),
    isOnBench: () => onBench,
    publish: (_, { alarms }) => void told.push(alarms),
  });
  let timeMs = 0;
  return {
    service,
    told,
    bench: (on: boolean) => (onBench = on),
    lines(co: number, count = 5) {
      for (let i = 0; i < count; i++) service.told('run', { kind: 'sample', sample: { timeMs: (timeMs += 1000), values: { o2: 4, co } } });
    },
  };
}

describe('the gas of a bottle', () => {
  it('is no alarm of the flue while a test reads the run, and is one without a test', () => {
    const alarms = openAlarms();
    alarms.bench(true);
    alarms.lines(1000);
    expect(alarms.service.now()).toEqual([]);
    alarms.bench(false);
    alarms.lines(1000);
    expect(alarms.service.now()).toMatchObject([{ key: 'flue-co', level: 'alarm' }]);
    // a test that begins takes the alarm back, in the windows too
    alarms.bench(true);
    alarms.lines(1000, 1);
    expect([alarms.service.now(), alarms.told.at(-1)]).toEqual([[], []]);
  });
  it('is beside the meter of the room, which is heard while a test goes on', () => {
    const alarms = openAlarms();
    alarms.bench(true);
    alarms.lines(1000);
    alarms.service.told('run', { kind: 'sample', sample: { timeMs: 99_000, values: { co: 1000, ambientCo: 40 } } });
    expect([alarms.service.now(), alarms.told.at(-1)]).toEqual(
      new Array(2).fill([{ key: 'room-co', runId: 'run', level: 'stop', ppm: 40 }]),
    );
  });
  it('stays an alarm where a visit takes the run for its own', () => {
    const alarms = openAlarms();
    const visit = newVisit({ id: 'v', number: 1, kind: 'service', startedWallMs: 0, zoneMinutes: 0, unitPreset: 'us', adjusters: [] });
    alarms.service.visitStored({ ...visit, runs: [{ id: 'run', source: 'port' }] as never });
    alarms.bench(true);
    alarms.lines(1000);
    expect(alarms.service.now()).toMatchObject([{ key: 'flue-co', level: 'alarm' }]);
  });
});
