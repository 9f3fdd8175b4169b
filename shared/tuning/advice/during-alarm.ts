/** CO at the alarm: open the air, back to a setting that was read clean where there is one; or stop. */
import type { Setting } from '../../measurement/mark.ts';
import { FLOOR_MARGIN_O2, STEP_TO_CLEAN_O2 } from '../curve/curve-goal.ts';
import { type Adjuster, checkPosition, isAir } from '../trial/adjuster.ts';
import { coAirFreePpm } from '../trial/gas-basis.ts';
import { positionOf, withPosition } from '../trial/setting.ts';
import { figureOf } from '../trial/trial-figures.ts';
import { hasMoved } from './next-setting.ts';
import { type Advice, type AdviceReason, stop } from './advice.ts';
import { knownDirection } from './directions.ts';
import { adviceOf, moreAir, moveTo } from './moves.ts';
import {
  type Situation,
  CHILLED_FROM_O2,
  CHILLED_STEP_O2,
  DILUTED_FROM_O2,
  isClean,
  leadsBackToDanger,
  type Now,
  nowOf,
} from './situation.ts';

/** Open the air, back to a setting that was read clean where there is one; or stop. */
export function duringAlarm(situation: Situation, now: Now, liveAlarm: boolean, isRead: boolean, key: AdviceReason): Advice {
  const { facts, fresh, present } = situation;
  const o2 = liveAlarm ? (facts.live?.o2 ?? now.o2) : now.o2;
  if (isRead && !liveAlarm) {
    const chilled = chilledStep(situation, now);
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
  const move = moreAir(situation, o2, { targetO2, aimO2: [targetO2, targetO2 + 1] }, [key]);
  return move.adjuster === undefined ? stop(key) : move;
}

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
function chilledStep(situation: Situation, now: Now): Advice | undefined {
  const { facts, fresh } = situation;
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
  const move = moveTo(situation, { kind: 'part-way', targetO2 });
  if (move === undefined || move.kind !== 'less-air' || now.o2 - move.next.expectedO2 > 1.5 * CHILLED_STEP_O2) return undefined;
  if (move.next.expectedO2 < limits.o2FloorPercent + FLOOR_MARGIN_O2 || move.next.low < limits.o2FloorPercent) return undefined;
  if (leadsBackToDanger(situation, move.next.adjuster, move.next.to)) return undefined;
  return adviceOf(situation, move, now.o2, [targetO2, now.o2], ['flue-co-alarm', 'co-falls-towards-less-air', 'small-step']);
}

/** Expanded uncertainty of CO air-free, from CO and from O2. */
function coAirFreeU({ trial, coPpm, o2 }: Now): number {
  const [co, oxygen] = [figureOf(trial, 'co')!, figureOf(trial, 'o2')!];
  const factor = coAirFreePpm(1, o2!) ?? 1;
  return (
    2 * Math.hypot(factor * Math.hypot(co.random, co.common), (factor * coPpm! * Math.hypot(oxygen.random, oxygen.common)) / (20.9 - o2!))
  );
}
