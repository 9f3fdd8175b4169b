/** Nothing stops the work: towards smoke, away from it, or to where the air is left. */
import type { AirCurve } from '../curve/air-curve.ts';
import { clearOfCo, FLOOR_MARGIN_O2, type GoalAnswer, richCoO2 } from '../curve/curve-goal.ts';
import { isSmokeOver } from '../trial/smoke.ts';
import { figureOf, isFittable } from '../trial/trial-figures.ts';
import { sameSetting } from '../trial/trials.ts';
import type { LimitsInForce } from './limits-in-force.ts';
import { type Goal, LEAST_EFFECT_O2, NEAR_ENOUGH_O2 } from './next-setting.ts';
import { type Advice, type AdviceReason, none } from './advice.ts';
import { lessAir, moreAir } from './moves.ts';
import { type Aim, type Situation, CHILLED_STEP_O2, floorAim, nowOf } from './situation.ts';

/** A search that was broken off near the floor is taken up again for no less than this. Own choice. */
const WORTH_GOING_BACK_O2 = 0.5;

type SearchEnd = 'floor-is-near' | 'closed-end';

export function towardsGoal(situation: Situation, o2: number, curve: AirCurve, goal: GoalAnswer): Advice {
  const { limits, flame } = situation.facts;
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
  const move = (aim.targetO2 > o2 ? moreAir : lessAir)(situation, o2, aim, [...keys, kind], kind);
  if (isNothingNew(situation, o2, move, curve, goal)) return afterTheSearch(situation, o2, curve, keys);
  if (kind === 'as-left' && !isNearer(situation, move, o2, aim)) return leaveHere(o2, aim, keys);
  if (move.advice !== 'none' || aim.targetO2 > o2) return move;
  if (move.because.includes('nearest-step')) return withoutAStep(situation, o2, curve, goal, keys, 'floor-is-near');
  if (!move.because.includes('scale-ends')) return move;
  const known = withoutAStep(situation, o2, curve, goal, keys, 'closed-end');
  // with more air than it should have, a burner is not left because its scale ends
  return known.advice === 'leave' && known.aimO2![1] <= o2 ? move : known;
}

/**
 * The search would go back to a setting that was read already, or hardly beyond the lowest one: what that can tell is known, and it would go to
 * and fro for ever.
 */
function isNothingNew({ facts, fresh }: Situation, o2: number, { setting, expected }: Advice, curve: AirCurve, goal: GoalAnswer): boolean {
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
function afterTheSearch(situation: Situation, o2: number, curve: AirCurve, keys: AdviceReason[]): Advice {
  const [aim, why] = aimAfterTheSearch(situation, curve, keys);
  if (Math.abs(o2 - aim.targetO2) <= NEAR_ENOUGH_O2 || (o2 >= aim.aimO2[0] && o2 <= aim.aimO2[1]))
    return { advice: 'leave', because: [...why, 'as-left'], aimO2: aim.aimO2, o2 };
  const move = (aim.targetO2 > o2 ? moreAir : lessAir)(situation, o2, aim, [...why, 'as-left'], 'as-left');
  return isNearer(situation, move, o2, aim) ? move : leaveHere(o2, aim, why);
}

/** Of two settings that were read, the nearer one; one short of the aim is worse than any above it, and nobody is sent back into smoke. */
function isNearer({ fresh, facts: { limits } }: Situation, { setting }: Advice, o2: number, { targetO2, aimO2 }: Aim): boolean {
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
  { facts: { limits, flame } }: Situation,
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
function withoutAStep(situation: Situation, o2: number, curve: AirCurve, goal: GoalAnswer, keys: AdviceReason[], end: SearchEnd): Advice {
  const [aim, why] = aimAfterTheSearch(situation, curve, keys, end);
  if (goal.kind !== 'part-way' && o2 < aim.targetO2 - NEAR_ENOUGH_O2 && o2 < aim.aimO2[0])
    return moreAir(situation, o2, aim, why, 'as-left');
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

export function aimOf(curve: AirCurve, goal: GoalAnswer, limits: LimitsInForce): Aim {
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
