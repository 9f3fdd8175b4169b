/**
 * What to do with the air now: one answer from the trials, the live values, the limits in force and the adjusters. Tune shows it, the
 * command line prints it.
 *
 * In this order: what stops the work (room CO, oil on the paper, a CO alarm), what is not known yet, and only then where the air should be.
 * Less air is never advised while CO is at the alarm, smoke is above the limit, oil is on the paper or O2 is at the floor. One exception:
 * a flame chilled by air, where CO was measured to fall from trial to trial towards less air.
 */
import type { Fuel } from '../../combustion/fuel.ts';
import type { Setting } from '../../measurement/mark.ts';
import { checkPosition, isAir, kindOf, type Adjuster } from '../trial/adjuster.ts';
import { positionOf, roundToStep, withPosition } from '../trial/setting.ts';
import { MUCH_AIR_O2, airCurve, type AirCurve } from '../curve/air-curve.ts';
import { flueCoLevel, roomCoLevel } from './cautions.ts';
import {
  FLOOR_MARGIN_O2,
  STEP_TO_CLEAN_O2,
  blueGoal,
  clearOfCo,
  curveGoal,
  floorGoal,
  richCoO2,
  type GoalAnswer,
} from '../curve/curve-goal.ts';
import { airRatio, coAirFreePpm, isPossibleCo } from '../trial/gas-basis.ts';
import { darkestSpot, type LimitsInForce } from './limits-in-force.ts';
import {
  LEAST_EFFECT_O2,
  CLOSING_SHARE,
  NEAR_ENOUGH_O2,
  gainsays,
  hasMoved,
  nextSetting,
  rank,
  sameElsewhere,
  type Goal,
  type NextSetting,
} from './next-setting.ts';
import { oilOnPaper } from '../trial/oil.ts';
import { isSmokeOver } from '../trial/smoke.ts';
import { sortTrials, type Change } from '../visit/staleness.ts';
import type { Trial } from '../trial/trial.ts';
import { figureOf, isFittable } from '../trial/trial-figures.ts';
import { sameSetting } from '../trial/trials.ts';
import type { Visit } from '../visit/visit.ts';

export const adviceKinds = ['less-air', 'more-air', 'leave', 'stop', 'none'] as const;
export type AdviceKind = (typeof adviceKinds)[number];

/** Why: one key each, the sentence is in shared/words/tune/advice.ts. */
export const adviceReasons = [
  'room-co',
  'oil',
  'oil-cause-known',
  'flue-co-alarm',
  'live-co-alarm',
  'back-to-clean',
  'co-falls-towards-less-air',
  'smoke-over-limit',
  'smoke-with-much-air',
  'o2-at-floor',
  'no-smoke-by-floor',
  'floor-is-near',
  'closed-end',
  'co-before-smoke',
  'set-by-co',
  'smoke-and-co-disagree',
  'gas-fuel',
  'fuel-not-known',
  'no-trials',
  'read-first',
  'not-settled',
  'smoke-first',
  'no-o2',
  'no-co',
  'o2-not-possible',
  'diluted',
  'no-air-adjuster',
  'kind-not-said',
  'direction-not-known',
  'small-step',
  'find-smoke',
  'find-clean',
  'narrow-onset',
  'as-left',
  'part-way',
  'nearest-step',
  'too-few-trials',
  'too-far-beyond-trials',
  'flat',
  'not-monotone',
  'no-setting',
  'scale-ends',
  'against-what-was-said',
  'co-not-possible',
  'smoke-against-air',
  'reserve-and-limit-conflict',
] as const;
export type AdviceReason = (typeof adviceReasons)[number];

export type Advice = {
  advice: AdviceKind;
  because: AdviceReason[];
  /** the adjuster to turn, from where to where; absent where no number can be given */
  adjuster?: string | undefined;
  from?: number | undefined;
  to?: number | undefined;
  setting?: Setting | undefined;
  /** where O2 should come to, and what is expected with its 95 % interval */
  aimO2?: readonly [low: number, high: number] | undefined;
  expected?: { o2: number; low: number; high: number } | undefined;
  /** 'open' or 'close' only where the trials show that a higher number is more air */
  direction?: 'open' | 'close' | undefined;
  o2?: number | undefined;
};

/** What the instrument shows at this moment, apart from any trial. */
export type LiveGas = {
  o2?: number | undefined;
  coPpm?: number | undefined;
  coAirFreePpm?: number | undefined;
  coOverRange?: boolean | undefined;
};

