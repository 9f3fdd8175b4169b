/** The visit in the host: commands say what a person did, events say what is so now. */
import { z } from 'zod';
import { Setting } from '../measurement/mark.ts';
import { markRange, withinRange } from '../measurement/typed-range.ts';
import { patternKeys } from '../tuning/diagnosis/patterns.ts';
import { NumberedTrial } from '../tuning/trial/numbered-trial.ts';
import { safetyTestIds } from '../tuning/safety/safety-plan.ts';
import { stepIds } from '../tuning/visit/step-names.ts';
import { PhaseFigures } from '../tuning/safety/venting.ts';
import { WatchNow, watchActs } from '../tuning/safety/stopwatches.ts';
import { StoredVisit } from './store-commands.ts';

const nothing = z.strictObject({});
const id = z.string().min(1).max(100);

const Hint = z.object({
  pattern: z.enum(patternKeys),
  strength: z.number(),
  figures: z.record(z.string(), z.number()),
  stretch: z.object({ fromMs: z.number(), toMs: z.number() }).optional(),
  trialIds: z.array(z.string()),
});
const ShiftQuestion = z.object({ id: z.string(), atMs: z.number(), fromPercent: z.number(), toPercent: z.number() });

const RunTrials = z.object({ runId: id, trials: z.array(NumberedTrial) });
/** without a question: it is answered, or a mark explains the shift */
const RunAsked = z.object({ runId: id, question: ShiftQuestion.optional() });
const RunHints = z.object({ runId: id, hints: z.array(Hint) });
/** the visit in front of every window; absent when there is none */
const Front = z.object({ stored: StoredVisit.optional() });
const Watches = z.object({ watches: z.array(WatchNow) });

export const visitCommands = {
  /** everything that the events below tell, as it is now: for a window that has just opened */
  'visit.now': {
    input: nothing,
    output: z.object({
      front: Front,
      trials: z.array(RunTrials),
      asked: z.array(RunAsked),
      hints: z.array(RunHints),
      watches: Watches,
    }),
  },
  /** `runId`: the run on screen, which goes into the visit when it may */
  'visit.begin': {
    input: z.strictObject({ kind: z.enum(['service', 'training']), runId: id.optional(), fuelId: z.string().max(60).optional() }),
    output: StoredVisit,
  },
  'visit.open': { input: z.strictObject({ id, runId: id.optional() }), output: StoredVisit },
  /** puts the visit aside; it stays open, and its runs go on into it */
  'visit.leave': { input: nothing, output: nothing },
  'visit.goTo': { input: z.strictObject({ id, step: z.enum(stepIds), stage: z.string().max(40) }), output: nothing },
  /** with a setting: that was turned when the shift began. Without: nothing was changed */
  'visit.answerShift': {
    input: z.strictObject({ runId: id, questionId: z.string().max(60), setting: Setting.superRefine(withinRange(markRange)).optional() }),
    output: nothing,
  },
  'visit.watch': {
    input: z.strictObject({ id, test: z.enum(safetyTestIds), act: z.enum(watchActs), runId: id.optional() }),
    output: Watches,
  },
  /** draft, O2 and room CO of a run over a test of air and venting, and what the phases come to so far */
  'visit.ventTrace': {
    input: z.strictObject({ runId: id, fromMs: z.number(), onFromMs: z.number().optional(), toMs: z.number().optional() }),
    output: z.object({
      nowMs: z.number(),
      points: z.array(
        z.object({
          timeMs: z.number(),
          draftPa: z.number().optional(),
          o2Percent: z.number().optional(),
          roomCoPpm: z.number().optional(),
        }),
      ),
      off: PhaseFigures,
      on: PhaseFigures.optional(),
    }),
  },
} as const;

export const visitEvents = {
  'visit.front': Front,
  'visit.trials': RunTrials,
  'visit.asked': RunAsked,
  'visit.hints': RunHints,
  'visit.watches': Watches,
} as const;
