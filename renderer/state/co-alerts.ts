/** CO in the room as it is known now, and CO in the flue against its limits. Pure. */
import { flueCoDefaults, flueCoLevel, roomCoLevel, type FlueCoLimits } from '../../shared/tuning/cautions.ts';
import type { Visit } from '../../shared/tuning/visit.ts';
import { hasNotSpoken } from '../../shared/measurement/state.ts';
import { flueCoWords, roomCoWords } from '../../shared/words/tune.ts';
import { alarmWords } from '../../shared/words/visit.ts';
import { formatNumber, withUnit } from '../format/quantity.ts';
import type { RunRecord } from './run-record.ts';
import type { AppState } from './store.ts';
import type { Alert } from './top-alert.ts';

const ppmText = (ppm: number): string => withUnit(formatNumber(ppm, 0), 'ppm');

export type RoomCo = { ppm: number; from: 'typed' | 'instrument' };
const known = new WeakMap<object, RoomCo>();

/** The last reading of the room that was written down. */
export function selectRoomCo({ visit }: Pick<AppState, 'visit'>): RoomCo | undefined {
  const last = visit?.roomCo.at(-1);
  if (last === undefined) return undefined;
  const before = known.get(last);
  if (before !== undefined) return before;
  const room: RoomCo = { ppm: last.ppm, from: 'typed' };
  known.set(last, room);
  return room;
}

/** Judged air-free, so that excess air does not hide it; an over-range cell is an alarm. */
export function flueCoAlert(record: RunRecord | undefined, limits: FlueCoLimits = flueCoDefaults): Alert | undefined {
  if (record === undefined || record.info.phase !== 'running') return undefined;
  const { states, derived } = record.face;
  const co = states.co;
  const airFreePpm = derived?.values.coAirFreePpm;
  // nothing to judge its rest by, as with figures typed from a display: the newest line is what is known
  const isNewest = co === undefined || record.info.source.kind === 'typed' || hasNotSpoken(co);
  if (isNewest && airFreePpm === undefined) return undefined;
  if (!isNewest && co.state === 'silent') return undefined;
  const overRange = !isNewest && co.state === 'absent' && co.reason === 'over-range';
  const measuredPpm = isNewest ? airFreePpm : co.state === 'absent' || co.state === 'suspect' ? undefined : co.value;
  const level = flueCoLevel({ airFreePpm: measuredPpm === undefined ? undefined : airFreePpm, measuredPpm, overRange }, limits);
  if (level === 'clear') return undefined;
  const ppm = ppmText(airFreePpm ?? measuredPpm ?? 0);
  return {
    kind: level,
    key: 'flue-co',
    strong: overRange ? flueCoWords.overRange : flueCoWords[level](ppm),
    rest: alarmWords.why,
    dismiss: undefined,
  };
}

export function roomCoAlert(visit: Visit | undefined): Alert | undefined {
  const room = selectRoomCo({ visit });
  if (room === undefined) return undefined;
  const level = roomCoLevel(room.ppm);
  if (level === 'clear') return undefined;
  return {
    kind: level === 'notice' ? 'notice' : 'alarm',
    key: 'room-co',
    strong: roomCoWords[level](ppmText(room.ppm)),
    rest: '',
    dismiss: undefined,
  };
}

/** Danger to people comes before everything else that is said. */
export const visitAlerts = (record: RunRecord | undefined, visit: Visit | undefined): Alert[] =>
  [roomCoAlert(visit), flueCoAlert(record, visit?.flueCoLimits)].filter((alert) => alert !== undefined);

/** The alarm that must be heard and seen wherever the person looks. Gas from a bottle on the bench is no alarm: the flue counts in its visit and in Tune. */
export function standingCoAlarm(state: Pick<AppState, 'visit' | 'workspace' | 'runs' | 'runId'>): Alert | undefined {
  const { visit, workspace, runs, runId } = state;
  const record = runId === undefined ? undefined : runs[runId];
  const isFlue = workspace === 'tune' || visit?.runs.some(({ id }) => id === runId) === true;
  return visitAlerts(isFlue ? record : undefined, visit).find(({ kind }) => kind === 'alarm');
}
