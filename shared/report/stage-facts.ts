/** What a report says about one stage of the burner, worked out once for every page that shows it. */
import { airCurve, reserveOf, smokeApproach, type AirCurve, type SmokeApproach } from '../tuning/curve/air-curve.ts';
import { beforeAfter, type BeforeAfter, type NoBeforeAfter } from '../tuning/visit/before-after.ts';
import { conditionsOf, type Conditions } from '../tuning/visit/conditions.ts';
import { cardFigures } from '../tuning/card/card-figures.ts';
import { lockEcho, type LockEcho } from '../tuning/trial/lock-echo.ts';
import { sortTrials, type StaleReason } from '../tuning/visit/staleness.ts';
import { judgeCard, type CardFigures, type LineVerdict } from '../tuning/card/target-card.ts';
import type { Trial } from '../tuning/trial/trial.ts';
import type { StageRecord, Visit } from '../tuning/visit/visit.ts';

/** Where the choice of reserve starts when nobody chose: the edge that two sources share. */
export const FIRST_RESERVE_CO2_POINTS = 1;

export type StageFacts = {
  readonly stage: StageRecord;
  readonly conditions: Conditions | undefined;
  readonly asFound: Trial | undefined;
  readonly asLeft: Trial | undefined;
  readonly echo: LockEcho | undefined;
  readonly stale: ReadonlyMap<string, StaleReason>;
  readonly curve: AirCurve | undefined;
  readonly approach: SmokeApproach | undefined;
  readonly reserve: { readonly o2Points: number; readonly half: number } | undefined;
  readonly figuresFound: CardFigures;
  readonly figuresLeft: CardFigures;
  /** undefined without a target card or without an as-left trial */
  readonly verdicts: readonly LineVerdict[] | undefined;
  readonly saving: BeforeAfter | NoBeforeAfter | undefined;
};

/** @param visit as it reads now, with corrections */
export const allStages = (visit: Visit): StageFacts[] => visit.stages.map((stage) => stageFacts(visit, stage));

function stageFacts(visit: Visit, stage: StageRecord): StageFacts {
  const conditions = conditionsOf(visit);
  const trialOf = (id: string | undefined): Trial | undefined => visit.trials.find((trial) => trial.id === id);
  const [asFound, asLeft, echoTrial] = [trialOf(stage.asFoundTrialId), trialOf(stage.asLeftTrialId), trialOf(stage.echoTrialId)];
  const { fresh, stale } = sortTrials(stage.name, visit);
  const cardO2High = visit.targetCard?.lines.find(({ quantity, high }) => quantity === 'o2Percent' && high !== undefined)?.high;
  const curve =
    conditions &&
    airCurve(fresh, {
      stage: stage.name,
      co2MaxPercent: conditions.fuel.stoichiometry.co2MaxPercent,
      reserveCo2Points: stage.reserveCo2Points ?? FIRST_RESERVE_CO2_POINTS,
      cardO2High,
    });
  const roomCoPpm = visit.roomCo.at(-1)?.ppm;
  const figures = (trial: Trial | undefined, roomCo?: number): CardFigures =>
    trial && conditions ? cardFigures(trial, { conditions, smokeRule: ruleOf(visit), curve, roomCoPpm: roomCo }) : {};
  const figuresLeft = figures(asLeft, roomCoPpm);
  const reserve = curve && asLeft && reserveOf(asLeft, curve.onset);
  return {
    stage,
    conditions,
    asFound,
    asLeft,
    echo: asLeft && echoTrial && lockEcho(asLeft, echoTrial),
    stale: new Map(stale.map(({ trial, reason }) => [trial.id, reason])),
    curve,
    approach: curve && asLeft && smokeApproach(curve, asLeft.id),
    reserve: reserve && { o2Points: reserve.o2Points, half: (reserve.high - reserve.low) / 2 },
    figuresFound: figures(asFound, visit.roomCo[0]?.ppm),
    figuresLeft,
    verdicts: visit.targetCard && asLeft ? judgeCard(visit.targetCard, figuresLeft) : undefined,
    saving: conditions && asFound && asLeft && beforeAfter(asFound, asLeft, conditions, visit.annualFuelGal),
  };
}

/** The card says how spots become a number; without a card the visit does. */
export const ruleOf = (visit: Visit): Visit['smokeRule'] => visit.targetCard?.smokeRule ?? visit.smokeRule;
