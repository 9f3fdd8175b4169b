import { z } from 'zod';
import { Problem } from '../problem-schema.ts';

/** Calls and replies on the wire; an event is `{ type: 'event', name, payload }`, checked by its name's schema. */
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
