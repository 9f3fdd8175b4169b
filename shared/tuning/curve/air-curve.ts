import { coValley, type CoPoint, type CoValley } from './co-valley.ts';
import { coAirFreePpm } from '../trial/gas-basis.ts';
import { LEAST_RESERVE_CO2_POINTS, MOST_RESERVE_CO2_POINTS, o2PointsFromCo2Points } from './reserve.ts';
import { ONSET_SMOKE, smokeOnset, type SmokeOnset, type SmokePoint } from './smoke-onset.ts';
import { SMOKE_HALF_WIDTH } from '../trial/smoke.ts';
import type { Trial } from '../trial/trial.ts';
import { figureOf, isFittable, smokeOf } from '../trial/trial-figures.ts';

/** One trial on the curve, with half-widths of its error bars (95 % for the gases, half a step for smoke). */
export type CurvePoint = {
  trialId: string;
  o2: number;
  o2Half: number;
  smoke: number | undefined;
  smokeHalf: number | undefined;
  coPpm: number | undefined;
  coHalf: number | undefined;
  coAirFreePpm: number | undefined;
  settled: boolean;
  order: number;
  /** smoke with much air, though with less air the paper was clean: that is not the air's doing, and says nothing of the onset */
  againstAir?: boolean | undefined;
};

/** Smoke with this much air is not cured by more of it. Own choice. */
export const MUCH_AIR_O2 = 10;

export type AirCurve = {
  stage: string;
  points: CurvePoint[];
  onset: SmokeOnset;
  valley: CoValley | undefined;
  window: TargetWindow | undefined;
};

/** Where O2 should come to rest: from onset plus reserve to too much air, and why the upper end is where it is. */
export type TargetWindow = {
  reserveCo2Points: number;
  reserveO2Points: number;
  aimO2: number;
  aimLow: number;
  aimHigh: number;
  fromO2: number;
  toO2: number;
  upperEnd: 'reserve-limit' | 'co-rises' | 'target-card';
  /** the card or the valley ends before the reserve is reached: both can't be had */
  conflict: boolean;
};

export type CurveOptions = { stage: string; co2MaxPercent: number; reserveCo2Points: number; cardO2High?: number | undefined };

/** Fresh trials of one stage (see staleness.ts) -> the air curve. Unsettled readings, and O2 no flue has, are drawn but not fitted. */
export function airCurve(trials: readonly Trial[], options: CurveOptions): AirCurve {
  const ordered = [...trials].sort((a, b) => a.takenWallMs - b.takenWallMs);
  const points = markAgainstAir(ordered.flatMap((trial, order) => curvePoint(trial, order) ?? []));
  const against = new Set(points.flatMap(({ againstAir, trialId }) => (againstAir === true ? trialId : [])));
  const onset = smokeOnset(ordered.flatMap((trial) => (against.has(trial.id) ? [] : (smokePoint(trial) ?? []))));
  const settled = points.filter((point) => point.settled);
  const valley = coValley(
    settled.flatMap((point): CoPoint[] => (point.coAirFreePpm === undefined ? [] : [{ o2: point.o2, coAirFreePpm: point.coAirFreePpm }])),
  );
  return { stage: options.stage, points, onset, valley, window: targetWindow(onset, valley, options) };
}

function markAgainstAir(points: CurvePoint[]): CurvePoint[] {
  const clean = points.filter(({ settled, smoke }) => settled && smoke !== undefined && smoke < ONSET_SMOKE);
  return points.map((point) => {
    const isSmoky = point.settled && point.smoke !== undefined && point.smoke >= ONSET_SMOKE && point.o2 >= MUCH_AIR_O2;
    return isSmoky && clean.some(({ o2 }) => o2 < point.o2) ? { ...point, againstAir: true } : point;
  });
}

