import { z } from 'zod';
import { channelIds, type ChannelId } from './channel.ts';

/** Why a channel has no value although the line came. Absent is never zero and never the last value. */
export const absentReasons = [
  'over-range',
  'under-range',
  'error',
  'warming-up',
  'not-fitted',
  'blank',
  'not-a-number',
  'not-measuring',
  'two-values',
  'corrected',
] as const;
export type AbsentReason = (typeof absentReasons)[number];

/** What the instrument says it is doing, when it says so. Only *measuring* (or nothing said) gives readings. */
export const instrumentStates = ['measuring', 'warming-up', 'purge', 'zeroing', 'hold', 'fault'] as const;
export type InstrumentState = (typeof instrumentStates)[number];

/** A censored value: the instrument sent '>2000' or '<5'. */
export type Bound = { kind: 'above' | 'below'; value: number };

const perChannel = <T extends z.ZodType>(schema: T) => z.partialRecord(z.enum(channelIds), schema);

/** One line, understood. Inner units; `timeMs` is ms since the start of the run (stamped once, when the bytes came). */
export const Sample = z.object({
  timeMs: z.number(),
  values: perChannel(z.number()),
  absent: perChannel(z.enum(absentReasons)).optional(),
  bounds: perChannel(z.object({ kind: z.enum(['above', 'below']), value: z.number() })).optional(),
  state: z.enum(instrumentStates).optional(),
  /** words of the status column that the recipe has no meaning for; shown, never dropped */
  words: z.string().optional(),
  /** the instrument's own clock, ms since its first value in this run; kept, never trusted live */
  instrumentMs: z.number().optional(),
});
export type Sample = {
  timeMs: number;
  values: Partial<Record<ChannelId, number>>;
  absent?: Partial<Record<ChannelId, AbsentReason>> | undefined;
  bounds?: Partial<Record<ChannelId, Bound>> | undefined;
  state?: InstrumentState | undefined;
  words?: string | undefined;
  instrumentMs?: number | undefined;
};
