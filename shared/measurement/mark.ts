import { z } from 'zod';

/** The positions of the burner's adjusters, on the user's own scales, and the stage. */
export const Setting = z.object({
  stage: z.string().max(40).default('1'),
  positions: z.array(z.object({ name: z.string().min(1).max(40), value: z.number() })).max(12),
});
export type Setting = z.infer<typeof Setting>;

/** One smoke spot: 0-9, halves allowed. */
export const SmokeSpot = z.object({
  number: z.number().min(0).max(9).multipleOf(0.5),
  flaw: z.enum(['wet', 'uneven']).optional(),
  oilTrace: z.boolean().optional(),
});
export type SmokeSpot = z.infer<typeof SmokeSpot>;

/** Something that happened at a time. The time is the first press; the value is what stood afterwards. Pressures in Pa. */
export const MarkBody = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('adjustment'), setting: Setting, inferred: z.boolean().optional() }),
  z.object({ kind: z.literal('smoke'), spots: z.array(SmokeSpot).max(6), notTaken: z.boolean().optional() }),
  z.object({ kind: z.literal('draft'), overFirePa: z.number().optional(), breechPa: z.number().optional() }),
  z.object({ kind: z.literal('pressure'), pumpPa: z.number() }),
  z.object({ kind: z.literal('note'), text: z.string().max(2000) }),
  z.object({ kind: z.literal('pause'), on: z.boolean() }),
]);
export type MarkBody = z.infer<typeof MarkBody>;

export const Mark = z.object({ id: z.string(), timeMs: z.number().int(), body: MarkBody });
export type Mark = z.infer<typeof Mark>;

/** Marks can be moved and undone; both are kept. */
export const MarkEdit = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('moved'), markId: z.string(), timeMs: z.number().int() }),
  z.object({ kind: z.literal('undone'), markId: z.string() }),
]);
export type MarkEdit = z.infer<typeof MarkEdit>;
