/** The shapes that lines come in: one variant of a union each, with what a reader of that shape has to know. */
import { z } from 'zod';

export const shortText = z.string().max(80);

/** A sample is gathered over several lines; it is complete when `order` starts again or its last member has come. */
const Gather = z.object({ order: z.array(shortText).min(1).max(64) });

const Columns = z.object({
  kind: z.literal('columns'),
  /** the delimiter itself, or 'blanks' (runs of blanks and tabs), or 'comma-or-semicolon' */
  delimiter: z.string().min(1).max(20),
  /** how many columns a good line has; absent = any number that reaches the last field */
  count: z.number().int().min(1).max(512).optional(),
  /** other column counts that are good too, and from which column on how many columns are inserted (negative: missing) */
  layouts: z
    .array(z.object({ count: z.number().int().min(1).max(512), from: z.number().int().min(0), shift: z.number().int() }))
    .max(8)
    .default([]),
  /** names as sent; a line that repeats them is a header */
  header: z.array(shortText).max(512).optional(),
  /** first column of the lines that count, e.g. a sentence name; other lines are ignored */
  startsWith: shortText.optional(),
  quoted: z.boolean().default(false),
});
const Keyed = z.object({
  kind: z.literal('keyed'),
  /**
   * between key and value: a character, 'blank', 'glued' (letters, then digits), 'after' (the value first, its name behind it),
   * or '<>' (markup: elements and attributes)
   */
  separator: z.string().min(1).max(5),
  /** between pairs: a character, 'blank', 'wide' (two blanks or more) or 'line' (one pair per line) */
  between: z.string().min(1).max(5),
  gather: Gather.optional(),
});
const Tagged = z.object({
  kind: z.literal('tagged'),
  delimiter: z.string().min(1).max(20),
  /** which column holds the tag */
  tagAt: z.number().int().min(0).max(31).default(0),
  gather: Gather,
});
/** One value a line, known by its place in the cycle only. */
const Cycle = z.object({
  kind: z.literal('cycle'),
  /** per line of the cycle: a text that always stands there, or what values look like there (see `valueForm`) */
  lines: z
    .array(z.union([z.object({ text: shortText }), z.object({ form: shortText })]))
    .min(2)
    .max(48),
});
const Json = z.object({
  kind: z.literal('json'),
  /** path of the text that says what the other values of the object are; places are then `TAG.path` */
  tag: shortText.optional(),
  gather: Gather.optional(),
});
const Fixed = z.object({ kind: z.literal('fixed'), length: z.number().int().min(1).max(4096) });
const Registers = z.object({
  kind: z.literal('registers'),
  /** bytes before the first register (address, function, byte count) */
  skipBytes: z.number().int().min(0).max(16).default(3),
  signed: z.boolean().default(true),
});
const Pattern = z.object({ kind: z.literal('pattern'), pattern: z.string().min(1).max(1000), gather: Gather.optional() });

export const Shape = z.discriminatedUnion('kind', [Columns, Keyed, Tagged, Cycle, Json, Fixed, Registers, Pattern]);
export type Shape = z.infer<typeof Shape>;
export type ShapeOf<K extends Shape['kind']> = Extract<Shape, { kind: K }>;
