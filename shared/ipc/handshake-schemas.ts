import { z } from 'zod';
import { Problem } from '../problem-schema.ts';
import type * as shapes from './handshake.ts';
import { Role } from './session-commands.ts';

export const Greeting = z.discriminatedUnion('type', [
  z.strictObject({ type: z.literal('code'), code: z.string().min(1).max(200) }),
  z.strictObject({ type: z.literal('key'), key: z.string().min(1).max(200) }),
]) satisfies z.ZodType<shapes.Greeting>;

export const Welcome = z.discriminatedUnion('type', [
  z.strictObject({ type: z.literal('welcome'), key: z.string(), role: Role }),
  z.strictObject({ type: z.literal('refused'), reason: Problem }),
]) satisfies z.ZodType<shapes.Welcome>;

export const UploadDone = z.strictObject({
  upload: z.string(),
  fileName: z.string(),
  bytes: z.number().int(),
}) satisfies z.ZodType<shapes.UploadDone>;