export type AdviceFacts = {
  stage: string;
  trials: readonly Trial[];
  changes: readonly Change[];
  adjusters: readonly Adjuster[];
  /** where the adjusters are now; without it, where the newest trial had them */
  present?: Setting | undefined;
  fuel: Fuel | undefined;
  flame: 'yellow' | 'blue';
  limits: LimitsInForce;
  reserveCo2Points: number;
  roomCoPpm?: number | undefined;
  oilCauses?: Visit['oilCauses'];
  live?: LiveGas | undefined;
};

/** A flame counts as chilled by air only from here on. @source never.md, law 1 */
const CHILLED_FROM_O2 = 6;
const CHILLED_STEP_O2 = 0.8;
/** Beyond this the sample is mostly room air: see gas-basis.ts */
const DILUTED_FROM_O2 = 15;
const HIGHEST_POSSIBLE_O2 = 21;
const LOWEST_POSSIBLE_O2 = -0.5;
/** O2 above the floor that a step of unknown size needs. Own choice. */
const ROOM_FOR_A_STEP_O2 = 2;
/** A step of unknown size, as a share of the scale. Own choice. */
const SMALL_STEP_SHARE = 0.03;
/**
 * Near the closed end the air may fall so many times as steeply as it did between the two settings before; where it was not seen how, a step
 * that is no coarser than this share of the scale needs this much O2 over the floor. Own choices, tried at burners with steep ends.
 */
const STEEPER_AT_CLOSED_END = 2.5;
const COARSE_STEP_SHARE = 0.1;
const ROOM_AT_CLOSED_END_O2 = 4;
/** A search that was broken off near the floor is taken up again for no less than this. Own choice. */
const WORTH_GOING_BACK_O2 = 0.5;
/** Smoke as dark as this with no CO at all: one of the two is wrong. Own choice. */
const DARK_SMOKE = 4;

type Now = {
  trial: Trial;
  o2: number | undefined;
  coPpm: number | undefined;
  coAirFree: number | undefined;
  smoke: number | undefined;
  isSettled: boolean;
};

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
  if (facts.roomCoPpm !== undefined && isRoomUnsafe(facts.roomCoPpm))
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
  const bench: Bench = { facts, fresh, present };
  const isOil = fuel?.phase === 'liquid';
  if (liveAlarm || (readAlarm && isRead)) {
    const key = liveAlarm ? 'live-co-alarm' : 'flue-co-alarm';
    if (now === undefined || !isOil || oil.state !== 'none') return stop(key);
    return duringAlarm(bench, now, liveAlarm, isRead, key);
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
  if (isSmoky) return whileSmoky(bench, now.o2, now, goal, isAtFloor);
  if (isAtFloor) {
    const found = curve.onset.state === 'found' && goal.kind !== 'floor';
    const aim = found ? aimOf(curve, goal, limits) : floorAim(limits);
    return moreAir(bench, now.o2, aim, [...(now.smoke === undefined || found ? [] : (['no-smoke-by-floor'] as const)), 'o2-at-floor']);
  }
  const wasSmoky = fresh.map(darkestSpot).some((smoke) => smoke !== undefined && isSmokeOver(smoke, limits));
  if (now.smoke === undefined && (flame === 'yellow' || wasSmoky)) return none('smoke-first');
  if (now.coPpm === undefined) return none('no-co');
  if (!isPossibleCo(now.coPpm)) return none('co-not-possible');
  return towardsGoal(bench, now.o2, curve, goal);
}

type Bench = { facts: AdviceFacts; fresh: Trial[]; present: Setting | undefined };
type Aim = { targetO2: number; aimO2: readonly [number, number] };

const stop = (...because: AdviceReason[]): Advice => ({ advice: 'stop', because });
const none = (...because: AdviceReason[]): Advice => ({ advice: 'none', because });
const isRoomUnsafe = (ppm: number): boolean => ['stop', 'out'].includes(roomCoLevel(ppm));
const coLimits = ({ coAlarmAirFreePpm, coNoticeAirFreePpm }: LimitsInForce) => ({
  alarmPpm: coAlarmAirFreePpm,
  noticePpm: Math.min(coNoticeAirFreePpm, coAlarmAirFreePpm),
});
const airFreeOf = (coPpm: number | undefined, o2: number | undefined): number | undefined =>
  coPpm === undefined || o2 === undefined ? undefined : coAirFreePpm(coPpm, o2);

function nowOf(trial: Trial): Now {
  const [o2, coPpm] = [figureOf(trial, 'o2')?.mean, figureOf(trial, 'co')?.mean];
  return { trial, o2, coPpm, coAirFree: airFreeOf(coPpm, o2), smoke: darkestSpot(trial), isSettled: trial.reading?.settled === true };
}

