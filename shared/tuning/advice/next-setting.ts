import type { Setting } from '../../measurement/mark.ts';
import { isAir, type Adjuster } from '../trial/adjuster.ts';
import { positionOf, roundToStep, withPosition } from '../trial/setting.ts';
import { airRatio, o2FromAirRatio } from '../trial/gas-basis.ts';
import { monotoneCurve, monotoneKnots, placeOf, valueAt } from '../curve/monotone-curve.ts';
import type { Trial } from '../trial/trial.ts';
import { figureOf, isFittable } from '../trial/trial-figures.ts';
import { defined } from '../../defined.ts';

/** What a next setting is for. */
export type Goal = { kind: 'as-left' | 'find-smoke' | 'find-clean' | 'narrow-onset' | 'part-way'; targetO2: number };

/** `trials` names those it was read from. `expectedO2` is where O2 should come to rest, with its 95 % interval. */
export type NextSetting =
  | {
      kind: 'move';
      goal: Goal;
      adjuster: string;
      role: 'coarse' | 'fine';
      from: number | undefined;
      to: number;
      setting: Setting;
      expectedO2: number;
      low: number;
      high: number;
      reason: 'between-trials' | 'just-beyond-trials' | 'coarse-because-fine-ends' | 'coarse-because-fine-not-tried';
      trials: string[];
      /** reached at the scale's end or nearest step; the expected O2 misses the target by more than its interval */
      shortOfTarget: boolean;
      /** which way O2 goes when this adjuster's number rises, as the trials show it */
      rising: boolean;
    }
  | { kind: 'already-there'; goal: Goal; o2: number }
  | { kind: 'none'; goal: Goal; reason: NoAdvice; adjuster?: string | undefined };

export const noAdvice = [
  'too-few-trials',
  'no-air-adjuster',
  'too-far-beyond-trials',
  'flat',
  'not-monotone',
  'no-setting',
  'scale-ends',
  'against-what-was-said',
] as const;
export type NoAdvice = (typeof noAdvice)[number];

/** Close enough to leave it: own choice, half of what decides. */
export const NEAR_ENOUGH_O2 = 0.25;
/** O2 must have moved by more than this between trials before a direction is believed. */
export const LEAST_EFFECT_O2 = 0.3;
/** 9.8 - 9.5 is a little more than 0.3 to a computer. */
const ROUNDING = 1e-6;
export const hasMoved = (riseO2: number): boolean => Math.abs(riseO2) > LEAST_EFFECT_O2 + ROUNDING;
/**
 * How far past the trials a straight continuation is trusted, in spans that were tried. Own choice: little where the burner will be left,
 * more where the move only looks for the smoke and is measured at once.
 */
const BEYOND_SHARE = { 'as-left': 1 / 3, 'find-smoke': 1, 'find-clean': 1, 'narrow-onset': 1 / 3, 'part-way': 1 } as const satisfies Record<
  Goal['kind'],
  number
>;
/** A straight line in the air ratio misses the true bend by at most about this share of the gap, in the middle of it. Own choice. */
const SHAPE_SHARE = 0.12;

/** Beyond the trials the straight line may be wrong by this share of what it adds; by all of it towards an end that nobody gave. Own choice. */
const BEYOND_SHAPE_SHARE = 0.5;
const BEYOND_SHAPE_SHARE_TO_NO_END = 1;
/** A slope is read over this much O2, where there is as much. Own choice. */
const SLOPE_OVER_O2 = 1;
/** How the air falls near the closed end was not seen: no further than this share of the way that is left. Own choice. */
export const CLOSING_SHARE = 0.5;
/** Trials that say otherwise than the person did must differ by this much O2 before they are believed. Own choice. */
const TO_GAINSAY_O2 = 1;

/** A difference the other way of so much of the whole effect leaves no rule. Own choice. */
const CONTRARY_SHARE = 0.5;

type Candidate = { adjuster: Adjuster; group: Trial[] };

