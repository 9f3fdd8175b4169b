/** CO in the air that the probe breathes: pulled out of the flue, or with a burner that is off, a gas instrument is a meter of the room. Pure. */
import type { Sample } from '../../measurement/sample.ts';
import type { RoomCoAlarm } from './alarms.ts';
import { roomCoLevel, roomCoLevels } from './cautions.ts';

/** `nothing`: it sets its zero, warms up or says that it does not measure */
export type Breathed = 'flue-gas' | 'air' | 'nothing';
export type BreathedAir = {
  /** air without a break since, run time */
  readonly fromMs: number | undefined;
  readonly alarm: RoomCoAlarm | undefined;
};

export const noAirBreathed: BreathedAir = { fromMs: undefined, alarm: undefined };

/** By then a cell has let go of what was in the flue: three times its T90, slow cells included. @source own choice; T90 of at most 60 s: common practice */
const CELL_EMPTY_MS = 180_000;

/**
 * From the stop of the job upwards: below that the zero of a cell made for flue gas may be as far off. What was found stays until air is breathed
 * that has less; flue gas says nothing of the room.
 */
export function watchAir(before: BreathedAir, runId: string, sample: Sample, breathed: Breathed): BreathedAir {
  if (breathed !== 'air') return before.fromMs === undefined ? before : { ...before, fromMs: undefined };
  const fromMs = before.fromMs ?? sample.timeMs;
  const overRange = sample.absent?.co === 'over-range';
  const shown = overRange ? roomCoLevels.outPpm : sample.values.co;
  if (shown !== undefined && shown < roomCoLevels.stopPpm) return { fromMs, alarm: undefined };
  const level = shown === undefined ? 'clear' : roomCoLevel(shown);
  if (shown === undefined || level === 'clear' || sample.timeMs - fromMs < CELL_EMPTY_MS) return { fromMs, alarm: before.alarm };
  return { fromMs, alarm: { key: 'room-co', runId, level, ppm: Math.round(shown), ...(overRange ? { overRange } : {}) } };
}
