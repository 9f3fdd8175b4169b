/** What every part of the paper is made from. */
import type { ReportInput } from '../report-input.ts';
import type { Visit } from '../../tuning/visit/visit.ts';
import type { UnitSystem } from '../../format/quantity.ts';
import type { StageFacts } from '../stage-facts.ts';
import type { SafetyFacts } from '../safety-facts.ts';
import type { SafeJudgement } from '../../tuning/advice/safe.ts';

export type Parts = {
  readonly input: ReportInput;
  readonly visit: Visit;
  readonly units: UnitSystem;
  readonly stages: readonly StageFacts[];
  readonly main: StageFacts;
  readonly safety: SafetyFacts;
  /** may the burner be left running: said first, on page 1 and on the owner's page */
  readonly judgement: SafeJudgement;
  readonly simulated: string | undefined;
};
