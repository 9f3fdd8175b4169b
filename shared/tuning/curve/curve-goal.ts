import type { AirCurve, CurvePoint } from './air-curve.ts';
import type { Goal } from '../advice/next-setting.ts';
import { ONSET_SMOKE } from './smoke-onset.ts';
import { isSmokeOver, type SmokeLimit } from '../trial/smoke.ts';

/** Wider than this between the smoky and the clean trial, one more is worth its minutes. Own choice. */
const WIDE_O2 = 1;
/** Steps into the unknown, in O2: longer while there is plenty of air, small where smoke may begin (knees lie at about 2 to 5 %). Own choice. */
const LEAST_STEP_O2 = 0.8;
const STEP_SHARE = 0.45;
const STEP_TOWARDS_O2 = 3;
export const STEP_TO_CLEAN_O2 = 1.2;
/** Nothing is aimed at closer to the floor than this. Own choice: the last digit of a usual display. */
export const FLOOR_MARGIN_O2 = 0.1;
/** CO above its level by this much O2 is where the flame is left when smoke says nothing. Own choice: about one point of CO2. */
const RESERVE_OVER_CO_O2 = 1.3;

/** The next step down from here: never past the lowest O2 that may be aimed at. */
const stepDown = (o2: number, lowest: number): number =>
  Math.max(lowest, o2 - Math.max(LEAST_STEP_O2, STEP_SHARE * (o2 - STEP_TOWARDS_O2)));

export type GoalLimits = SmokeLimit & {
  coAlarmAirFreePpm: number;
  coNoticeAirFreePpm: number;
  /** O2 below which nothing is aimed at */
  o2FloorPercent: number;
  /** what the card allows, where it says so */
  o2LowPercent?: number | undefined;
  o2HighPercent?: number | undefined;
};

export type GoalAnswer =
  | Goal
  | { kind: 'stop'; reason: 'co-before-smoke' }
  | { kind: 'none'; reason: 'no-trials' }
  /** the floor of O2 was reached and the paper is still clean: what is left is the card's or the maker's figure */
  | { kind: 'floor'; low: number; high: number; targetO2: number };

/**
 * What the next trial of a yellow flame is for: find the smoke, find the clean side, narrow the gap, or set as-left. Smoke is looked for in
 * small steps, never beyond the floor of O2, and no further where CO reaches the alarm first.
 */
export function curveGoal(curve: AirCurve, limits: GoalLimits): GoalAnswer {
  const points = curve.points.filter((point) => point.settled && point.smoke !== undefined && point.againstAir !== true);
  const [first] = [...points].sort((a, b) => a.o2 - b.o2);
  const leanest = [...points].sort((a, b) => b.o2 - a.o2)[0];
  if (!first || !leanest) return { kind: 'none', reason: 'no-trials' };
  const { onset, window } = curve;
  const lowest = limits.o2FloorPercent + FLOOR_MARGIN_O2;
  if (onset.state === 'found') {
    if (onset.cleanSide - onset.smokySide > WIDE_O2)
      return { kind: 'narrow-onset', targetO2: Math.max(lowest, (onset.cleanSide + onset.smokySide) / 2) };
    return { kind: 'as-left', targetO2: Math.max(lowest, window?.aimO2 ?? onset.o2) };
  }
  // a trace that the limits allow is no smoky side yet: one spot reads half a step either way
  const isTraceAtMost = points.every(({ smoke }) => smoke! < ONSET_SMOKE || (smoke === ONSET_SMOKE && !isSmokeOver(smoke, limits)));
  const smokeIsAhead = onset.missing === 'smoky-side' || isTraceAtMost;
  if (smokeIsAhead) {
    // on the lean arm CO falls as the air is closed: going on is right there
    const lowestCo = curve.valley?.lowestO2 ?? first.o2;
    if ((first.coAirFreePpm ?? 0) >= limits.coAlarmAirFreePpm && lowestCo > first.o2 + 0.1)
      return { kind: 'stop', reason: 'co-before-smoke' };
    if (first.o2 - lowest < FLOOR_MARGIN_O2) return floorGoal(limits);
    return { kind: 'find-smoke', targetO2: stepDown(first.o2, lowest) };
  }
  if (onset.missing === 'clean-side') return { kind: 'find-clean', targetO2: Math.max(lowest, leanest.o2 + STEP_TO_CLEAN_O2) };
  const smoky = points.filter((point) => point.smoke! >= ONSET_SMOKE).sort((a, b) => b.o2 - a.o2)[0]!;
  const cleanest = points.filter((point) => point.smoke! < ONSET_SMOKE).sort((a, b) => a.o2 - b.o2)[0];
  return {
    kind: 'narrow-onset',
    targetO2: Math.max(lowest, cleanest ? (cleanest.o2 + smoky.o2) / 2 : first.o2 + STEP_TO_CLEAN_O2),
  };
}

