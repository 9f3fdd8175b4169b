import { z } from 'zod';

/** What the last visit left, as it stands on a paper at the appliance: for a first visit here. Inner units; absent is absent. */
export const Papers = z.object({
  day: z.iso.date().optional(),
  fuelId: z.string().max(60).optional(),
  o2Percent: z.number().min(0).max(21).optional(),
  co2Percent: z.number().min(0).max(20).optional(),
  coPpm: z.number().min(0).max(100_000).optional(),
  smokeNumber: z.number().min(0).max(9).optional(),
  netStackK: z.number().min(0).max(1000).optional(),
  overFirePa: z.number().min(-500).max(500).optional(),
  breechPa: z.number().min(-500).max(500).optional(),
  nozzleFlowLh: z.number().positive().max(2000).optional(),
});
export type Papers = z.infer<typeof Papers>;

/** In the order in which they are typed. */
export const paperFigures = ['o2Percent', 'co2Percent', 'coPpm', 'smokeNumber', 'netStackK', 'overFirePa', 'breechPa'] as const;
export type PaperFigure = (typeof paperFigures)[number];