/**
 * The next setting to try, from what the positions tried so far did to O2 (monotone, nothing else is assumed). The fine adjuster comes
 * first; the coarse one when the fine one's scale ends or it has not been tried at the present coarse position. Says nothing when the
 * trials do not support it, and never leaves the scale.
 *
 * @param trials fresh ones of one stage (staleness.ts)
 */
export function nextSetting({
  goal,
  trials,
  adjusters,
  present,
}: {
  goal: Goal;
  trials: readonly Trial[];
  adjusters: readonly Adjuster[];
  present: Setting | undefined;
}): NextSetting {
  const none = (reason: NoAdvice, adjuster?: string): NextSetting => ({
    kind: 'none',
    goal,
    reason,
    ...defined({ adjuster }),
  });
  if (!present) return none('no-setting');
  const air = adjusters.filter(isAir);
  if (air.length === 0) return none('no-air-adjuster');
  const usable = trials.filter((trial) => trial.setting.stage === present.stage && isFittable(trial));
  const here = usable.findLast((trial) => trial.setting.positions.every(({ name, value }) => positionOf(present, name) === value));
  const hereO2 = here && figureOf(here, 'o2')!.mean;
  if (goal.kind === 'as-left' && hereO2 !== undefined && Math.abs(hereO2 - goal.targetO2) <= NEAR_ENOUGH_O2)
    return { kind: 'already-there', goal, o2: hereO2 };
  const ranked = [...air]
    .sort((a, b) => rank(a) - rank(b))
    .map((adjuster): Candidate => ({ adjuster, group: sameElsewhere(usable, present, adjuster.name) }));
  const answers = ranked.map((candidate) => moveOne(candidate, goal, present));
  const move =
    answers.find((answer) => answer.kind === 'move' && !answer.shortOfTarget) ?? answers.find((answer) => answer.kind === 'move');
  if (!move)
    return answers.find((answer) => answer.kind === 'none' && answer.reason !== 'too-few-trials') ?? answers[0] ?? none('too-few-trials');
  if (move.kind !== 'move' || move.role === 'fine') return move;
  const fine = answers.find((_, index) => ranked[index]!.adjuster.role === 'fine');
  if (!fine || fine === move) return move;
  return {
    ...move,
    reason: fine.kind === 'none' && fine.reason === 'too-few-trials' ? 'coarse-because-fine-not-tried' : 'coarse-because-fine-ends',
  };
}

export const rank = (adjuster: Adjuster): number => (adjuster.role === 'fine' ? 0 : 1);

/** Trials that differ from the present setting in this one adjuster only: an adjuster whose position is not known there may have moved. */
export const sameElsewhere = (trials: readonly Trial[], present: Setting, name: string): Trial[] =>
  trials.filter(
    ({ setting }) =>
      positionOf(setting, name) !== undefined &&
      [...present.positions, ...setting.positions].every(
        (one) => one.name === name || positionOf(setting, one.name) === positionOf(present, one.name),
      ),
  );

/** What the trials show against what the person said, by too little to be believed. */
export const gainsays = ({ moreAir }: Adjuster, isRising: boolean, differenceO2: number): boolean =>
  moreAir !== undefined && (moreAir === 'up') !== isRising && Math.abs(differenceO2) < TO_GAINSAY_O2;