function curvePoint(trial: Trial, order: number): CurvePoint | undefined {
  const o2 = figureOf(trial, 'o2');
  if (!o2) return undefined;
  const co = figureOf(trial, 'co');
  const smoke = smokeOf(trial);
  return {
    trialId: trial.id,
    o2: o2.mean,
    o2Half: 2 * Math.hypot(o2.random, o2.common),
    smoke,
    smokeHalf: smoke === undefined ? undefined : SMOKE_HALF_WIDTH,
    coPpm: co?.mean,
    coHalf: co && 2 * Math.hypot(co.random, co.common),
    coAirFreePpm: co && coAirFreePpm(co.mean, o2.mean),
    settled: isFittable(trial),
    order,
  };
}

export function smokePoint(trial: Trial): SmokePoint | undefined {
  const o2 = figureOf(trial, 'o2');
  const smoke = smokeOf(trial);
  if (!o2 || smoke === undefined || !isFittable(trial)) return undefined;
  const spots = trial.smoke!.spots.filter((spot) => spot.flaw === undefined).length;
  return { o2: o2.mean, random: o2.random, common: o2.common, smoke, spots };
}

function targetWindow(
  onset: SmokeOnset,
  valley: CoValley | undefined,
  { co2MaxPercent, reserveCo2Points, cardO2High }: CurveOptions,
): TargetWindow | undefined {
  if (onset.state !== 'found') return undefined;
  const chosen = Math.min(MOST_RESERVE_CO2_POINTS, Math.max(LEAST_RESERVE_CO2_POINTS, reserveCo2Points));
  const reserveO2Points = o2PointsFromCo2Points(chosen, co2MaxPercent);
  const fromO2 = onset.o2 + reserveO2Points;
  // half a point above the choice is room to hit, and no more than the widest reserve that a source gives plus that room
  const ends: { o2: number; why: TargetWindow['upperEnd'] }[] = [
    { o2: onset.o2 + o2PointsFromCo2Points(Math.max(MOST_RESERVE_CO2_POINTS, chosen + 0.5), co2MaxPercent), why: 'reserve-limit' },
  ];
  if (valley?.leanArm) ends.push({ o2: valley.toO2, why: 'co-rises' });
  if (cardO2High !== undefined) ends.push({ o2: cardO2High, why: 'target-card' });
  const upper = ends.reduce((least, end) => (end.o2 < least.o2 ? end : least));
  return {
    reserveCo2Points: chosen,
    reserveO2Points,
    aimO2: fromO2,
    aimLow: onset.low + reserveO2Points,
    aimHigh: onset.high + reserveO2Points,
    fromO2,
    toO2: upper.o2,
    upperEnd: upper.why,
    conflict: upper.o2 < fromO2,
  };
}

/** Reserve air of one point: its O2 minus the onset's, with the 95 % interval. What the sensor has wrong in both cancels. */
export function reserveOf(trial: Trial, onset: SmokeOnset): { o2Points: number; low: number; high: number } | undefined {
  const o2 = figureOf(trial, 'o2');
  if (!o2 || onset.state !== 'found') return undefined;
  const below = Math.hypot(onset.o2 - onset.relativeLow, 2 * o2.random);
  const above = Math.hypot(onset.relativeHigh - onset.o2, 2 * o2.random);
  return { o2Points: o2.mean - onset.o2, low: o2.mean - onset.o2 - above, high: o2.mean - onset.o2 + below };
}

export type SmokeApproach = 'from-smoke' | 'closed-from-lean' | 'no-smoky-trial' | 'not-known';

/**
 * Was smoke seen, at less air, before this setting was made? Only then is the reserve known; coming from zero smoke hides an unknown excess of air.
 *
 * @source NORA, Oilheat Technicians Manual, p 144
 */
export function smokeApproach(curve: AirCurve, trialId: string): SmokeApproach {
  const chosen = curve.points.find((point) => point.trialId === trialId);
  if (!chosen) return 'not-known';
  const smoky = curve.points.filter((point) => point.smoke !== undefined && point.smoke >= ONSET_SMOKE && point.o2 < chosen.o2);
  if (smoky.length === 0) return 'no-smoky-trial';
  return smoky.some((point) => point.order < chosen.order) ? 'from-smoke' : 'closed-from-lean';
}