/** Open the air, back to a setting that was read clean where there is one; or stop. */
function duringAlarm(bench: Bench, now: Now, liveAlarm: boolean, isRead: boolean, key: AdviceReason): Advice {
  const { facts, fresh, present } = bench;
  const o2 = liveAlarm ? (facts.live?.o2 ?? now.o2) : now.o2;
  if (isRead && !liveAlarm) {
    const chilled = chilledStep(bench, now);
    if (chilled) return chilled;
  }
  if (o2 === undefined || o2 > DILUTED_FROM_O2 || present === undefined) return stop(key);
  const clean = fresh.map(nowOf).filter((one) => isClean(one, facts.limits) && one.o2! > o2 && hasMoved(one.o2! - o2));
  const back = clean
    .sort((a, b) => a.o2! - b.o2!)
    .flatMap((one) => {
      const moved = onlyMoved(present, one.trial.setting, facts.adjusters);
      return moved === undefined ? [] : [{ one, ...moved }];
    })[0];
  if (back !== undefined) {
    const { one, adjuster, from, to } = back;
    const half = 2 * Math.hypot(figureOf(one.trial, 'o2')!.random, 0.1);
    return {
      advice: 'more-air',
      because: [key, 'back-to-clean'],
      adjuster: adjuster.name,
      from,
      to,
      setting: withPosition(present, adjuster.name, to),
      aimO2: [one.o2!, one.o2!],
      expected: { o2: one.o2!, low: one.o2! - half, high: one.o2! + half },
      direction: knownDirection(adjuster, fresh) === 'up' ? 'open' : undefined,
      o2,
    };
  }
  if (o2 >= CHILLED_FROM_O2 || !isRead) return stop(key);
  const targetO2 = Math.max(o2 + STEP_TO_CLEAN_O2, facts.limits.o2FloorPercent + FLOOR_MARGIN_O2);
  const move = moreAir(bench, o2, { targetO2, aimO2: [targetO2, targetO2 + 1] }, [key]);
  return move.adjuster === undefined ? stop(key) : move;
}

const isClean = (one: Now, limits: LimitsInForce): boolean =>
  one.isSettled &&
  one.o2 !== undefined &&
  one.o2 <= DILUTED_FROM_O2 &&
  one.coAirFree !== undefined &&
  one.coAirFree < limits.coAlarmAirFreePpm &&
  (one.smoke === undefined || !isSmokeOver(one.smoke, limits)) &&
  one.o2 > limits.o2FloorPercent;

/** The one air adjuster by which two settings differ. */
function onlyMoved(
  present: Setting,
  other: Setting,
  adjusters: readonly Adjuster[],
): { adjuster: Adjuster; from: number; to: number } | undefined {
  const moved = present.positions.filter(({ name, value }) => positionOf(other, name) !== value);
  const [one] = moved;
  if (moved.length !== 1 || one === undefined || other.positions.length !== present.positions.length) return undefined;
  const adjuster = adjusters.find(({ name }) => name === one.name);
  const to = positionOf(other, one.name);
  if (adjuster === undefined || to === undefined || !isAir(adjuster)) return undefined;
  return checkPosition(adjuster, to).ok ? { adjuster, from: one.value, to } : undefined;
}

/** The exception of law 1: one small step less, where CO was measured to fall that way by more than its uncertainty. */
function chilledStep(bench: Bench, now: Now): Advice | undefined {
  const { facts, fresh } = bench;
  const { limits } = facts;
  const before = fresh.at(-2);
  if (before === undefined || now.o2 === undefined || now.coAirFree === undefined || !now.isSettled) return undefined;
  if (now.o2 < CHILLED_FROM_O2 || now.o2 > DILUTED_FROM_O2 || now.smoke !== 0) return undefined;
  if ((facts.live?.o2 ?? CHILLED_FROM_O2) < CHILLED_FROM_O2) return undefined;
  const earlier = nowOf(before);
  if (!earlier.isSettled || earlier.o2 === undefined || earlier.coAirFree === undefined) return undefined;
  if (earlier.o2 < now.o2 || !hasMoved(earlier.o2 - now.o2) || onlyMoved(now.trial.setting, before.setting, facts.adjusters) === undefined)
    return undefined;
  const uncertainty = Math.hypot(coAirFreeU(now), coAirFreeU(earlier));
  if (earlier.coAirFree - now.coAirFree <= uncertainty) return undefined;
  // with more air CO was never seen lower: else that is where to go
  if (fresh.map(nowOf).some((one) => one.o2 !== undefined && one.o2 > now.o2! && (one.coAirFree ?? Infinity) <= now.coAirFree!))
    return undefined;
  // CO that was already seen rising again with less air is the other arm of the valley
  if (fresh.map(nowOf).some((one) => one.o2 !== undefined && one.o2 < now.o2! && (one.coAirFree ?? Infinity) >= now.coAirFree!))
    return undefined;
  const targetO2 = now.o2 - CHILLED_STEP_O2;
  if (targetO2 <= limits.o2FloorPercent) return undefined;
  const move = moveTo(bench, { kind: 'part-way', targetO2 });
  if (move === undefined || move.kind !== 'less-air' || now.o2 - move.next.expectedO2 > 1.5 * CHILLED_STEP_O2) return undefined;
  if (move.next.expectedO2 < limits.o2FloorPercent + FLOOR_MARGIN_O2 || move.next.low < limits.o2FloorPercent) return undefined;
  if (leadsBackToDanger(bench, move.next.adjuster, move.next.to)) return undefined;
  return adviceOf(bench, move, now.o2, [targetO2, now.o2], ['flue-co-alarm', 'co-falls-towards-less-air', 'small-step']);
}

