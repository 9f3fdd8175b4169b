/** What endangers people, as the host knows it: the same in every window, whatever screen is in front. */
import { z } from 'zod';
import type { Sample } from '../../measurement/sample.ts';
import { roomCoLevel, roomCoLevels } from './cautions.ts';
import type { FlueCoWatch } from './flue-co-watch.ts';
import { defined } from '../../defined.ts';
import type { Visit } from '../visit/visit.ts';

export const Alarm = z.discriminatedUnion('key', [
  z.object({
    key: z.literal('flue-co'),
    runId: z.string(),
    level: z.enum(['notice', 'alarm']),
    /** run time at which the level began */
    sinceMs: z.number(),
    /** air-free, or as measured where air-free is not defined; absent when the cell is over its range */
    ppm: z.number().optional(),
    isAirFree: z.boolean(),
    overRange: z.boolean(),
    /** at light-off: the highest so far. CO above the alarm limit is a notice while it falls */
    spikePeakPpm: z.number().optional(),
  }),
  z.object({
    key: z.literal('room-co'),
    /** whose room was typed */
    visitId: z.string().optional(),
    /** whose instrument measures it now */
    runId: z.string().optional(),
    level: z.enum(['notice', 'stop', 'out']),
    /** when the meter is over its range: no figure to show, yet from where everybody has to be out */
    ppm: z.number(),
    overRange: z.boolean().optional(),
  }),
]);
export type Alarm = z.infer<typeof Alarm>;
export type FlueCoAlarm = Extract<Alarm, { key: 'flue-co' }>;
export type RoomCoAlarm = Extract<Alarm, { key: 'room-co' }>;

export function flueCoAlarm(runId: string, { level, sinceMs, ppm, isAirFree, overRange, spike }: FlueCoWatch): FlueCoAlarm | undefined {
  if (level === 'clear') return undefined;
  return {
    key: 'flue-co',
    runId,
    level,
    sinceMs,
    ...defined({ ppm: ppm !== undefined ? Math.round(ppm) : undefined }),
    isAirFree,
    overRange,
    ...defined({ spikePeakPpm: spike !== undefined && !spike.hasEased ? Math.round(spike.peakPpm) : undefined }),
  };
}

/** The last reading of the room that was written down counts. */
export function roomCoAlarm(visitId: string, roomCo: readonly { readonly ppm: number }[]): RoomCoAlarm | undefined {
  const last = roomCo.at(-1);
  const level = last === undefined ? 'clear' : roomCoLevel(last.ppm);
  return last === undefined || level === 'clear' ? undefined : { key: 'room-co', visitId, level, ppm: last.ppm };
}

/**
 * What an instrument's own meter of the room says now. A line without a figure says nothing new; a meter over its range hides more than it has shown.
 *
 * @param before what it said before this line
 */
export function measuredRoomCo(
  runId: string,
  { values, absent, bounds }: Sample,
  before: RoomCoAlarm | undefined,
): RoomCoAlarm | undefined {
  const overRange = absent?.ambientCo === 'over-range';
  const shown = values.ambientCo ?? (overRange ? Math.max(roomCoLevels.outPpm, bounds?.ambientCo?.value ?? 0) : undefined);
  if (shown === undefined) return before;
  const level = overRange ? 'out' : roomCoLevel(shown);
  if (level === 'clear') return undefined;
  return { key: 'room-co', runId, level, ppm: Math.round(shown), ...(overRange ? { overRange } : {}) };
}

/** @returns ppm of CO in the room that an instrument of this visit measures now, where what was written down last is not as grave; otherwise undefined */
export function roomNotWritten({ runs, roomCo }: Pick<Visit, 'runs' | 'roomCo'>, alarms: readonly Alarm[]): number | undefined {
  const written = graveness(roomCoLevel(roomCo.at(-1)?.ppm ?? 0));
  const measured = alarms.filter((alarm) => alarm.key === 'room-co' && runs.some(({ id }) => id === alarm.runId));
  const worst = measured.filter(({ level }) => level !== 'notice' && graveness(level) > written).map(({ ppm }) => ppm ?? 0);
  return worst.length === 0 ? undefined : Math.max(...worst);
}
const graveness = (level: string): number => ['clear', 'notice', 'stop', 'out'].indexOf(level);
