/** The suction line from tank to pump: how much vacuum it explains, and what the gauge says against that. */
import { z } from 'zod';
import { M_PER_FT, PA_PER_IN_HG } from '../../units/convert.ts';

export const oilPipes = ['one', 'two'] as const;
export const OilLine = z.object({
  /** one pipe: the pump draws what it burns; two: its whole flow, and what is too much goes back to the tank */
  pipes: z.enum(oilPipes).optional(),
  /** from the oil in the tank up to the pump, m; below nothing where the tank is higher */
  liftM: z.number().min(-30).max(30).optional(),
  runM: z.number().min(0).max(300).optional(),
  filter: z.boolean().optional(),
});
export type OilLine = z.infer<typeof OilLine>;

/**
 * Vacuum at the pump that lift, run and filter explain. A tank above the pump gives none.
 *
 *     1 in Hg a foot of lift + 1 in Hg for 10 ft of run + 1/2 in Hg for a clean filter
 *
 * @returns Pa; undefined without lift and run
 * @source NORA Oilheat Technicians Manual p 71
 */
export function expectedVacuumPa({ liftM, runM, filter }: OilLine): number | undefined {
  if (liftM === undefined || runM === undefined) return undefined;
  return PA_PER_IN_HG * (Math.max(0, liftM) / M_PER_FT + runM / M_PER_FT / 10 + (filter === true ? 0.5 : 0));
}

/** Ours: a dial is read to 1 in Hg, and the rule is rounded to as much; nearer than both together is no difference. */
const NO_DIFFERENCE_PA = 2 * PA_PER_IN_HG;

export type VacuumSays = 'as-expected' | 'low' | 'high';

/** @source NORA Oilheat Technicians Manual p 71: low is an air leak, well above is a restriction */
export function vacuumSays(line: OilLine | undefined, measuredPa: number | undefined): VacuumSays | undefined {
  const expected = line === undefined ? undefined : expectedVacuumPa(line);
  if (expected === undefined || measuredPa === undefined) return undefined;
  if (measuredPa < expected - NO_DIFFERENCE_PA) return 'low';
  return measuredPa > expected + NO_DIFFERENCE_PA ? 'high' : 'as-expected';
}

/** What is usual at most, for a second look: air comes out of the oil, and a single pipe has no way to send it back. */
export const mostVacuum = (pipes: OilLine['pipes']): { readonly pa: number; readonly source: string } =>
  pipes === 'one'
    ? { pa: 6.05 * PA_PER_IN_HG, source: 'common practice, 6 in Hg at most with one pipe' }
    : { pa: 15.05 * PA_PER_IN_HG, source: 'common practice, 15 in Hg at most' };
