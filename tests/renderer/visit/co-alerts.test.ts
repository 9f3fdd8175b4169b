import { describe, expect, it } from 'vitest';
import { flueCoAlert, roomCoAlert, standingCoAlarm, visitAlerts } from '../../../renderer/state/co-alerts.ts';
import type { RunRecord } from '../../../renderer/state/run-record.ts';
import { newVisit, type Visit } from '../../../shared/tuning/visit.ts';

const visitWith = (ppm: number | undefined): Visit => ({
  ...newVisit({ id: 'v', number: 1, kind: 'service', startedWallMs: 0, zoneMinutes: 0, unitPreset: 'metric', adjusters: [] }),
  roomCo: ppm === undefined ? [] : [{ wallMs: 1, ppm }],
});
const recordWith = (co: object, airFree: number | undefined): RunRecord =>
  ({
    info: { phase: 'running', source: { kind: 'serial' } },
    face: {
      timeMs: 0,
      states: { co: { channel: 'co', sinceMs: 0, timeMs: 0, band: 10, ...co } },
      derived: { timeMs: 0, values: airFree === undefined ? {} : { coAirFreePpm: airFree }, expanded: {}, blank: {} },
    },
  }) as unknown as RunRecord;

// levels: product description (9 notice, 35 stop, 100 out; 100 and 400 air-free in the flue), common practice as stated there
describe('CO in the room', () => {
  it.each([
    [undefined, undefined],
    [2, undefined],
    [8.9, undefined],
    [9, 'notice'],
    [34.9, 'notice'],
    [35, 'alarm'],
    [100, 'alarm'],
  ])('%s ppm: %s', (ppm, kind) => {
    expect(roomCoAlert(visitWith(ppm))?.kind).toBe(kind);
  });
  it('says what to do first, and can not be closed', () => {
    expect(roomCoAlert(visitWith(35))?.strong).toMatch(/^Shut the burner off, open up, get people out of the room\./);
    expect(roomCoAlert(visitWith(120))?.strong).toMatch(/^Everybody out now\./);
    expect(roomCoAlert(visitWith(120))?.dismiss).toBeUndefined();
  });
});

describe('CO in the flue', () => {
  it.each([
    ['low', { state: 'settled', value: 12 }, 17, undefined],
    ['notice', { state: 'settled', value: 80 }, 100, 'notice'],
    ['alarm', { state: 'moving', value: 300 }, 400, 'alarm'],
    ['measured alone decides where air-free is blank', { state: 'settled', value: 450 }, undefined, 'alarm'],
    ['an over-range cell is an alarm', { state: 'absent', reason: 'over-range' }, undefined, 'alarm'],
    ['another absence is none', { state: 'absent', reason: 'warming-up' }, undefined, undefined],
    ['silence is said elsewhere', { state: 'silent' }, 900, undefined],
  ] as const)('%s', (_name, co, airFree, kind) => {
    expect(flueCoAlert(recordWith(co, airFree))?.kind).toBe(kind);
  });
  it('takes raised limits, which carry a reason', () => {
    expect(
      flueCoAlert(recordWith({ state: 'settled', value: 300 }, 420), { noticePpm: 300, alarmPpm: 600, reason: 'old cast boiler' })?.kind,
    ).toBe('notice');
  });
  it('comes after the room', () => {
    const alerts = visitAlerts(recordWith({ state: 'settled', value: 500 }, 600), visitWith(40));
    expect(alerts.map(({ key }) => key)).toEqual(['room-co', 'flue-co']);
  });
});

describe('CO typed from a display', () => {
  // such a run has states that have not spoken: there is no stream to judge
  const typed = (airFree: number | undefined): RunRecord => {
    const record = recordWith({ state: 'absent', timeMs: 5000 }, airFree);
    return { ...record, info: { ...record.info, source: { kind: 'typed' } } };
  };
  it('alarms as a measured one does', () => {
    expect(flueCoAlert(typed(1150))?.kind).toBe('alarm');
    expect(flueCoAlert(typed(150))?.kind).toBe('notice');
    expect(flueCoAlert(typed(20))).toBeUndefined();
    expect(flueCoAlert(typed(undefined))).toBeUndefined();
  });
});

describe('the alarm on every screen', () => {
  const record = recordWith({ state: 'settled', value: 900 }, 1150);
  const state = (workspace: 'tune' | 'bench', visit?: Visit) => ({ workspace, visit, runId: 'run', runs: { run: record } });
  it('is the flue’s in Tune, and elsewhere when the run is the visit’s; bottled gas on the bench is none', () => {
    expect(standingCoAlarm(state('tune'))?.key).toBe('flue-co');
    expect(standingCoAlarm(state('bench'))).toBeUndefined();
    const visit: Visit = { ...visitWith(2), runs: [{ id: 'run', startWallMs: 0, source: 'port' }] };
    expect(standingCoAlarm(state('bench', visit))?.key).toBe('flue-co');
  });
  it('is the room’s first, wherever one looks', () => {
    expect(standingCoAlarm(state('bench', visitWith(40)))?.key).toBe('room-co');
    expect(standingCoAlarm(state('tune', visitWith(120)))?.key).toBe('room-co');
    expect(standingCoAlarm(state('bench', visitWith(10)))).toBeUndefined();
  });
});