function moveOne({ adjuster, group }: Candidate, goal: Goal, present: Setting): NextSetting {
  const none = (reason: NoAdvice): NextSetting => ({ kind: 'none', goal, reason, adjuster: adjuster.name });
  const points = group.map((trial) => {
    const o2 = figureOf(trial, 'o2')!;
    return { id: trial.id, x: positionOf(trial.setting, adjuster.name)!, y: airRatio(o2.mean), o2: o2.mean, random: o2.random };
  });
  if (new Set(points.map((point) => point.x)).size < 2) return none('too-few-trials');
  const rising = trendOf(points) > 0;
  const knots = monotoneKnots(points, rising);
  const worst = Math.max(...points.map((point) => Math.abs(point.o2 - o2FromAirRatio(knots.y[knots.x.indexOf(point.x)]!))));
  if (worst > 2 * LEAST_EFFECT_O2 + 3 * Math.max(...points.map((point) => point.random))) return none('not-monotone');
  const ends = [o2FromAirRatio(knots.y[0]!), o2FromAirRatio(knots.y.at(-1)!)] as const;
  if (isScatter(points, rising, Math.abs(ends[1] - ends[0]))) return none('not-monotone');
  if (Math.abs(ends[1] - ends[0]) <= Math.max(LEAST_EFFECT_O2 + ROUNDING, noiseBetweenEnds(points))) return none('flat');
  if (gainsays(adjuster, rising, ends[1] - ends[0])) return none('against-what-was-said');

  const reach = extended(knots, adjuster, BEYOND_SHARE[goal.kind], rising);
  const curve = monotoneCurve(reach.x, reach.y);
  const wanted = airRatio(goal.targetO2);
  const exact = placeOf(curve, wanted);
  const to = stepInside(adjuster, exact ?? (wanted > Math.max(...reach.y) === rising ? reach.x.at(-1)! : reach.x[0]!), reach.x);
  const expected = valueAt(curve, Math.min(reach.x.at(-1)!, Math.max(reach.x[0]!, to)))!;
  const expectedO2 = o2FromAirRatio(expected);
  const half = uncertaintyAt(to, expectedO2, knots, Math.max(...points.map((point) => point.random)), adjuster, curve, rising);
  const beyond = to < knots.x[0]! || to > knots.x.at(-1)!;
  if (exact === undefined && Math.abs(expectedO2 - goal.targetO2) > NEAR_ENOUGH_O2) {
    const atEnd = to === adjuster.min || to === adjuster.max;
    if (goal.kind === 'as-left') return none(atEnd ? 'scale-ends' : 'too-far-beyond-trials');
    if (!beyond) return none(atEnd ? 'scale-ends' : 'too-far-beyond-trials');
  }
  if (to === positionOf(present, adjuster.name)) return none(goal.kind === 'as-left' ? 'flat' : 'scale-ends');
  return {
    kind: 'move',
    goal,
    adjuster: adjuster.name,
    role: adjuster.role,
    from: positionOf(present, adjuster.name),
    to,
    setting: withPosition(present, adjuster.name, to),
    expectedO2,
    low: expectedO2 - half,
    high: expectedO2 + half,
    reason: beyond ? 'just-beyond-trials' : 'between-trials',
    trials: points.map((point) => point.id),
    shortOfTarget: Math.abs(expectedO2 - goal.targetO2) > Math.max(half, NEAR_ENOUGH_O2),
    rising,
  };
}

/** The nearest step that is no further out than was dared. */
function stepInside(adjuster: Adjuster, place: number, reach: readonly number[]): number {
  const to = roundToStep(adjuster, place);
  const slack = adjuster.step * 1e-6;
  const inwards = to < reach[0]! - slack ? 1 : to > reach.at(-1)! + slack ? -1 : 0;
  return inwards === 0 ? to : roundToStep(adjuster, to + inwards * adjuster.step);
}

/** By how much the two ends of the scale could differ from the scatter of repeated readings alone, 95 %. Nothing where none was repeated. */
function noiseBetweenEnds(points: readonly { x: number; o2: number }[]): number {
  const places = [...new Set(points.map(({ x }) => x))].sort((a, b) => a - b);
  const at = places.map((place) => points.filter(({ x }) => x === place).map(({ o2 }) => o2));
  const freedom = points.length - places.length;
  if (freedom === 0) return 0;
  const squares = at.reduce((sum, values) => sum + values.reduce((part, value) => part + (value - mean(values)) ** 2, 0), 0);
  return 2 * Math.sqrt((squares / freedom) * (1 / at[0]!.length + 1 / at.at(-1)!.length));
}

