import { z } from 'zod';
import { WallMs } from '../../wall-clock.ts';
import { Setting, SmokeSpot } from '../../measurement/mark.ts';
import { Reading } from '../../measurement/state.ts';

/** One setting with its reading, smoke and draft. Times are ms since the run's start; `takenWallMs` orders trials over several runs. */
export const Trial = z.object({
  id: z.string(),
  runId: z.string(),
  fromMs: z.number(),
  toMs: z.number().optional(),
  takenWallMs: WallMs,
  setting: Setting,
  /** the setting was entered later, after the shift was noticed */
  inferred: z.boolean().optional(),
  reading: Reading.optional(),
  smoke: z
    .object({
      spots: z.array(SmokeSpot).max(6),
      notTaken: z.boolean().optional(),
      /** oil on the paper at this setting: when it was last seen, and the newest paper after it that was free of oil */
      oil: z.object({ wallMs: z.number(), cleanWallMs: z.number().optional() }).optional(),
    })
    .optional(),
  draft: z.object({ overFirePa: z.number().optional(), breechPa: z.number().optional() }).optional(),
  pumpPa: z.number().optional(),
  notes: z.array(z.string()),
});
export type Trial = z.infer<typeof Trial>;
