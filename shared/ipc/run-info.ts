import { z } from 'zod';
import { WallMs, ZoneMinutes } from '../wall-clock.ts';
import { CheckInfo, LineNotice } from '../measurement/line-notice.ts';
import { StoredTolerances } from '../measurement/limits.ts';
import { RunHeader, SourceInfo, gapReasons } from '../measurement/run.ts';
import { Mark, Setting } from '../measurement/mark.ts';
import { Problem } from '../problem-schema.ts';
import { ChannelId } from '../measurement/channel-schema.ts';
import { FieldPlace } from '../measurement/recipe.ts';
import { SentUnit } from '../measurement/sent-unit.ts';
import { evidenceKeys, evidenceKinds, troubles } from '../lines/learning/evidence.ts';

export const Counters = z.object({
  lines: z.number().int(),
  understood: z.number().int(),
  rejected: z.number().int(),
  ignored: z.number().int(),
  bytes: z.number().int(),
  linesPerSecond: z.number(),
  /** run time of the last line that gave a sample */
  lastGoodMs: z.number().optional(),
});
export type Counters = z.infer<typeof Counters>;

/** A run that is under way (or has just ended), as the source bar needs it. */
/** One column with its evidence, as the question about the columns shows it. */
const ShownEvidence = z.object({
  channel: z.union([ChannelId, z.literal('all')]),
  side: z.enum(['for', 'open', 'against']),
  kind: z.enum(evidenceKinds),
  strength: z.number(),
  key: z.enum(evidenceKeys),
  text: z.string().optional(),
  low: z.number().optional(),
  high: z.number().optional(),
});
export const ShownColumn = z.object({
  at: FieldPlace,
  name: z.string(),
  unitText: z.string(),
  examples: z.array(z.string()),
  taken: z.union([ChannelId, z.literal('time')]).optional(),
  unit: SentUnit.optional(),
  sureness: z.enum(['sure', 'look', 'none']),
  evidence: z.array(ShownEvidence),
});
export type ShownColumn = z.infer<typeof ShownColumn>;

export const RunInfo = z.object({
  runId: z.string(),
  phase: z.enum(['connecting', 'learning', 'running', 'lost', 'paused', 'ended']),
  source: SourceInfo,
  startWallMs: WallMs,
  zoneMinutes: ZoneMinutes,
  /** run time now */
  timeMs: z.number(),
  recipeName: z.string().optional(),
  recipeConfidence: z.number().optional(),
  /** a person has to look at the columns before anything is used; `hidden` further ones are not used */
  question: z.object({ columns: z.array(ShownColumn), hidden: z.number().int() }).optional(),
  /** no recipe was found: why, and what was seen */
  refusal: z.object({ trouble: z.enum(troubles), columns: z.array(ShownColumn), lines: z.number().int() }).optional(),
  /** figures of an instrument that nobody has compared with its display: shown, and not used before */
  display: z
    .object({
      values: z.partialRecord(ChannelId, z.number()),
      columns: z.array(ShownColumn),
      line: z.string(),
    })
    .optional(),
  fuelId: z.string(),
  /** set for this fuel by a person; absent: from its analysis */
  co2MaxPercent: z.number().optional(),
  typedAirC: z.number().optional(),
  /** what its uncertainties are computed with, whatever the settings say today */
  tolerances: StoredTolerances.optional(),
  setting: Setting.optional(),
  channels: z.array(ChannelId),
  counters: Counters,
  /** why it is lost, and since when (run time) */
  problem: Problem.optional(),
  lostSinceMs: z.number().optional(),
  replay: z.object({ playing: z.boolean(), speed: z.number(), endMs: z.number() }).optional(),
  simulator: z
    .object({
      adjusters: z.array(z.object({ name: z.string(), min: z.number(), max: z.number(), step: z.number(), value: z.number() })),
      firing: z.boolean(),
    })
    .optional(),
  /** the recipe asks the instrument; nothing is sent before the user has seen `command` and agreed */
  polling: z
    .object({
      command: z.string(),
      intervalMs: z.number(),
      allowed: z.boolean(),
      sent: z.number().int(),
      answered: z.number().int(),
      timedOut: z.number().int(),
      late: z.number().int(),
      double: z.number().int(),
      /** ms; the usual time of an answer, once there were some */
      usualAnswerMs: z.number().optional(),
      /** no answers come: the questions are further apart now */
      isBackingOff: z.boolean(),
    })
    .optional(),
  visitId: z.string().optional(),
  /** so many visits have taught what the run began with */
  knownVisits: z.number().int().optional(),
  /** it began with what a bench test found of the instrument's cells */
  knowsInstrument: z.boolean().optional(),
  marks: z.array(Mark),
  notices: z.array(LineNotice).optional(),
  check: CheckInfo.optional(),
  /** the usual speeds are being listened to, one after the other; nothing is sent */
  tryingSpeeds: z.object({ baud: z.number().int(), tried: z.number().int(), of: z.number().int() }).optional(),
});
export type RunInfo = z.infer<typeof RunInfo>;

/** A stored run, as lists show it. */
export const RunSummary = z.object({
  runId: z.string(),
  header: RunHeader.omit({ recipe: true }),
  durationMs: z.number(),
  lines: z.number().int(),
  bytes: z.number().int(),
  ended: z.boolean(),
  damaged: z.boolean(),
});
export type RunSummary = z.infer<typeof RunSummary>;

export const GapSpan = z.object({ fromMs: z.number(), toMs: z.number().optional(), reason: z.enum(gapReasons) });
export type GapSpan = z.infer<typeof GapSpan>;

/** A stretch that is shown but not used: fresh air, zeroing, probe out ... */
export const ExcludedSpan = z.object({ fromMs: z.number(), toMs: z.number().optional(), reason: z.string() });
export type ExcludedSpan = z.infer<typeof ExcludedSpan>;

export const SettledSpan = z.object({ channel: z.string(), fromMs: z.number(), toMs: z.number().optional() });
export type SettledSpan = z.infer<typeof SettledSpan>;