/** Two settings differ the other way by more than scatter, and by so much of the whole effect that they could as well be the rule. */
function isScatter(points: readonly { x: number; o2: number }[], rising: boolean, effect: number): boolean {
  const places = [...new Set(points.map(({ x }) => x))].sort((a, b) => a - b);
  const means = places.map((place) => mean(points.filter(({ x }) => x === place).map(({ o2 }) => o2)));
  let contrary = 0;
  means.forEach((low, index) => {
    for (const high of means.slice(index + 1)) contrary = Math.max(contrary, rising ? low - high : high - low);
  });
  return hasMoved(contrary) && contrary >= CONTRARY_SHARE * effect;
}

function trendOf(points: readonly { x: number; y: number }[]): number {
  const [meanX, meanY] = [mean(points.map((point) => point.x)), mean(points.map((point) => point.y))];
  return points.reduce((sum, point) => sum + (point.x - meanX) * (point.y - meanY), 0);
}

const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;

type Knots = { x: readonly number[]; y: readonly number[] };

/** The slope with which the knots end, over enough of them that readings a few tenths apart do not make it. */
function endSlope({ x, y }: Knots, end: number, inwards: 1 | -1): number {
  let other = end + inwards;
  while (x[other + inwards] !== undefined && Math.abs(o2FromAirRatio(y[other]!) - o2FromAirRatio(y[end]!)) < SLOPE_OVER_O2)
    other += inwards;
  return (y[other]! - y[end]!) / (x[other]! - x[end]!);
}

/** The knots with a short straight continuation at either end, inside the scale. */
function extended(knots: Knots, { min, max }: Adjuster, beyondShare: number, rising: boolean): { x: number[]; y: number[] } {
  const { x, y } = knots;
  const last = x.length - 1;
  const reach = (x[last]! - x[0]!) * beyondShare;
  const [outX, outY] = [[...x], [...y]];
  const least = (from: number, end: number | undefined, isClosing: boolean): number =>
    end === undefined ? Infinity : Math.abs(end - from) * (isClosing ? CLOSING_SHARE : 1);
  const lowest = x[0]! - Math.min(reach, least(x[0]!, min, rising));
  const highest = x[last]! + Math.min(reach, least(x[last]!, max, !rising));
  if (lowest < x[0]!) {
    outX.unshift(lowest);
    outY.unshift(Math.max(1, y[0]! + endSlope(knots, 0, 1) * (lowest - x[0]!)));
  }
  if (highest > x[last]!) {
    outX.push(highest);
    outY.push(Math.max(1, y[last]! + endSlope(knots, last, -1) * (highest - x[last]!)));
  }
  return { x: outX, y: outY };
}

/** Half-width in O2, 95 %: the readings' spread, the unknown bend between trials, and half a step of the hand. */
function uncertaintyAt(
  to: number,
  expectedO2: number,
  knots: { x: readonly number[]; y: readonly number[] },
  random: number,
  adjuster: Adjuster,
  curve: ReturnType<typeof monotoneCurve>,
  rising: boolean,
): number {
  const above = knots.x.findIndex((knot) => knot >= to);
  const right = above < 0 ? knots.x.length - 1 : Math.max(1, above);
  const [x0, x1] = [knots.x[right - 1]!, knots.x[right]!];
  const gap = Math.abs(o2FromAirRatio(knots.y[right]!) - o2FromAirRatio(knots.y[right - 1]!));
  const share = (to - x0) / (x1 - x0);
  const isClosing = share < 0 === rising;
  const end = share < 0 ? adjuster.min : adjuster.max;
  const beyondShare = isClosing && end === undefined ? BEYOND_SHAPE_SHARE_TO_NO_END : BEYOND_SHAPE_SHARE;
  const bend =
    share >= 0 && share <= 1
      ? SHAPE_SHARE * gap * 4 * share * (1 - share)
      : beyondShare * Math.abs(expectedO2 - o2FromAirRatio(knots.y[share < 0 ? 0 : knots.y.length - 1]!));
  const [low, high] = [curve.x[0]!, curve.x.at(-1)!];
  const at = (place: number): number => o2FromAirRatio(valueAt(curve, Math.min(high, Math.max(low, place)))!);
  const hand = Math.abs(at(to + adjuster.step / 2) - at(to - adjuster.step / 2)) / 2;
  return Math.hypot(2 * random, bend, hand);
}
