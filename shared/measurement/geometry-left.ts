/** How far a simulated burner was left outside its card, as it stands in the run file's first line. */
import { z } from 'zod';

const mm = z.number().min(-60).max(60).default(0);

/** mm or marks outside the card's nearest limit: below it negative, above it positive, inside it nothing. */
export const GeometryLeft = z.strictObject({
  electrodeGap: mm,
  heightAboveCentreline: mm,
  aheadOfNozzle: mm,
  tipToMetal: mm,
  tipDifference: mm,
  nozzleToHead: mm,
  offCentre: mm,
  headToTubeEnd: mm,
  headSetting: z.number().min(-20).max(20).default(0),
  porcelainCracked: z.boolean().default(false),
  /** flow stamped on the nozzle against the flow that head and air are set for */
  nozzleShare: z.number().min(0.4).max(2.5).default(1),
});
export type GeometryLeft = z.infer<typeof GeometryLeft>;