/** Expanded uncertainty of CO air-free, from CO and from O2. */
function coAirFreeU({ trial, coPpm, o2 }: Now): number {
  const [co, oxygen] = [figureOf(trial, 'co')!, figureOf(trial, 'o2')!];
  const factor = coAirFreePpm(1, o2!) ?? 1;
  return (
    2 * Math.hypot(factor * Math.hypot(co.random, co.common), (factor * coPpm! * Math.hypot(oxygen.random, oxygen.common)) / (20.9 - o2!))
  );
}

function whileSmoky(bench: Bench, o2: number, now: Now, goal: GoalAnswer, isAtFloor: boolean): Advice {
  const { limits } = bench.facts;
  const keys: AdviceReason[] = ['smoke-over-limit'];
  if (now.smoke! >= DARK_SMOKE && now.coPpm !== undefined && now.coPpm <= 0) keys.push('smoke-and-co-disagree');
  if (isAtFloor) keys.push('o2-at-floor');
  if (o2 >= Math.max(limits.o2HighPercent ?? MUCH_AIR_O2, limits.o2FloorPercent + 1)) return none(...keys, 'smoke-with-much-air');
  const least = Math.max(o2 + LEAST_EFFECT_O2, limits.o2FloorPercent + FLOOR_MARGIN_O2);
  const targetO2 =
    goal.kind === 'stop' || goal.kind === 'none' || goal.kind === 'floor' || goal.targetO2 < least
      ? Math.max(o2 + STEP_TO_CLEAN_O2, least)
      : goal.targetO2;
  return moreAir(bench, o2, { targetO2, aimO2: [targetO2, targetO2 + 0.5] }, keys);
}

function towardsGoal(bench: Bench, o2: number, curve: AirCurve, goal: GoalAnswer): Advice {
  const { limits, flame } = bench.facts;
  if (goal.kind === 'none') return none('no-trials');
  const keys: AdviceReason[] = curve.points.some(({ againstAir }) => againstAir) ? ['smoke-against-air'] : [];
  let aim: Aim = aimOf(curve, goal, limits);
  let kind: Goal['kind'] = goal.kind === 'stop' || goal.kind === 'floor' ? 'as-left' : goal.kind;
  if (goal.kind === 'stop') {
    keys.push('co-before-smoke');
    const clear = clearOfCo(curve, limits);
    if (clear === undefined) return none(...keys);
    aim = { targetO2: clear, aimO2: [clear - NEAR_ENOUGH_O2, clear + 1] };
  } else if (goal.kind === 'floor') keys.push(curve.points.some(({ smoke }) => (smoke ?? 0) > 0) ? 'floor-is-near' : 'no-smoke-by-floor');
  else if (flame === 'blue' && richCoO2(curve.points, limits.coNoticeAirFreePpm) !== undefined) keys.push('set-by-co');
  if (curve.window?.conflict === true && goal.kind === 'as-left' && flame === 'yellow') keys.push('reserve-and-limit-conflict');
  const isInside = goal.kind === 'floor' && o2 >= aim.aimO2[0] && o2 <= aim.aimO2[1];
  if (isInside || (kind === 'as-left' && Math.abs(o2 - aim.targetO2) <= NEAR_ENOUGH_O2))
    return { advice: 'leave', because: [...keys, 'as-left'], aimO2: aim.aimO2, o2 };
  // rising CO below the alarm: no long steps towards it
  if (kind === 'find-smoke' && isCoRising(curve, limits)) {
    kind = 'part-way';
    aim = { ...aim, targetO2: Math.max(aim.targetO2, o2 - CHILLED_STEP_O2) };
  }
  const move = (aim.targetO2 > o2 ? moreAir : lessAir)(bench, o2, aim, [...keys, kind], kind);
  if (isNothingNew(bench, o2, move, curve, goal)) return afterTheSearch(bench, o2, curve, keys);
  if (kind === 'as-left' && !isNearer(bench, move, o2, aim)) return leaveHere(o2, aim, keys);
  if (move.advice !== 'none' || aim.targetO2 > o2) return move;
  if (move.because.includes('nearest-step')) return withoutAStep(bench, o2, curve, goal, keys, 'floor-is-near');
  if (!move.because.includes('scale-ends')) return move;
  const known = withoutAStep(bench, o2, curve, goal, keys, 'closed-end');
  // with more air than it should have, a burner is not left because its scale ends
  return known.advice === 'leave' && known.aimO2![1] <= o2 ? move : known;
}

