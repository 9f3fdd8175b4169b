import { z } from 'zod';
import { cautionKeys, type FlueCoLimits as Limits } from './cautions.ts';

export const CautionKey = z.enum(cautionKeys);
export const FlueCoLimits = z.object({
  noticePpm: z.number().positive(),
  alarmPpm: z.number().positive(),
  reason: z.string().max(300).optional(),
}) satisfies z.ZodType<Limits>;
