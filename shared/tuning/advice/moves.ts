/** One step of one adjuster towards an O2: as far as the trials tell, a small one, or none. */
import { FLOOR_MARGIN_O2 } from '../curve/curve-goal.ts';
import { type Adjuster, isAir } from '../trial/adjuster.ts';
import { airRatio } from '../trial/gas-basis.ts';
import { positionOf, roundToStep, withPosition } from '../trial/setting.ts';
import { figureOf, isFittable } from '../trial/trial-figures.ts';
import { CLOSING_SHARE, type Goal, hasMoved, NEAR_ENOUGH_O2, nextSetting, type NextSetting, rank, sameElsewhere } from './next-setting.ts';
import { type Advice, type AdviceReason, none } from './advice.ts';
import { isSeenRising, isTriedInVain, knownDirection, wayOf } from './directions.ts';
import { type Aim, type Situation, leadsBackToDanger } from './situation.ts';

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
type Move = { kind: 'less-air' | 'more-air'; next: Extract<NextSetting, { kind: 'move' }> };

/** The setting that the trials so far point to; a target too far off is gone to part of the way. */
export function moveTo(situation: Situation, goal: Goal): Move | NonNullable<Refused> | undefined {
  const { facts, fresh, present } = situation;
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

export const adviceOf = (
  { facts, fresh }: Situation,
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

export function lessAir(situation: Situation, o2: number, aim: Aim, because: AdviceReason[], kind: Goal['kind']): Advice {
  const { limits } = situation.facts;
  const floor = limits.o2FloorPercent;
  let { targetO2 } = aim;
  for (let tries = 0; tries < 4; tries++) {
    if (o2 - targetO2 < NEAR_ENOUGH_O2) break;
    const move = moveTo(situation, { kind, targetO2 });
    if (move === undefined)
      return { advice: kind === 'as-left' ? 'leave' : 'none', because: [...because, 'nearest-step'], aimO2: aim.aimO2, o2 };
    if (move.kind === 'refused') return smallStep(situation, o2, 'less-air', aim, because, move);
    if (move.kind === 'more-air') return none(...because, 'not-monotone');
    // where the interval would reach under the floor, less is dared
    const short = floor - move.next.low;
    if (leadsBackToDanger(situation, move.next.adjuster, move.next.to)) return none(...because, 'nearest-step');
    if (short <= 0 && move.next.expectedO2 > floor) return adviceOf(situation, move, o2, aim.aimO2, because);
    targetO2 += Math.max(short, FLOOR_MARGIN_O2);
  }
  return { advice: 'none', because: [...because, 'nearest-step'], aimO2: aim.aimO2, o2 };
}

export function moreAir(situation: Situation, o2: number, aim: Aim, because: AdviceReason[], kind: Goal['kind'] = 'find-clean'): Advice {
  const move = moveTo(situation, { kind, targetO2: aim.targetO2 });
  if (move !== undefined && 'next' in move)
    return move.kind === 'more-air' ? adviceOf(situation, move, o2, aim.aimO2, because) : none(...because, 'not-monotone');
  return smallStep(situation, o2, 'more-air', aim, because, move);
}

/** Without a usable relation: one small step where it is known which way the air goes, else no number at all. */
function smallStep(
  situation: Situation,
  o2: number,
  wanted: 'less-air' | 'more-air',
  aim: Aim,
  because: AdviceReason[],
  refused: Refused,
): Advice {
  const { facts, fresh, present } = situation;
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
      if (leadsBackToDanger(situation, adjuster.name, to)) continue;
      if (isIntoTheClosedEnd(adjuster, { from, to, way, o2 }, situation)) {
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
  { facts: { limits }, fresh, present }: Situation,
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
