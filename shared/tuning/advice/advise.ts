/**
 * What to do with the air now: one answer from the trials, the live values, the limits in force and the adjusters. Tune shows it, the
 * command line prints it.
 *
 * In this order: what stops the work (room CO, oil on the paper, a CO alarm), what is not known yet, and only then where the air should be.
 * Less air is never advised while CO is at the alarm, smoke is above the limit, oil is on the paper or O2 is at the floor. One exception:
 * a flame chilled by air, where CO was measured to fall from trial to trial towards less air.
 */
import { airCurve, type AirCurve, MUCH_AIR_O2 } from '../curve/air-curve.ts';
import { blueGoal, curveGoal, FLOOR_MARGIN_O2, type GoalAnswer, STEP_TO_CLEAN_O2 } from '../curve/curve-goal.ts';
import { isAir, kindOf } from '../trial/adjuster.ts';
import { isPossibleCo } from '../trial/gas-basis.ts';
import { oilOnPaper } from '../trial/oil.ts';
import { isSmokeOver } from '../trial/smoke.ts';
import type { Trial } from '../trial/trial.ts';
import { sameSetting } from '../trial/trials.ts';
import { sortTrials } from '../visit/staleness.ts';
import { flueCoLevel, roomCoLevel } from './cautions.ts';
import { darkestSpot, type LimitsInForce } from './limits-in-force.ts';
import { LEAST_EFFECT_O2 } from './next-setting.ts';
import { type Advice, type AdviceFacts, type AdviceReason, none, stop } from './advice.ts';
import { duringAlarm } from './during-alarm.ts';
import { moreAir } from './moves.ts';
import { airFreeOf, type Situation, DILUTED_FROM_O2, floorAim, type Now, nowOf } from './situation.ts';
import { aimOf, towardsGoal } from './towards-goal.ts';

const HIGHEST_POSSIBLE_O2 = 21;
const LOWEST_POSSIBLE_O2 = -0.5;
/** Smoke as dark as this with no CO at all: one of the two is wrong. Own choice. */
const DARK_SMOKE = 4;

export function advise(facts: AdviceFacts): Advice {
  const fresh = freshOf(facts);
  return decide(facts, fresh, () => planOf(facts, fresh));
}

export function adviseWithCurve(facts: AdviceFacts): { advice: Advice; curve: AirCurve | undefined } {
  const fresh = freshOf(facts);
  const plan = planOf(facts, fresh);
  return { advice: decide(facts, fresh, () => plan), curve: plan?.curve };
}

const freshOf = (facts: AdviceFacts): Trial[] => sortTrials(facts.stage, facts).fresh.sort((a, b) => a.takenWallMs - b.takenWallMs);
/** The air curve and what the next trial is for. Only worked out where nothing stops the work first. */
type Plan = { curve: AirCurve; goal: GoalAnswer };

function planOf(facts: AdviceFacts, fresh: readonly Trial[]): Plan | undefined {
  const { fuel, stage, limits } = facts;
  if (fuel === undefined) return undefined;
  const curve = airCurve(fresh, {
    stage,
    co2MaxPercent: fuel.stoichiometry.co2MaxPercent,
    reserveCo2Points: facts.reserveCo2Points,
    cardO2High: limits.o2HighPercent,
  });
  return { curve, goal: goalOf(curve, facts) };
}

const goalOf = (curve: AirCurve, { flame, limits }: AdviceFacts): GoalAnswer =>
  flame === 'blue' ? blueGoal(curve, limits) : curveGoal(curve, limits);

