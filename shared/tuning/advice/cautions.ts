import { err, ok, type Result } from '../../result.ts';
import type { StepId } from '../visit/step-names.ts';

/** Each is shown once, at the step that needs it, and acknowledged. The sentences are in shared/words/visit/cautions.ts. */
export const cautionKeys = [
  'trained-people',
  'local-code',
  'not-a-safety-device',
  'room-co',
  'power-off',
  'high-voltage',
  'oil-pressure',
  'oil-in-chamber',
  'stand-aside',
  'hot-surfaces',
  'smoke-before-probe',
  'flue-co',
  'one-reset',
  'bypass',
  'hot-relight',
  'limits-back',
  'ports-closed',
] as const;
export type CautionKey = (typeof cautionKeys)[number];

export const cautionsOf = {
  start: ['trained-people', 'local-code', 'not-a-safety-device', 'room-co'],
  'set-up': ['power-off', 'high-voltage', 'oil-pressure', 'oil-in-chamber'],
  'as-found': ['oil-in-chamber', 'stand-aside', 'hot-surfaces', 'smoke-before-probe'],
  'warm-up': ['oil-in-chamber', 'stand-aside', 'hot-surfaces', 'smoke-before-probe'],
  'air-curve': ['flue-co', 'hot-surfaces', 'ports-closed'],
  'as-left': ['hot-surfaces', 'ports-closed'],
  safety: ['one-reset', 'bypass', 'hot-relight', 'limits-back', 'stand-aside'],
  report: ['local-code', 'not-a-safety-device'],
} as const satisfies Record<StepId, readonly CautionKey[]>;

export const unacknowledged = (step: StepId, acknowledged: readonly { key: string }[]): CautionKey[] =>
  cautionsOf[step].filter((key) => !acknowledged.some((done) => done.key === key));

/**
 * CO in the room, ppm as measured.
 *
 * @source 9 and 35: US ambient air standards, 8 h and 1 h; 100: NORA, Oilheat Technicians Manual, p 134-135
 */
export const roomCoLevels = { noticePpm: 9, stopPpm: 35, outPpm: 100 } as const;
export type RoomCoLevel = 'clear' | 'notice' | 'stop' | 'out';
export const roomCoLevel = (ppm: number): RoomCoLevel =>
  ppm >= roomCoLevels.outPpm ? 'out' : ppm >= roomCoLevels.stopPpm ? 'stop' : ppm >= roomCoLevels.noticePpm ? 'notice' : 'clear';

/** CO in the flue, ppm air-free. @source common practice */
export const flueCoDefaults = { noticePpm: 100, alarmPpm: 400 } as const;

/** A raised alarm limit needs a typed reason, which goes into the report. Lowering needs none. */
export type FlueCoLimits = { noticePpm: number; alarmPpm: number; reason?: string | undefined };
export type LimitRefusal =
  | { key: 'limit-needs-reason'; alarmPpm: number }
  | { key: 'limit-order' }
  | { key: 'limit-not-positive' }
  | { key: 'floor-needs-reason'; floorPercent: number }
  | { key: 'floor-not-possible' };

export const isRaised = ({ noticePpm, alarmPpm }: FlueCoLimits): boolean =>
  alarmPpm > flueCoDefaults.alarmPpm || noticePpm > flueCoDefaults.noticePpm;

export function setFlueCoLimits(wanted: FlueCoLimits): Result<FlueCoLimits, LimitRefusal> {
  if (!(wanted.noticePpm > 0 && wanted.alarmPpm > 0 && Number.isFinite(wanted.alarmPpm))) return err({ key: 'limit-not-positive' });
  if (wanted.noticePpm > wanted.alarmPpm) return err({ key: 'limit-order' });
  if (isRaised(wanted) && (wanted.reason ?? '').trim().length < 3) return err({ key: 'limit-needs-reason', alarmPpm: wanted.alarmPpm });
  return ok(wanted);
}

/** Below this O2 nothing is aimed at, whatever the card says. Own choice: carbon and CO come before any gain. */
export const O2_FLOOR_PERCENT = 2;
const O2_FLOOR_RANGE = { least: 0.5, most: 10 } as const;

/** The visit's own floor of O2. Raising needs no reason; a lower one does. */
export function setO2Floor(floorPercent: number, reason: string): Result<number, LimitRefusal> {
  if (!(floorPercent >= O2_FLOOR_RANGE.least && floorPercent <= O2_FLOOR_RANGE.most)) return err({ key: 'floor-not-possible' });
  if (floorPercent < O2_FLOOR_PERCENT && reason.trim().length < 3) return err({ key: 'floor-needs-reason', floorPercent });
  return ok(floorPercent);
}

export type FlueCoLevel = 'clear' | 'notice' | 'alarm';

/**
 * An over-range CO cell is an alarm: what it hides is higher than its range.
 * `airFreePpm` undefined with a known measured value (O2 above 15 %): judged as measured, which understates it.
 */
export function flueCoLevel(
  { airFreePpm, measuredPpm, overRange }: { airFreePpm: number | undefined; measuredPpm: number | undefined; overRange: boolean },
  limits: FlueCoLimits = flueCoDefaults,
): FlueCoLevel {
  if (overRange) return 'alarm';
  const ppm = airFreePpm ?? measuredPpm;
  if (ppm === undefined) return 'clear';
  return ppm >= limits.alarmPpm ? 'alarm' : ppm >= limits.noticePpm ? 'notice' : 'clear';
}
