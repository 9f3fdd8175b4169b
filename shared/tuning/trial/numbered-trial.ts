import { z } from 'zod';
import { Trial } from './trial.ts';

/** A trial as the live view lists it: with its number in the visit, and what was turned to come to it. */
export const NumberedTrial = Trial.extend({
  number: z.number().int(),
  /** the setting in force now */
  running: z.boolean(),
  changed: z.array(z.object({ name: z.string(), value: z.number() })),
});
export type NumberedTrial = z.infer<typeof NumberedTrial>;
