import { describe, expect, it } from 'vitest';
import { coAlerts, measuredRoomAlarm, roomToLeave, standingCoAlarm, type AlarmFacts } from '../../../renderer/state/co-alerts.ts';
import { standingAlarmOf } from '../../../renderer/views/tune/mark-bar/main-deed.ts';
import { workspaces } from '../../../renderer/state/view-slice.ts';
import { roomCoAlarm, type Alarm } from '../../../shared/tuning/advice/alarms.ts';
import { newVisit, type Visit } from '../../../shared/tuning/visit/visit.ts';

const visit = (runs: Visit['runs'] = []): Visit => ({
  ...newVisit({ id: 'v', number: 1, kind: 'service', startedWallMs: 0, zoneMinutes: 0, unitPreset: 'metric', adjusters: [] }),
  runs,
});
const flue = (more: Partial<Extract<Alarm, { key: 'flue-co' }>> = {}): Alarm => ({
  key: 'flue-co',
  runId: 'run',
  level: 'alarm',
  sinceMs: 0,
  ppm: 650,
  isAirFree: true,
  overRange: false,
  ...more,
});
const room = (ppm: number, visitId = 'v'): Alarm[] => [roomCoAlarm(visitId, [{ ppm }])].filter((one) => one !== undefined);
const facts = (alarms: Alarm[], more: Partial<AlarmFacts> = {}): AlarmFacts => ({
  alarms,
  visit: undefined,
  workspace: 'tune',
  runs: { run: { info: { phase: 'running' } } } as unknown as AlarmFacts['runs'],
  runId: 'run',
  ...more,
});

// levels: product description (9 notice, 35 stop, 100 out), common practice as stated there
describe('CO in the room', () => {
  it.each([
    [2, undefined],
    [8.9, undefined],
    [9, 'notice'],
    [34.9, 'notice'],
    [35, 'alarm'],
    [100, 'alarm'],
  ])('%s ppm: %s', (ppm, kind) => {
    expect(coAlerts(facts(room(ppm), { visit: visit() }))[0]?.kind).toBe(kind);
  });
  it('says what to do first, and cannot be closed', () => {
    const said = (ppm: number) => coAlerts(facts(room(ppm), { visit: visit() }))[0];
    expect(said(35)?.strong).toMatch(/^Shut the burner off, open windows, get people out of the room\./);
    expect(said(120)?.strong).toMatch(/^Everybody out now\./);
    expect(said(120)?.dismiss).toBeUndefined();
  });
  it('of 100 ppm and more has to be left; of another visit that nobody measures it is not said', () => {
    expect(roomToLeave(facts(room(120), { visit: visit() }))).toBe(120);
    expect(roomToLeave(facts(room(99), { visit: visit() }))).toBeUndefined();
    expect(roomToLeave(facts(room(120, 'other'), { visit: visit() }))).toBeUndefined();
    const measured = { run: { info: { phase: 'running', visitId: 'other' } } } as unknown as AlarmFacts['runs'];
    expect(roomToLeave(facts(room(120, 'other'), { visit: visit(), runs: measured }))).toBe(120);
  });
});

describe('CO in the room as an instrument measures it', () => {
  const measured: Alarm = { key: 'room-co', runId: 'other', level: 'out', ppm: 150 };
  it('is told in every workspace, with any visit or none, and stops the advice; a meter that is stuck never locks the window', () => {
    for (const workspace of workspaces)
      for (const one of [undefined, visit()]) {
        const state = facts([measured], { workspace, visit: one });
        expect(standingCoAlarm(state)?.strong).toMatch(/^Everybody out now\. 150\sppm/);
        expect(measuredRoomAlarm(state)).toBe(150);
        expect(roomToLeave(state)).toBeUndefined();
        // the way out of it is in a visit
        expect(standingAlarmOf(state)).toBe(one === undefined ? undefined : 'room');
      }
    expect(measuredRoomAlarm(facts([{ ...measured, level: 'notice', ppm: 12 }]))).toBeUndefined();
  });
});

describe('CO in the flue', () => {
  it('comes after the room among alarms, and before it when the room is only a notice', () => {
    const keys = (ppm: number) => coAlerts(facts([...room(ppm), flue()], { visit: visit() })).map(({ key }) => key);
    expect(keys(40)).toEqual(['room-co', 'flue-co']);
    expect(keys(10)).toEqual(['flue-co', 'room-co']);
  });
  it('says the figure, and at light-off the highest', () => {
    expect(standingCoAlarm(facts([flue()]))?.strong).toMatch(/650.*air-free/);
    const spike = coAlerts(facts([flue({ level: 'notice', spikePeakPpm: 1800 })]))[0];
    expect(spike).toMatchObject({ kind: 'notice' });
    expect(spike?.strong).toMatch(/650.*light-off.*1.?800/);
    expect(standingCoAlarm(facts([flue({ ppm: undefined, overRange: true })]))?.strong).toMatch(/range/);
    expect(standingCoAlarm(facts([flue({ isAirFree: false })]))?.strong).toMatch(/as measured/);
  });
  it('is heard in every workspace when the run is a visit’s', () => {
    const ofVisit = visit([{ id: 'run', startWallMs: 0, source: 'port' }]);
    for (const workspace of workspaces) expect(standingCoAlarm(facts([flue()], { workspace, visit: ofVisit }))?.key).toBe('flue-co');
  });
  it('of a run without a visit is heard everywhere but on the bench, where it is gas from a bottle', () => {
    for (const workspace of workspaces)
      expect(standingCoAlarm(facts([flue()], { workspace }))?.key).toBe(workspace === 'bench' ? undefined : 'flue-co');
  });
});