function decide(facts: AdviceFacts, fresh: Trial[], planned: () => Plan | undefined): Advice {
  const { limits, fuel, flame, live } = facts;
  const oil = oilOnPaper({ trials: facts.trials, oilCauses: facts.oilCauses });
  if ([facts.roomCoPpm, live?.roomCoPpm].some((ppm) => ppm !== undefined && isRoomUnsafe(ppm)))
    return oil.state === 'found' ? stop('room-co', 'oil') : stop('room-co');
  if (oil.state === 'found') return stop('oil');
  const newest = fresh.at(-1);
  const now = newest && nowOf(newest);
  const present = facts.present?.stage === facts.stage ? facts.present : newest?.setting;
  const isRead = newest !== undefined && present !== undefined && sameSetting(present, newest.setting);
  const liveAlarm =
    live !== undefined &&
    flueCoLevel(
      {
        airFreePpm: live.coAirFreePpm ?? airFreeOf(live.coPpm, live.o2),
        measuredPpm: live.coPpm,
        overRange: live.coOverRange === true,
      },
      coLimits(limits),
    ) === 'alarm';
  const readAlarm =
    now !== undefined && flueCoLevel({ airFreePpm: now.coAirFree, measuredPpm: now.coPpm, overRange: false }, coLimits(limits)) === 'alarm';
  const situation: Situation = { facts, fresh, present };
  const isOil = fuel?.phase === 'liquid';
  if (liveAlarm || (readAlarm && isRead)) {
    const key = liveAlarm ? 'live-co-alarm' : 'flue-co-alarm';
    if (now === undefined || !isOil || oil.state !== 'none') return stop(key);
    return duringAlarm(situation, now, liveAlarm, isRead, key);
  }
  if (fuel === undefined) return none('fuel-not-known');
  if (!isOil) return none('gas-fuel');
  if (now === undefined) return none('no-trials');
  if (!isRead || !newest?.reading) return none('read-first');
  if (oil.state === 'cause-known') return none('oil-cause-known');
  if (now.o2 === undefined) return none('no-o2');
  if (now.o2 > HIGHEST_POSSIBLE_O2 || now.o2 < LOWEST_POSSIBLE_O2) return none('o2-not-possible');
  if (now.o2 > DILUTED_FROM_O2) return none('diluted');
  if (!now.isSettled) return none('not-settled');
  const isSmoky = now.smoke !== undefined && isSmokeOver(now.smoke, limits);
  const lowest = Math.min(now.o2, live?.o2 ?? Infinity);
  const isAtFloor = lowest <= limits.o2FloorPercent;
  if (!facts.adjusters.some(isAir)) {
    const unsaid = facts.adjusters.some((adjuster) => kindOf(adjuster) === undefined);
    return none(...(unsaid ? (['kind-not-said'] as const) : []), 'no-air-adjuster');
  }
  const plan = planned();
  if (plan === undefined) return none('fuel-not-known');
  const { curve, goal } = plan;
  if (isSmoky) return whileSmoky(situation, now.o2, now, goal, isAtFloor);
  if (isAtFloor) {
    const found = curve.onset.state === 'found' && goal.kind !== 'floor';
    const aim = found ? aimOf(curve, goal, limits) : floorAim(limits);
    return moreAir(situation, now.o2, aim, [...(now.smoke === undefined || found ? [] : (['no-smoke-by-floor'] as const)), 'o2-at-floor']);
  }
  const wasSmoky = fresh.map(darkestSpot).some((smoke) => smoke !== undefined && isSmokeOver(smoke, limits));
  if (now.smoke === undefined && (flame === 'yellow' || wasSmoky)) return none('smoke-first');
  if (now.coPpm === undefined) return none('no-co');
  if (!isPossibleCo(now.coPpm)) return none('co-not-possible');
  return towardsGoal(situation, now.o2, curve, goal);
}

function whileSmoky(situation: Situation, o2: number, now: Now, goal: GoalAnswer, isAtFloor: boolean): Advice {
  const { limits } = situation.facts;
  const keys: AdviceReason[] = ['smoke-over-limit'];
  if (now.smoke! >= DARK_SMOKE && now.coPpm !== undefined && now.coPpm <= 0) keys.push('smoke-and-co-disagree');
  if (isAtFloor) keys.push('o2-at-floor');
  if (o2 >= Math.max(limits.o2HighPercent ?? MUCH_AIR_O2, limits.o2FloorPercent + 1)) return none(...keys, 'smoke-with-much-air');
  const least = Math.max(o2 + LEAST_EFFECT_O2, limits.o2FloorPercent + FLOOR_MARGIN_O2);
  const targetO2 =
    goal.kind === 'stop' || goal.kind === 'none' || goal.kind === 'floor' || goal.targetO2 < least
      ? Math.max(o2 + STEP_TO_CLEAN_O2, least)
      : goal.targetO2;
  return moreAir(situation, o2, { targetO2, aimO2: [targetO2, targetO2 + 0.5] }, keys);
}

const isRoomUnsafe = (ppm: number): boolean => ['stop', 'out'].includes(roomCoLevel(ppm));
const coLimits = ({ coAlarmAirFreePpm, coNoticeAirFreePpm }: LimitsInForce) => ({
  alarmPpm: coAlarmAirFreePpm,
  noticePpm: Math.min(coNoticeAirFreePpm, coAlarmAirFreePpm),
});
