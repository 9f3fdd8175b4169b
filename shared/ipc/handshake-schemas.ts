import { z } from 'zod';
import '../zod-setup.ts';
import type * as shapes from './handshake.ts';

export const Greeting = z.discriminatedUnion('type', [
  z.strictObject({ type: z.literal('code'), code: z.string().min(1).max(200) }),
  z.strictObject({ type: z.literal('key'), key: z.string().min(1).max(200) }),
]) satisfies z.ZodType<shapes.Greeting>;

export const UploadDone = z.strictObject({
  upload: z.string(),
  fileName: z.string(),
  bytes: z.number().int(),
}) satisfies z.ZodType<shapes.UploadDone>;
