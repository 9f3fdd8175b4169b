/**
 * A line recipe: how one instrument's lines become channel values. A JSON document that people share, so every part has a safe
 * default, unknown keys are dropped and everything is bounded. Columns and registers count from 0.
 */
import { z } from 'zod';
import '../zod-setup.ts';
import { ChannelId } from './channel-schema.ts';
import { absentReasons, instrumentStates } from './sample.ts';
import { SentUnit } from './sent-unit.ts';
import { Shape, shortText } from './recipe-shape.ts';

/** Where a field stands: column or register number, key / JSON path / group name / `TAG.column`, or characters of a fixed line. */
export const FieldPlace = z.union([
  z.number().int().min(0).max(511),
  z.string().min(1).max(80),
  z.object({ start: z.number().int().min(0).max(4095), end: z.number().int().min(1).max(4096) }),
]);
export type FieldPlace = z.infer<typeof FieldPlace>;

const AbsentReason = z.enum(absentReasons);
const finite = z.number().refine(Number.isFinite);

export const RecipeField = z.object({
  channel: ChannelId,
  at: FieldPlace,
  unit: SentUnit,
  /** the column's name as sent; a header line that moves the columns is followed by this name */
  name: shortText.optional(),
  /** inner = unit conversion of (sent * scale + offset); -1 turns a draft sent as positive suction */
  scale: finite.refine((scale) => Math.abs(scale) >= 1e-12 && Math.abs(scale) <= 1e12).default(1),
  offset: finite.min(-1e12).max(1e12).default(0),
  /** inner unit; outside it the channel is absent as over- or under-range */
  valid: z.tuple([finite, finite]).optional(),
});
export type RecipeField = z.infer<typeof RecipeField>;

export const Framing = z.object({
  baud: z.number().int().min(50).max(4_000_000).default(9600),
  dataBits: z.union([z.literal(7), z.literal(8)]).default(8),
  parity: z.enum(['none', 'even', 'odd']).default('none'),
  stopBits: z.union([z.literal(1), z.literal(2)]).default(1),
  flow: z.enum(['none', 'xon-xoff', 'rts-cts']).default('none'),
  /** absent = left as the system sets it */
  dtr: z.boolean().optional(),
  rts: z.boolean().optional(),
  /** absent = CR, LF and their pairs alike */
  terminator: z.string().min(1).max(8).optional(),
  encoding: z.enum(['ascii', 'latin1', 'utf8', 'cp437']).default('latin1'),
  longestLine: z.number().int().min(16).max(65_536).default(1024),
});
export type Framing = z.infer<typeof Framing>;

/** Bytes are sent only with the user's consent, which is bound to this recipe's hash and the device. */
export const Polling = z.object({
  /** text as sent, terminator included; control bytes as they are */
  command: z.string().min(1).max(200),
  intervalMs: z.number().int().min(50).max(3_600_000).default(1000),
  /** absent = three times the usual answer, at least 500 ms */
  timeoutMs: z.number().int().min(100).max(60_000).optional(),
  retries: z.number().int().min(0).max(10).default(2),
});
export type Polling = z.infer<typeof Polling>;

/** Where the instrument's own clock stands. It is kept, used as a difference when a file is read, never trusted live. */
export const RecipeTime = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('arrival') }),
  z.object({
    kind: z.literal('field'),
    at: FieldPlace,
    name: shortText.optional(),
    format: z.enum(['seconds', 'milliseconds', 'minutes', 'days', 'clock', 'date-time', 'day-of-year']),
    /** order of the date's parts */
    date: z.enum(['year-month-day', 'day-month-year', 'month-day-year']).optional(),
    /** a date in a column of its own */
    dateAt: FieldPlace.optional(),
    /** value at which a counter starts again from 0, in ms */
    wrapMs: z.number().positive().optional(),
  }),
]);
export type RecipeTime = z.infer<typeof RecipeTime>;

