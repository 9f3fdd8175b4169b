import { z } from 'zod';
import { channelIds } from './channel.ts';
import { SettlingChannel } from './channel-schema.ts';

export const stateNames = ['moving', 'settling', 'settled', 'drifting', 'surging', 'absent', 'suspect', 'silent'] as const;
export type StateName = (typeof stateNames)[number];

/** A value with its 95 % interval, in the channel's inner unit. */
export const Interval = z.object({ value: z.number(), low: z.number(), high: z.number() });
export type Interval = z.infer<typeof Interval>;

/** Why a channel is absent, suspect, or excluded although numbers come. */
export const stateReasons = [
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
  'impossible',
  'stuck',
  'fresh-air',
  'probe-out',
  'dilution',
  'zeroing',
  'typed',
  'no-lines',
] as const;
export type StateReason = (typeof stateReasons)[number];

/** Where one channel stands now; judged from the samples so far only. */
export const ChannelState = z.object({
  channel: SettlingChannel,
  state: z.enum(stateNames),
  /** when this state began, ms since run start */
  sinceMs: z.number(),
  timeMs: z.number(),
  /** what was measured: the mean of the last second, or the last line; undefined when absent or silent */
  value: z.number().optional(),
  /** the model's value now, for the pin and the way still to go only; never shown as a figure */
  estimate: z.number().optional(),
  /** half-width of the band of rest, inner unit */
  band: z.number(),
  headingFor: Interval.optional(),
  /** seconds until settled */
  secondsLeft: Interval.optional(),
  /** which way it goes: -1, 0, 1 */
  direction: z.number().int().optional(),
  /** drifting: by how much it moves in a minute, inner unit, with its sign */
  perMinute: z.number().optional(),
  /** surging: the two ends of the swing, inner unit, and its period where it is regular */
  swing: z.object({ low: z.number(), high: z.number(), periodS: z.number().optional() }).optional(),
  reason: z.enum(stateReasons).optional(),
  /** the road to where it is heading, for the faint line on the trend; at most 24 points */
  forecast: z
    .array(z.object({ timeMs: z.number(), value: z.number() }))
    .max(24)
    .optional(),
});
export type ChannelState = z.infer<typeof ChannelState>;

/** Statistics of one channel over a settled stretch. `u` is the combined standard uncertainty (sensor and spread). */
export const ChannelStatistics = z.object({
  mean: z.number(),
  sd: z.number(),
  n: z.number().int(),
  /** effective sample size: autocorrelation counts */
  nEff: z.number(),
  u: z.number(),
  typed: z.boolean().optional(),
});
export type ChannelStatistics = z.infer<typeof ChannelStatistics>;

/** Means over a settled stretch. One per stretch; revised (same id) while the stretch lasts, `final` when it has ended. */
export const Reading = z.object({
  id: z.string(),
  scope: z.enum(['gas', 'full']),
  /** false when taken by hand before everything had settled */
  settled: z.boolean(),
  fromMs: z.number(),
  toMs: z.number(),
  /** when it was first offered */
  takenMs: z.number(),
  final: z.boolean(),
  channels: z.partialRecord(z.enum(channelIds), ChannelStatistics),
  /** the means of the moment `takenMs`; what the command line prints */
  first: z.partialRecord(z.enum(channelIds), z.number()).optional(),
});
export type Reading = z.infer<typeof Reading>;