type SearchEnd = 'floor-is-near' | 'closed-end';

/**
 * The search would go back to a setting that was read already, or hardly beyond the lowest one: what that can tell is known, and it would go to
 * and fro for ever.
 */
function isNothingNew({ facts, fresh }: Bench, o2: number, { setting, expected }: Advice, curve: AirCurve, goal: GoalAnswer): boolean {
  const isSearch = goal.kind === 'find-smoke' || (goal.kind === 'narrow-onset' && curve.onset.state === 'found');
  if (!isSearch || setting === undefined) return false;
  const read = fresh
    .map(nowOf)
    .filter((one) => one.isSettled && one.o2 !== undefined && (one.smoke !== undefined || facts.flame === 'blue'));
  if (read.some(({ trial }) => sameSetting(trial.setting, setting))) return true;
  const lowest = Math.min(...read.map((one) => one.o2!));
  // the lowest one was left already: it takes more to go back
  const least = o2 > lowest + LEAST_EFFECT_O2 ? WORTH_GOING_BACK_O2 : NEAR_ENOUGH_O2;
  return goal.kind === 'find-smoke' && expected !== undefined && expected.o2 > lowest - least;
}

/** No step is left that would tell more: left where what is known says, by the smoke that was found or above the floor. */
function afterTheSearch(bench: Bench, o2: number, curve: AirCurve, keys: AdviceReason[]): Advice {
  const [aim, why] = aimAfterTheSearch(bench, curve, keys);
  if (Math.abs(o2 - aim.targetO2) <= NEAR_ENOUGH_O2 || (o2 >= aim.aimO2[0] && o2 <= aim.aimO2[1]))
    return { advice: 'leave', because: [...why, 'as-left'], aimO2: aim.aimO2, o2 };
  const move = (aim.targetO2 > o2 ? moreAir : lessAir)(bench, o2, aim, [...why, 'as-left'], 'as-left');
  return isNearer(bench, move, o2, aim) ? move : leaveHere(o2, aim, why);
}

/** Of two settings that were read, the nearer one; one short of the aim is worse than any above it, and nobody is sent back into smoke. */
function isNearer({ fresh, facts: { limits } }: Bench, { setting }: Advice, o2: number, { targetO2, aimO2 }: Aim): boolean {
  const there = fresh.filter((trial) => setting !== undefined && isFittable(trial) && sameSetting(trial.setting, setting));
  if (there.length === 0) return true;
  if (there.map(nowOf).some(({ smoke }) => smoke !== undefined && isSmokeOver(smoke, limits))) return false;
  const o2There = there.reduce((sum, trial) => sum + figureOf(trial, 'o2')!.mean, 0) / there.length;
  const isShort = (one: number): boolean => one < aimO2[0];
  if (isShort(o2There) !== isShort(o2)) return isShort(o2);
  // each spot moves the aim a little: with less air, nearer by less than can be told apart is not nearer
  const least = o2There < o2 ? LEAST_EFFECT_O2 : 0;
  return Math.abs(o2There - targetO2) + least < Math.abs(o2 - targetO2);
}

const leaveHere = (o2: number, { aimO2 }: Aim, why: AdviceReason[]): Advice => ({
  advice: 'leave',
  because: [...why, 'nearest-step'],
  aimO2: [Math.min(o2, aimO2[0]), Math.max(o2, aimO2[1])],
  o2,
});

/** What is aimed at when the search is over. */
function aimAfterTheSearch(
  { facts: { limits, flame } }: Bench,
  curve: AirCurve,
  keys: AdviceReason[],
  end: SearchEnd = 'floor-is-near',
): [aim: Aim, why: AdviceReason[]] {
  if (curve.onset.state === 'found') {
    const targetO2 = Math.max(limits.o2FloorPercent + FLOOR_MARGIN_O2, curve.window?.aimO2 ?? 0);
    return [aimOf(curve, { kind: 'as-left', targetO2 }, limits), keys];
  }
  return [floorAim(limits), flame === 'blue' ? keys : [...keys, end]];
}

