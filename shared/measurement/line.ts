import { z } from 'zod';

/**
 * One line as it came. `bytes` holds one character per byte (code 0-255, as Latin-1): nothing is decoded, so nothing is lost;
 * the recipe knows the encoding. No terminator inside.
 */
export const StampedLine = z.object({
  timeMs: z.number().int(),
  bytes: z.string(),
  /** how many bytes were dropped because the line was longer than the limit */
  cutBytes: z.number().int().positive().optional(),
});
export type StampedLine = { readonly timeMs: number; readonly bytes: string; readonly cutBytes?: number | undefined };

/** Why a line gave no sample. */
export const rejectReasons = [
  'cut',
  'unprintable',
  'too-few-fields',
  'too-many-fields',
  'no-match',
  'no-channel',
  'wrong-check',
  'missing-check',
  'not-a-number',
  'undecodable',
  'out-of-step',
] as const;
export type RejectReason = (typeof rejectReasons)[number];

/** Where a channel's text stands in `bytes`; for the line view's underlines. */
export type FieldSpan = { channel: string; start: number; end: number };
