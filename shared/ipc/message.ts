import { z } from 'zod';
import { Problem } from '../problem-schema.ts';

/** The three shapes on the wire. */
export const CallMessage = z.strictObject({
  type: z.literal('call'),
  id: z.number().int().nonnegative(),
  name: z.string().max(60),
  input: z.unknown(),
});
export const ReplyMessage = z.strictObject({
  type: z.literal('reply'),
  id: z.number().int().nonnegative(),
  result: z.union([z.strictObject({ ok: z.literal(true), value: z.unknown() }), z.strictObject({ ok: z.literal(false), error: Problem })]),
});
export const EventMessage = z.strictObject({ type: z.literal('event'), name: z.string().max(60), payload: z.unknown() });