/** Less air is wanted, and the smallest step would go below the floor or the scale ends: the search ends here, and what is known decides. */
function withoutAStep(bench: Bench, o2: number, curve: AirCurve, goal: GoalAnswer, keys: AdviceReason[], end: SearchEnd): Advice {
  const [aim, why] = aimAfterTheSearch(bench, curve, keys, end);
  if (goal.kind !== 'part-way' && o2 < aim.targetO2 - NEAR_ENOUGH_O2 && o2 < aim.aimO2[0]) return moreAir(bench, o2, aim, why, 'as-left');
  return leaveHere(o2, aim, why);
}

/** The newest trial has clearly more CO than one with more air, and more than the notice. */
function isCoRising({ points }: AirCurve, { coNoticeAirFreePpm }: LimitsInForce): boolean {
  const newest = [...points]
    .filter(({ settled }) => settled)
    .sort((a, b) => a.order - b.order)
    .at(-1);
  const co = newest?.coAirFreePpm;
  if (newest === undefined || co === undefined || co < coNoticeAirFreePpm) return false;
  return points.some((point) => point.settled && point.o2 > newest.o2 + 0.1 && (point.coAirFreePpm ?? Infinity) < co);
}

function aimOf(curve: AirCurve, goal: GoalAnswer, limits: LimitsInForce): Aim {
  const floor = limits.o2FloorPercent;
  if (goal.kind === 'floor') return floorAim(limits);
  if (goal.kind === 'stop' || goal.kind === 'none') return floorAim(limits);
  const { targetO2 } = goal;
  const { window } = curve;
  const [low, high] =
    goal.kind === 'as-left' && window !== undefined
      ? [window.aimLow, Math.max(window.aimHigh, targetO2)]
      : [targetO2 - NEAR_ENOUGH_O2, targetO2 + NEAR_ENOUGH_O2];
  return { targetO2, aimO2: [Math.min(targetO2, Math.max(floor, low)), Math.max(targetO2, high)] };
}

const floorAim = (limits: LimitsInForce): Aim => {
  const { low, high, targetO2 } = floorGoal(limits);
  return { targetO2, aimO2: [low, high] };
};

type Move = { kind: 'less-air' | 'more-air'; next: Extract<NextSetting, { kind: 'move' }> };

/** The setting that the trials so far point to; a target too far off is gone to part of the way. */
function moveTo(bench: Bench, goal: Goal): Move | NonNullable<Refused> | undefined {
  const { facts, fresh, present } = bench;
  const ask = (kind: Goal['kind']): NextSetting =>
    nextSetting({ goal: { ...goal, kind }, trials: fresh, adjusters: facts.adjusters, present });
  let next = ask(goal.kind);
  if (next.kind === 'none' && next.reason === 'too-far-beyond-trials') next = ask('part-way');
  if (next.kind === 'already-there') return undefined;
  if (next.kind === 'none') return { kind: 'refused', reason: next.reason, adjuster: next.adjuster };
  const change = next.from === undefined ? 0 : next.to - next.from;
  if (change === 0) return undefined;
  return { kind: change > 0 === next.rising ? 'more-air' : 'less-air', next };
}
type Refused = { kind: 'refused'; reason: Extract<NextSetting, { kind: 'none' }>['reason']; adjuster: string | undefined } | undefined;

const adviceOf = (
  { facts, fresh }: Bench,
  { kind, next }: Move,
  o2: number,
  aimO2: readonly [number, number],
  because: AdviceReason[],
): Advice => ({
  advice: kind,
  because,
  adjuster: next.adjuster,
  from: next.from,
  to: next.to,
  setting: next.setting,
  aimO2,
  expected: { o2: next.expectedO2, low: next.low, high: next.high },
  // a scale that runs backwards gets numbers only: there 'open' and the number part ways
  direction: isSeenRising(next.adjuster, facts, fresh) ? (kind === 'more-air' ? 'open' : 'close') : undefined,
  o2,
});

function lessAir(bench: Bench, o2: number, aim: Aim, because: AdviceReason[], kind: Goal['kind']): Advice {
  const { limits } = bench.facts;
  const floor = limits.o2FloorPercent;
  let { targetO2 } = aim;
  for (let tries = 0; tries < 4; tries++) {
    if (o2 - targetO2 < NEAR_ENOUGH_O2) break;
    const move = moveTo(bench, { kind, targetO2 });
    if (move === undefined)
      return { advice: kind === 'as-left' ? 'leave' : 'none', because: [...because, 'nearest-step'], aimO2: aim.aimO2, o2 };
    if (move.kind === 'refused') return smallStep(bench, o2, 'less-air', aim, because, move);
    if (move.kind === 'more-air') return none(...because, 'not-monotone');
    // where the interval would reach under the floor, less is dared
    const short = floor - move.next.low;
    if (leadsBackToDanger(bench, move.next.adjuster, move.next.to)) return none(...because, 'nearest-step');
    if (short <= 0 && move.next.expectedO2 > floor) return adviceOf(bench, move, o2, aim.aimO2, because);
    targetO2 += Math.max(short, FLOOR_MARGIN_O2);
  }
  return { advice: 'none', because: [...because, 'nearest-step'], aimO2: aim.aimO2, o2 };
}

