/** The limits that a visit is tuned within: the card's where it has them, ours where it has none. */
import { O2_FLOOR_PERCENT, flueCoDefaults } from './cautions.ts';
import type { GoalLimits } from '../curve/curve-goal.ts';
import { smokeResult } from '../trial/smoke.ts';
import type { CardQuantity } from '../card/target-card.ts';
import type { Trial } from '../trial/trial.ts';
import type { Visit } from '../visit/visit.ts';

/** Smoke that may be left where no card says otherwise. @source common practice */
export const SMOKE_LIMIT = 1;

export type LimitsInForce = GoalLimits;

export function limitsInForce(visit: Pick<Visit, 'targetCard' | 'flueCoLimits' | 'o2FloorPercent'>): LimitsInForce {
  const lines = (quantity: CardQuantity) => visit.targetCard?.lines.filter((line) => line.quantity === quantity) ?? [];
  const lows = lines('o2Percent').flatMap(({ low }) => low ?? []);
  const highs = lines('o2Percent').flatMap(({ high }) => high ?? []);
  const smoke = lines('smokeNumber')
    .filter(({ high }) => high !== undefined)
    .sort((a, b) => a.high! - b.high! || Number(b.highExcluded === true) - Number(a.highExcluded === true))[0];
  return {
    coAlarmAirFreePpm: visit.flueCoLimits?.alarmPpm ?? flueCoDefaults.alarmPpm,
    coNoticeAirFreePpm: visit.flueCoLimits?.noticePpm ?? flueCoDefaults.noticePpm,
    o2FloorPercent: Math.max(visit.o2FloorPercent ?? O2_FLOOR_PERCENT, ...lows),
    ...(lows.length === 0 ? {} : { o2LowPercent: Math.max(...lows) }),
    ...(highs.length === 0 ? {} : { o2HighPercent: Math.min(...highs) }),
    smokeLimit: smoke?.high ?? SMOKE_LIMIT,
    smokeLimitExcluded: smoke?.highExcluded,
  };
}

/** The darkest usable spot: before more is dared, the worst that was seen counts. */
export function darkestSpot(trial: Trial): number | undefined {
  const usable = trial.smoke?.spots.filter(({ flaw }) => flaw === undefined) ?? [];
  return usable.length === 0 ? undefined : Math.max(...usable.map(({ number }) => number));
}

/** By the rule once it has its spots, else the darkest of those taken. */
export function smokeByRule(trial: Trial, rule: Visit['smokeRule']): number | undefined {
  const result = smokeResult(trial.smoke?.spots ?? [], rule);
  return result.stillNeeded === 0 ? result.number : darkestSpot(trial);
}
