import { z } from 'zod';

/** Who carries the doubt. `guarded-acceptance`: inside by the guard to pass; `guarded-rejection`: outside by the guard to fail. */
export const decisionRules = ['simple', 'guarded-acceptance', 'guarded-rejection'] as const;
export const DecisionRule = z.enum(decisionRules);
export type DecisionRule = z.infer<typeof DecisionRule>;
