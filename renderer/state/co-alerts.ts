/** The host's alarms as this window shows them: which of them are told here, and in what words. Pure. */
import type { Alarm, RoomCoAlarm } from '../../shared/tuning/advice/alarms.ts';
import { isAlarming } from '../../shared/tuning/advice/alarm-level.ts';
import { alarmSentence } from '../../shared/words/tune/alarms.ts';
import type { AppState } from './store.ts';
import type { Alert } from './alert.ts';

export type AlarmFacts = Pick<AppState, 'alarms' | 'visit' | 'workspace' | 'runs' | 'runId'>;

const ofVisit = ({ visit, runs }: AlarmFacts, runId: string): boolean =>
  runs[runId]?.info.visitId !== undefined || visit?.runs.some(({ id }) => id === runId) === true;
const isUnderWay = ({ runs }: AlarmFacts, visitId: string): boolean =>
  Object.values(runs).some(({ info }) => info.visitId === visitId && info.phase !== 'ended');

/**
 * The flue's alarm is told for the run on screen and for every run of a visit. Gas from a bottle on the bench is none. The room's is told of the visit
 * in front, and of one that is being measured; one that an instrument measures now, always.
 */
function isToldHere(state: AlarmFacts, alarm: Alarm): boolean {
  if (alarm.key === 'room-co') return alarm.visitId === undefined || alarm.visitId === state.visit?.id || isUnderWay(state, alarm.visitId);
  return ofVisit(state, alarm.runId) || (alarm.runId === state.runId && state.workspace !== 'bench');
}

export const selectAlarms = (state: AlarmFacts): Alarm[] =>
  state.alarms.filter((alarm) => isToldHere(state, alarm)).sort((a, b) => Number(isAlarming(b)) - Number(isAlarming(a)));

const alertOf = (alarm: Alarm): Alert => ({
  kind: isAlarming(alarm) ? 'alarm' : 'notice',
  key: alarm.key,
  ...alarmSentence(alarm),
  dismiss: undefined,
});

/** Danger to people comes before everything else that is said. */
export const coAlerts = (state: AlarmFacts): Alert[] => selectAlarms(state).map(alertOf);

/** The alarm that must be heard and seen wherever the person looks. */
export const standingCoAlarm = (state: AlarmFacts): Alert | undefined => coAlerts(state).find(({ kind }) => kind === 'alarm');

type RoomTyped = RoomCoAlarm & { visitId: string };
const isToLeave = (alarm: Alarm): alarm is RoomTyped => alarm.key === 'room-co' && alarm.visitId !== undefined && alarm.level === 'out';
/** What the room has to be left for, as it was typed: a meter that is stuck may not lock the window. Undefined while nobody has to leave it. */
export const roomAlarmToLeave = (state: AlarmFacts): RoomTyped | undefined => selectAlarms(state).find(isToLeave);
export const roomToLeave = (state: AlarmFacts): number | undefined => roomAlarmToLeave(state)?.ppm;

/**
 * Whose room is alarming: a reading that is typed for it goes to that visit, whichever one is on screen.
 *
 * @returns the visit, the one in front before any other; 'none' where an instrument without a visit measures it
 */
export function roomIsOf(state: AlarmFacts): string | undefined {
  const front = state.visit?.id;
  const owners = selectAlarms(state).flatMap((alarm) => {
    if (alarm.key !== 'room-co' || !isAlarming(alarm)) return [];
    const { visitId, runId = '' } = alarm;
    return [visitId ?? (state.visit?.runs.some(({ id }) => id === runId) === true ? front : state.runs[runId]?.info.visitId) ?? 'none'];
  });
  return owners.find((owner) => owner === front) ?? owners.find((owner) => owner !== 'none') ?? owners[0];
}

/** CO in the flue is at the alarm now. */
export const flueCoAlarms = (state: AlarmFacts): boolean =>
  selectAlarms(state).some((alarm) => alarm.key === 'flue-co' && isAlarming(alarm));

/** CO in the room as an instrument measures it now, at its alarm: ppm. */
export const measuredRoomAlarm = (state: AlarmFacts): number | undefined =>
  selectAlarms(state).find((alarm) => alarm.key === 'room-co' && alarm.visitId === undefined && isAlarming(alarm))?.ppm;