function moreAir(bench: Bench, o2: number, aim: Aim, because: AdviceReason[], kind: Goal['kind'] = 'find-clean'): Advice {
  const move = moveTo(bench, { kind, targetO2: aim.targetO2 });
  if (move !== undefined && 'next' in move)
    return move.kind === 'more-air' ? adviceOf(bench, move, o2, aim.aimO2, because) : none(...because, 'not-monotone');
  return smallStep(bench, o2, 'more-air', aim, because, move);
}

/** Without a usable relation: one small step where it is known which way the air goes, else no number at all. */
function smallStep(bench: Bench, o2: number, wanted: 'less-air' | 'more-air', aim: Aim, because: AdviceReason[], refused: Refused): Advice {
  const { facts, fresh, present } = bench;
  const said: AdviceReason[] = refused === undefined ? [] : [refused.reason];
  if (present === undefined) return none(...because, 'no-setting');
  if (wanted === 'less-air' && o2 < facts.limits.o2FloorPercent + ROOM_FOR_A_STEP_O2) return none(...because, ...said);
  const air = [...facts.adjusters].filter(isAir).sort((a, b) => rank(a) - rank(b));
  for (const adjuster of air) {
    const from = positionOf(present, adjuster.name);
    const way = wayOf(adjuster, fresh);
    // what the trials just showed to be without effect, or without rule, is not tried again
    if (from === undefined || way === undefined || isTriedInVain(adjuster, fresh, present)) continue;
    const span = adjuster.min !== undefined && adjuster.max !== undefined ? adjuster.max - adjuster.min : 0;
    const size = Math.max(1, Math.round((SMALL_STEP_SHARE * span) / adjuster.step)) * adjuster.step;
    const to = roundToStep(adjuster, from + ((way === 'up') === (wanted === 'more-air') ? size : -size));
    // a position off the step, or at the end of the scale, could round to the wrong side
    if (Math.sign(to - from) !== ((way === 'up') === (wanted === 'more-air') ? 1 : -1)) continue;
    if (wanted === 'less-air') {
      if (leadsBackToDanger(bench, adjuster.name, to)) continue;
      if (isIntoTheClosedEnd(adjuster, { from, to, way, o2 }, bench)) {
        if (!said.includes('scale-ends')) said.push('scale-ends');
        continue;
      }
    }
    return {
      advice: wanted,
      because: [...because, 'small-step'],
      adjuster: adjuster.name,
      from,
      to,
      setting: withPosition(present, adjuster.name, to),
      aimO2: aim.aimO2,
      direction: knownDirection(adjuster, fresh) === 'up' ? (wanted === 'more-air' ? 'open' : 'close') : undefined,
      o2,
    };
  }
  const isUnknown = air.some((adjuster) => wayOf(adjuster, fresh) === undefined);
  const keys: AdviceReason[] = [
    ...because,
    ...said.filter((key) => key !== 'too-few-trials' || !isUnknown),
    ...(isUnknown ? (['direction-not-known'] as const) : []),
  ];
  // more air is right whatever the number: 'open the air' needs none
  if (wanted === 'more-air' && isUnknown) return { advice: 'more-air', because: keys, aimO2: aim.aimO2, o2 };
  return { advice: 'none', because: keys, aimO2: aim.aimO2, o2 };
}

/** A step into the last stretch before the closed end that could take O2 to the floor. */
function isIntoTheClosedEnd(
  adjuster: Adjuster,
  { from, to, way, o2 }: { from: number; to: number; way: 'up' | 'down'; o2: number },
  { facts: { limits }, fresh, present }: Bench,
): boolean {
  const closed = way === 'up' ? adjuster.min : adjuster.max;
  const size = Math.abs(to - from);
  if (closed === undefined || present === undefined || size <= CLOSING_SHARE * Math.abs(closed - from) + adjuster.step * 1e-6) return false;
  const opener = sameElsewhere(fresh, present, adjuster.name)
    .filter(isFittable)
    .map((trial) => ({ away: Math.abs(positionOf(trial.setting, adjuster.name)! - closed), o2: figureOf(trial, 'o2')!.mean }))
    .filter(({ away, o2: there }) => away > Math.abs(from - closed) && hasMoved(there - o2) && there > o2)
    .sort((a, b) => a.away - b.away)[0];
  if (opener !== undefined) {
    const perMark = (airRatio(opener.o2) - airRatio(o2)) / (opener.away - Math.abs(from - closed));
    return airRatio(o2) - STEEPER_AT_CLOSED_END * perMark * size <= airRatio(limits.o2FloorPercent);
  }
  const span = adjuster.min !== undefined && adjuster.max !== undefined ? adjuster.max - adjuster.min : 0;
  return size > COARSE_STEP_SHARE * span || o2 < limits.o2FloorPercent + ROOM_AT_CLOSED_END_O2;
}

