/** What endangers people, as the host knows it: the same in every window, whatever screen is in front. */
import { z } from 'zod';
import { roomCoLevel } from './cautions.ts';
import type { FlueCoWatch } from './flue-co-watch.ts';
import { defined } from '../../defined.ts';

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
  z.object({ key: z.literal('room-co'), visitId: z.string(), level: z.enum(['notice', 'stop', 'out']), ppm: z.number() }),
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
