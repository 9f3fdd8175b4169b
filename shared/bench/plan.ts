import { z } from 'zod';
import { defined } from '../defined.ts';

/** Where a gas comes from in a plan; which bottle that is, is chosen per test. `air` is fresh air. */
export const gasSlots = ['air', 'zero', 'low', 'mid', 'high', 'interferent'] as const;
export const GasSlot = z.enum(gasSlots);
export type GasSlot = z.infer<typeof GasSlot>;
export type BottleSlot = Exclude<GasSlot, 'air'>;

export const purposes = [
  'warm-up',
  'noise',
  'fresh-air',
  'zero',
  'span',
  'point',
  'response',
  'recovery',
  'repeatability',
  'cross-effect',
  'drift',
] as const;
export const Purpose = z.enum(purposes);
export type Purpose = z.infer<typeof Purpose>;

/** One gas held for a time. `holdS` counts from where the readings are steady; for timed purposes from the start of the step. */
export const PlanStep = z.strictObject({
  id: z.string().min(1).max(40),
  purpose: Purpose,
  slot: GasSlot,
  holdS: z
    .number()
    .int()
    .min(30)
    .max(7 * 86_400),
  /** repeatability: how many single readings, evenly over the hold */
  readings: z.number().int().min(3).max(50).optional(),
});
export type PlanStep = z.infer<typeof PlanStep>;

export const BenchPlan = z.strictObject({
  format: z.literal(1),
  name: z.string().min(1).max(120),
  steps: z.array(PlanStep).min(1).max(80),
  /** shipped to copy */
  example: z.boolean().optional(),
});
export type BenchPlan = z.infer<typeof BenchPlan>;

/** What is judged over a time, not at a place of rest. */
export const isTimed = ({ purpose }: Pick<PlanStep, 'purpose'>): boolean =>
  purpose === 'warm-up' || purpose === 'noise' || purpose === 'drift';

/** The bottles that a plan asks for, in the order of their first use. */
export const slotsOf = ({ steps }: Pick<BenchPlan, 'steps'>): BottleSlot[] => [
  ...new Set(steps.map(({ slot }) => slot).filter((slot) => slot !== 'air')),
];

/** Is the gas of this step at the inlet already? */
export const keepsGas = (steps: readonly PlanStep[], index: number): boolean => index > 0 && steps[index]?.slot === steps[index - 1]?.slot;

type Row = readonly [purpose: Purpose, slot: GasSlot, holdS: number, readings?: number];
const numbered = (rows: readonly Row[]): PlanStep[] =>
  rows.map(([purpose, slot, holdS, readings], index) => ({
    id: `s${index + 1}`,
    purpose,
    slot,
    holdS,
    ...defined({ readings }),
  }));

const answer: readonly Row[] = [
  ['response', 'high', 60],
  ['recovery', 'air', 60],
];
const points = (times: number): Row[] =>
  Array.from({ length: times }).flatMap((): Row[] => [
    ['point', 'low', 60],
    ['point', 'mid', 60],
    ['point', 'high', 60],
    ['zero', 'zero', 60],
  ]);

/**
 * Plans to copy. Each gas comes after another one, so that its response time is seen on the way.
 * @source three points, each repeated three times, twenty readings, interferent alone, readings 0, 2, 5 and 15 min after warm-up: OIML R 144-2;
 * half an hour between the readings of stability: US EPA CTM-030; length of the rests: common practice
 */
export const examplePlans: readonly BenchPlan[] = [
  {
    format: 1,
    name: 'Short round',
    example: true,
    steps: numbered([
      ['fresh-air', 'air', 60],
      ['zero', 'zero', 60],
      ['span', 'high', 60],
      ['recovery', 'air', 60],
      ['point', 'low', 60],
      ['fresh-air', 'air', 60],
    ]),
  },
  {
    format: 1,
    name: 'Full round',
    example: true,
    steps: numbered([
      ['warm-up', 'air', 900],
      ['noise', 'air', 600],
      ['fresh-air', 'air', 60],
      ['zero', 'zero', 60],
      ['span', 'high', 60],
      ['recovery', 'air', 60],
      ...answer,
      ...answer,
      ...points(3),
      ['repeatability', 'mid', 200, 20],
      ['cross-effect', 'interferent', 90],
      ['fresh-air', 'air', 60],
      ['drift', 'air', 1800],
      ['zero', 'zero', 60],
      ['span', 'high', 60],
      ['fresh-air', 'air', 60],
    ]),
  },
];