const isSeenRising = (name: string, { adjusters }: AdviceFacts, fresh: readonly Trial[]): boolean => {
  const adjuster = adjusters.find((one) => one.name === name);
  return adjuster !== undefined && knownDirection(adjuster, fresh) === 'up';
};

/**
 * Which end of the scale gives more air, from settings that differ in this adjuster only: what was read at each, and readings repeated at one of
 * them never on either side of the other. Undefined while they do not agree.
 */
function knownDirection(adjuster: Adjuster, fresh: readonly Trial[]): 'up' | 'down' | undefined {
  const { ways, most } = directionsSeen(adjuster, fresh);
  const [way] = ways;
  return ways.size === 1 && way !== undefined && !gainsays(adjuster, way === 'up', most) ? way : undefined;
}

/** As the trials show it; else as the person said it, unless the trials speak against it. */
function wayOf(adjuster: Adjuster, fresh: readonly Trial[]): 'up' | 'down' | undefined {
  const { moreAir } = adjuster;
  const known = knownDirection(adjuster, fresh);
  if (known !== undefined || moreAir === undefined) return known;
  return directionsSeen(adjuster, fresh).ways.has(moreAir === 'up' ? 'down' : 'up') ? undefined : moreAir;
}

function directionsSeen(adjuster: Adjuster, fresh: readonly Trial[]): { ways: Set<'up' | 'down'>; most: number } {
  const ways = new Set<'up' | 'down'>();
  let most = 0;
  const usable = fresh.filter(isFittable);
  const settings = usable.filter(({ setting }, index) => usable.findIndex((other) => sameSetting(other.setting, setting)) === index);
  const readAt = ({ setting }: Trial): number[] =>
    usable.filter((other) => sameSetting(other.setting, setting)).map((other) => figureOf(other, 'o2')!.mean);
  settings.forEach((trial, index) => {
    for (const other of sameElsewhere(settings.slice(index + 1), trial.setting, adjuster.name)) {
      const [a, b] = [positionOf(trial.setting, adjuster.name), positionOf(other.setting, adjuster.name)];
      if (a === undefined || b === undefined || a === b) continue;
      const [here, there] = [readAt(trial), readAt(other)];
      const rise = mean(there) - mean(here);
      const isApart = Math.min(...there) > Math.max(...here) || Math.max(...there) < Math.min(...here);
      if (!hasMoved(rise) || !isApart) continue;
      ways.add(rise > 0 === b > a ? 'up' : 'down');
      most = Math.max(most, Math.abs(rise));
    }
  });
  return { ways, most };
}

const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;

/** Less air to where a reading had CO at the alarm, smoke over the limit or O2 at the floor, or beyond it: what was read last there counts. */
function leadsBackToDanger({ facts, fresh, present }: Bench, name: string, to: number): boolean {
  const from = present && positionOf(present, name);
  if (present === undefined || from === undefined) return false;
  const there = sameElsewhere(fresh, present, name);
  return there.some((trial) => {
    const at = positionOf(trial.setting, name)!;
    const isOnTheWay = to < from ? at >= to && at < from : at <= to && at > from;
    return (
      isOnTheWay && there.findLast((other) => positionOf(other.setting, name) === at) === trial && isDangerous(nowOf(trial), facts.limits)
    );
  });
}

const isDangerous = (one: Now, limits: LimitsInForce): boolean =>
  (one.coAirFree ?? one.coPpm ?? 0) >= limits.coAlarmAirFreePpm ||
  (one.smoke !== undefined && isSmokeOver(one.smoke, limits)) ||
  (one.o2 !== undefined && one.o2 <= limits.o2FloorPercent);

const isTriedInVain = (adjuster: Adjuster, fresh: readonly Trial[], present: Setting): boolean => {
  const here = sameElsewhere(fresh, present, adjuster.name).filter(isFittable);
  return new Set(here.map((trial) => positionOf(trial.setting, adjuster.name))).size >= 2 && knownDirection(adjuster, here) === undefined;
};
