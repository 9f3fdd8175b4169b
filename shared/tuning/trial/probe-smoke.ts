import { z } from 'zod';
import { WallMs } from '../../wall-clock.ts';
import { SmokeSpot } from '../../measurement/mark.ts';

/** `withoutReason`: the probe went in without a spot, and why. */
export const ProbeSmoke = z.object({
  wallMs: WallMs,
  spots: z.array(SmokeSpot).max(6),
  withoutReason: z.string().min(3).max(300).optional(),
});
export type ProbeSmoke = z.infer<typeof ProbeSmoke>;
