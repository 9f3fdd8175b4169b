/** A probe in the air of the room reads that air: CO that does not go out of it is in the room, whatever O2 says. */
import { expect, it } from 'vitest';
import { createAlarmService } from '../../../main/alarms/alarm-service.ts';
import type { RunInfo } from '../../../shared/ipc/run-info.ts';
import type { StateReason } from '../../../shared/measurement/state.ts';
import type { Visit } from '../../../shared/tuning/visit/visit.ts';
import { infoOf, stateOf } from '../../renderer/helpers/records.ts';

function openProbe(info: Partial<RunInfo> = {}, { isOnBench = false } = {}) {
  const service = createAlarmService({
    runInfo: () => infoOf({ phase: 'running', ...info }),
    isOnBench: () => isOnBench,
    publish: () => undefined,
  });
  let timeMs = 0;
  return {
    breathes: (reason: StateReason | undefined): void =>
      service.told('run', { kind: 'states', states: (['co', 'o2'] as const).map((channel) => stateOf(channel, 'suspect', { reason })) }),
    lines(seconds: number, values: { o2: number; co?: number }, more: object = {}): void {
      for (let at = 0; at < seconds; at++) service.told('run', { kind: 'sample', sample: { timeMs: (timeMs += 1000), values, ...more } });
    },
    stored: (...ppm: number[]): void =>
      service.visitStored({ id: 'v', runs: [{ id: 'run' }], roomCo: ppm.map((one, at) => ({ wallMs: at, ppm: one })) } as unknown as Visit),
    restarted: (): void => service.told('run', { kind: 'restarted' } as never),
    alarms: () => service.now().map((one) => (one.key === 'room-co' ? `room ${one.level} ${one.ppm}` : `flue ${one.level}`)),
  };
}

it.each(['fresh-air', 'probe-out'] as const)('CO that stays in the air that is breathed (%s) is CO in the room', (reason) => {
  const probe = openProbe();
  probe.breathes(reason);
  // the cell lets go of what was in the flue
  probe.lines(170, { o2: 20.8, co: 150 });
  expect(probe.alarms()).toEqual([]);
  probe.lines(20, { o2: 20.8, co: 150 });
  expect(probe.alarms()).toEqual(['room out 150']);
  probe.lines(1, { o2: 20.8, co: 60 });
  expect(probe.alarms()).toEqual(['room stop 60']);
  // a line without CO says nothing new
  probe.lines(1, { o2: 20.8 });
  expect(probe.alarms()).toEqual(['room stop 60']);
  probe.lines(1, { o2: 20.8, co: 34 });
  expect(probe.alarms()).toEqual([]);
});

it('a cell that lets go of the flue in three minutes is no alarm, nor is a zero that is off by less than the stop of the job', () => {
  const probe = openProbe();
  probe.breathes('fresh-air');
  // T90 of 60 s from 2 000 ppm
  for (let at = 0; at < 400; at++) {
    probe.lines(1, { o2: 20.8, co: 2000 * 10 ** (-at / 60) + 20 });
    expect(probe.alarms()).toEqual([]);
  }
});

it('flue gas says nothing of the room: what was found stays until air has less; a new start of the run forgets it', () => {
  const probe = openProbe();
  probe.breathes('fresh-air');
  probe.lines(200, { o2: 20.8, co: 80 });
  probe.breathes(undefined);
  probe.lines(60, { o2: 5, co: 10 });
  expect(probe.alarms()).toEqual(['room stop 80']);
  probe.breathes('fresh-air');
  probe.lines(60, { o2: 20.8, co: 80 });
  expect(probe.alarms()).toEqual(['room stop 80']);
  probe.restarted();
  expect(probe.alarms()).toEqual([]);
});

it('a reading of the room that is written down ends what the probe said of it before, but not what it says now', () => {
  const probe = openProbe();
  probe.stored(0);
  probe.breathes('fresh-air');
  probe.lines(200, { o2: 20.8, co: 80 });
  probe.stored(0, 4);
  probe.lines(1, { o2: 20.8, co: 80 });
  expect(probe.alarms()).toEqual(['room stop 80']);
  probe.breathes(undefined);
  probe.lines(1, { o2: 5, co: 10 });
  // something else of the visit was written
  probe.stored(0, 4);
  expect(probe.alarms()).toEqual(['room stop 80']);
  probe.stored(0, 4, 3);
  expect(probe.alarms()).toEqual([]);
});

it('over the range of the cell everybody has to be out', () => {
  const probe = openProbe();
  probe.breathes('fresh-air');
  probe.lines(200, { o2: 20.8 }, { absent: { co: 'over-range' } });
  expect(probe.alarms()).toEqual(['room out 100']);
});

it('an instrument that sets its zero, a replay, figures typed from a display and gas from a bottle on the bench say nothing of the room', () => {
  for (const [info, bench, reason] of [
    [{}, false, 'zeroing'],
    [{}, false, 'warming-up'],
    [{ source: { kind: 'replay', runId: 'a', speed: 1 } }, false, 'fresh-air'],
    [{ source: { kind: 'typed' } }, false, 'fresh-air'],
    [{}, true, 'fresh-air'],
  ] as const) {
    const probe = openProbe(info as Partial<RunInfo>, { isOnBench: bench });
    probe.breathes(reason);
    probe.lines(300, { o2: 20.8, co: 150 });
    expect(probe.alarms()).toEqual([]);
  }
});
