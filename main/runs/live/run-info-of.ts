/** What the windows are told of a run under way. */
import { defined } from '../../../shared/defined.ts';
import type { RunInfo } from '../../../shared/ipc/run-info.ts';
import type { RunHeader } from '../../../shared/measurement/run.ts';
import type { RunFold } from '../../../shared/pipeline/run-fold.ts';
import { lostOf, shownPhase, type SourcePhase } from '../../../shared/pipeline/source-phase.ts';
import type { LineSource } from '../../source/source.ts';
import { countersOf } from './counters-of.ts';
import type { LineWatches } from './line-watches.ts';
import type { RecipeChoice } from './recipe-choice.ts';
import type { SpeedTrial } from './try-speeds.ts';

type Known = {
  readonly header: RunHeader;
  readonly source: LineSource['info'];
  readonly fold: RunFold;
  readonly phase: SourcePhase;
  readonly timeMs: number;
  readonly choice: RecipeChoice;
  readonly watches: LineWatches;
  readonly speedTrial: SpeedTrial | undefined;
};

export function runInfoOf({ header, source, fold, phase, timeMs, choice, watches, speedTrial }: Known): RunInfo {
  const lost = lostOf(phase);
  const setting = fold.setting();
  const notices = watches.notices();
  return {
    runId: header.runId,
    phase: shownPhase(phase),
    source,
    startWallMs: header.startWallMs,
    zoneMinutes: header.zoneMinutes,
    timeMs,
    ...defined({ recipeName: fold.recipe !== undefined ? fold.recipe.name : undefined, recipeConfidence: choice.confidence }),
    ...choice.about(),
    fuelId: fold.fuel.id,
    ...defined({ co2MaxPercent: fold.fuel.co2MaxSetPercent, typedAirC: fold.typedAirC, tolerances: fold.settings.tolerances, setting }),
    channels: fold.recipe?.fields.map(({ channel }) => channel) ?? [],
    counters: countersOf(fold, timeMs),
    ...defined({
      problem: lost?.problem,
      lostSinceMs: lost?.sinceMs,
      visitId: header.visitId,
      knownVisits: header.known !== undefined ? header.known.visits : undefined,
      knowsInstrument: header.known?.benchWallMs !== undefined ? true : undefined,
    }),
    marks: [...fold.marks],
    ...(notices.length > 0 && { notices }),
    ...defined({ check: watches.check, tryingSpeeds: speedTrial !== undefined ? { ...speedTrial.state } : undefined }),
  };
}