export const checkKinds = ['xor', 'sum', 'lrc', 'crc8', 'fletcher16', 'crc16-modbus', 'crc16-ccitt', 'crc16-xmodem'] as const;
export const LineCheck = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('none') }),
  z.object({
    kind: z.enum(checkKinds),
    /** text before the check, '' when it simply ends the line */
    lead: z.string().max(4).default('*'),
    /** how many leading characters are not covered ('$', ':') */
    skip: z.number().int().min(0).max(8).default(0),
    /** is the lead covered too? */
    coversLead: z.boolean().default(false),
    as: z.enum(['hex', 'hex-swapped', 'decimal', 'byte']).default('hex'),
    /** digits of the check; decimal: at most so many */
    digits: z.number().int().min(1).max(8).default(2),
    /** the line is hex pairs and the check is taken over the bytes they stand for */
    overPairs: z.boolean().default(false),
  }),
]);
export type LineCheck = z.infer<typeof LineCheck>;

export const RecipeStatus = z.object({
  at: FieldPlace,
  name: shortText.optional(),
  words: z.record(z.string().max(40), z.enum(instrumentStates)).default({}),
  /** hex or decimal flags: the first row whose masked value equals wins */
  masks: z
    .array(z.object({ mask: z.number().int().min(0), equals: z.number().int().min(0), state: z.enum(instrumentStates) }))
    .max(32)
    .default([]),
  radix: z.union([z.literal(10), z.literal(16)]).default(16),
});
export type RecipeStatus = z.infer<typeof RecipeStatus>;

/** Says whether the values of its line are any. What other texts than the good ones mean: `createFlagReader`. */
export const RecipeFlag = z.object({
  at: FieldPlace,
  name: shortText.optional(),
  /** absent: of all */
  channel: ChannelId.optional(),
  /** in capital letters; a text that is not there is good, too */
  good: z.array(z.string().max(40)).max(32),
  means: AbsentReason.default('error'),
});
export type RecipeFlag = z.infer<typeof RecipeFlag>;

export const Ignore = z.object({
  /** lines that begin so are comments, echoes, banners or prompts */
  prefixes: z.array(z.string().min(1).max(80)).max(64).default([]),
  /** what a log writes before each message, cut off before the line is read: see `peelLog` */
  logPrefix: z.boolean().default(false),
  /** texts cut from the front of a line before it is read (a prompt left before the answer) */
  prompts: z.array(z.string().min(1).max(80)).max(16).default([]),
  /** the first line of the stream was cut while opening */
  firstLine: z.boolean().default(false),
});

export const LineRecipe = z.object({
  format: z.literal('flueside-recipe'),
  version: z.literal(1),
  name: z.string().min(1).max(120),
  /** counts up when the recipe is saved with other contents; absent = 1 */
  revision: z.number().int().min(1).max(9999).optional(),
  note: z.string().max(2000).optional(),
  framing: Framing.prefault({}),
  polling: Polling.optional(),
  shape: Shape,
  fields: z.array(RecipeField).min(1).max(32),
  time: RecipeTime.default({ kind: 'arrival' }),
  check: LineCheck.default({ kind: 'none' }),
  status: RecipeStatus.optional(),
  flags: z.array(RecipeFlag).max(16).optional(),
  /** a person has said that CO is measured, or corrected CO has a column of its own: a banner about it changes nothing */
  coBasisKnown: z.boolean().optional(),
  ignore: Ignore.prefault({}),
  decimal: z.enum(['.', ',']).default('.'),
  /** blanks, apostrophes and underscores between digits are taken out where this names them */
  thousands: z.enum(['none', 'blank', 'apostrophe', 'comma', 'point', 'underscore']).default('none'),
  /** words in a value's place, beside the usual ones */
  words: z.record(z.string().min(1).max(40), AbsentReason).default({}),
  /** numbers that mean 'no value'; `channel` limits it to one */
  sentinels: z
    .array(z.object({ value: finite, means: AbsentReason, channel: ChannelId.optional() }))
    .max(64)
    .default([]),
  /** print on key press: no line for a while is no alarm */
  onKey: z.boolean().default(false),
});
export type LineRecipe = z.infer<typeof LineRecipe>;
/** A recipe as it may be written by hand: everything with a default may be left out. */
export type LineRecipeInput = z.input<typeof LineRecipe>;
