/** Bench tests: commands say what a person did, the event says what is so now. The host leads the plan, with or without a window. */
import { z } from 'zod';
import { BenchTest, GasUse, Room } from '../bench/bench-test.ts';
import { BenchChannel, Instrument } from '../bench/instrument.ts';
import { BenchLimits } from '../bench/limits.ts';
import { BenchPlan } from '../bench/plan.ts';

const nothing = z.strictObject({});
const id = z.string().min(1).max(100);
const testIds = z.array(id).min(1).max(4);
const why = z.string().trim().min(1).max(500);

/** one instrument at the running step */
export const BenchColumn = z.object({
  testId: z.string(),
  phase: z.enum(['switch', 'arriving', 'no-change', 'other-gas', 'holding', 'closed']),
  heldS: z.number(),
  leftS: z.number(),
  looksLike: z.string().optional(),
  absent: z.array(BenchChannel),
  latest: z.partialRecord(BenchChannel, z.number()),
  /** the way to the gas so far, of the channel that has farthest to go */
  way: z.object({ channel: BenchChannel, points: z.array(z.tuple([z.number(), z.number()])) }).optional(),
});
export type BenchColumn = z.infer<typeof BenchColumn>;

export const BenchSession = z.object({
  testIds: z.array(z.string()),
  stepIndex: z.number().int(),
  columns: z.array(BenchColumn),
  /** tests whose last change could not be saved yet; it is tried again */
  unsaved: z.array(z.string()),
});
export type BenchSession = z.infer<typeof BenchSession>;

/** `altered`: it is signed, and no longer what was signed */
export const StoredBenchTest = z.object({
  id: z.string(),
  revision: z.number().int(),
  changedMs: z.number(),
  body: BenchTest,
  altered: z.boolean().optional(),
});
export type StoredBenchTest = z.infer<typeof StoredBenchTest>;

export const benchCommands = {
  'bench.state': { input: nothing, output: z.object({ sessions: z.array(BenchSession) }) },
  'bench.start': {
    input: z.strictObject({
      seats: z
        .array(z.strictObject({ runId: id, instrumentId: id, instrument: Instrument }))
        .min(1)
        .max(4),
      plan: BenchPlan,
      gases: z.array(GasUse).max(8),
      room: Room,
      bench: z.string().max(200).optional(),
      person: z.string().max(120).optional(),
      limits: z.union([BenchLimits, z.literal('none')]),
    }),
    output: z.object({ testIds: z.array(z.string()) }),
  },
  /** goes on with tests whose plan is not at its end; a run that was cut off goes on first */
  'bench.resume': { input: z.strictObject({ testIds }), output: nothing },
  /** the gas of this step was switched now; a press for a step that is over changes nothing */
  'bench.press': { input: z.strictObject({ testIds, stepId: z.string().max(40) }), output: nothing },
  /** `rest`: this step and all that follow are left out */
  'bench.skip': {
    input: z.strictObject({ testIds, stepId: z.string().max(40), how: z.enum(['not-reached', 'left-out', 'rest']), why }),
    output: nothing,
  },
  /** a person says that it is the gas of the step although it reads otherwise */
  'bench.accept': { input: z.strictObject({ testId: id, stepId: z.string().max(40) }), output: nothing },
  /** the instrument goes on at another source */
  'bench.move': { input: z.strictObject({ testId: id, runId: id }), output: nothing },
  /** adjusted: the plan starts again as left */
  'bench.adjust': { input: z.strictObject({ testId: id, adjustment: z.string().trim().min(3).max(500) }), output: nothing },
  'bench.repeat': { input: z.strictObject({ testIds, stepId: z.string().max(40) }), output: nothing },
  'bench.limits': { input: z.strictObject({ testId: id, limits: BenchLimits }), output: nothing },
  /** nothing more is measured */
  'bench.close': { input: z.strictObject({ testId: id }), output: nothing },
  'bench.sign': { input: z.strictObject({ testId: id, name: z.string().trim().min(1).max(120) }), output: StoredBenchTest },
} as const;

export const benchEvents = {
  /** every session as it is now, and the tests that changed */
  'bench.changed': z.object({ sessions: z.array(BenchSession), tests: z.array(StoredBenchTest) }),
} as const;