/** Without smoke to go by, the card's range, or a reserve above the floor. */
export function floorGoal({ o2FloorPercent, o2LowPercent, o2HighPercent }: GoalLimits): Extract<GoalAnswer, { kind: 'floor' }> {
  const low = o2FloorPercent + RESERVE_OVER_CO_O2;
  if (o2LowPercent !== undefined && o2HighPercent !== undefined && o2HighPercent > o2FloorPercent + 2 * FLOOR_MARGIN_O2) {
    const from = Math.min(Math.max(o2LowPercent, o2FloorPercent) + FLOOR_MARGIN_O2, o2HighPercent);
    return { kind: 'floor', low: from, high: o2HighPercent, targetO2: from + (o2HighPercent - from) / 3 };
  }
  return { kind: 'floor', low, high: low + 1, targetO2: low + 0.5 };
}

/** Highest O2 at which CO was at or above a level on its rich side: there is a trial with more air and clearly less CO. */
export function richCoO2(points: readonly CurvePoint[], levelPpm: number): number | undefined {
  const known = points.filter((point) => point.settled && point.coAirFreePpm !== undefined).sort((a, b) => b.o2 - a.o2);
  return known.find(
    (point) =>
      point.coAirFreePpm! >= levelPpm &&
      known.some((other) => other.o2 > point.o2 + 0.1 && other.coAirFreePpm! < point.coAirFreePpm! && other.coAirFreePpm! < levelPpm),
  )?.o2;
}

/**
 * A blue flame makes no smoke before CO: it is set by the card's O2 where there is one, or by a reserve over the floor, and always
 * clear of where CO begins. From plenty of air it is gone to in steps.
 */
export function blueGoal(curve: AirCurve, limits: GoalLimits): GoalAnswer {
  const points = curve.points.filter((point) => point.settled);
  const newest = [...points].sort((a, b) => a.order - b.order).at(-1);
  if (!newest) return { kind: 'none', reason: 'no-trials' };
  const aim = floorGoal(limits);
  const co = richCoO2(points, limits.coNoticeAirFreePpm);
  const targetO2 = Math.max(aim.targetO2, (co ?? -Infinity) + RESERVE_OVER_CO_O2);
  const leanestKnown = Math.min(...points.map(({ o2 }) => o2));
  const step = stepDown(newest.o2, targetO2);
  // what was read clean is gone back to in one move; what was not is approached
  return step > targetO2 + 0.1 && leanestKnown > targetO2 + 0.5 ? { kind: 'part-way', targetO2: step } : { kind: 'as-left', targetO2 };
}

/** CO before smoke on a yellow flame: left clear of where CO was at the alarm. */
export const clearOfCo = (curve: AirCurve, limits: GoalLimits): number | undefined => {
  const co = richCoO2(curve.points, limits.coAlarmAirFreePpm);
  return co === undefined ? undefined : Math.max(floorGoal(limits).low, co + RESERVE_OVER_CO_O2);
};
