import type { AirCurve } from './air-curve.ts';
import { ONSET_SMOKE } from './smoke-onset.ts';
import type { Goal } from './next-setting.ts';

/** Wider than this between the smoky and the clean trial, one more is worth its minutes. Own choice. */
const WIDE_O2 = 1;
/** Steps into the unknown, in O2: longer while there is plenty of air, small where smoke may begin (knees lie at about 2 to 5 %). Own choice. */
const LEAST_STEP_O2 = 0.8;
const STEP_SHARE = 0.45;
const STEP_TOWARDS_O2 = 3;
const towardsSmoke = (o2: number): number => o2 - Math.max(LEAST_STEP_O2, STEP_SHARE * (o2 - STEP_TOWARDS_O2));
const STEP_TO_CLEAN_O2 = 1.2;

export type GoalAnswer = Goal | { kind: 'stop'; reason: 'co-before-smoke' } | { kind: 'none'; reason: 'no-trials' };

/**
 * What the next trial is for: find the smoke, find the clean side, narrow the gap, or set as-left. Smoke is looked for in
 * small steps (the exchanger soots beyond smoke 4 to 5: EPA-600/2-75-069-a, 1975, from memory), and no further where CO reaches the alarm first.
 */
export function curveGoal(curve: AirCurve, coAlarmAirFreePpm: number): GoalAnswer {
  const points = curve.points.filter((point) => point.settled && point.smoke !== undefined);
  const [first] = [...points].sort((a, b) => a.o2 - b.o2);
  const latest = [...points].sort((a, b) => a.order - b.order).at(-1);
  const leanest = [...points].sort((a, b) => b.o2 - a.o2)[0];
  if (!first || !latest || !leanest) return { kind: 'none', reason: 'no-trials' };
  const { onset, window } = curve;
  if (onset.state === 'found') {
    if (onset.cleanSide - onset.smokySide > WIDE_O2) return { kind: 'narrow-onset', targetO2: (onset.cleanSide + onset.smokySide) / 2 };
    return { kind: 'as-left', targetO2: window?.aimO2 ?? onset.o2 };
  }
  if ((first.coAirFreePpm ?? 0) >= coAlarmAirFreePpm && onset.missing === 'smoky-side') {
    // on the lean arm CO falls as the air is closed: going on is right there
    const lowest = curve.valley?.lowestO2 ?? first.o2;
    if (lowest > first.o2 + 0.1) return { kind: 'stop', reason: 'co-before-smoke' };
  }
  const smoky = points.filter((point) => point.smoke! >= ONSET_SMOKE);
  if (onset.missing === 'clean-side') return { kind: 'find-clean', targetO2: leanest.o2 + STEP_TO_CLEAN_O2 };
  if (onset.missing === 'smoky-side') return { kind: 'find-smoke', targetO2: towardsSmoke(first.o2) };
  if (smoky.length > 0) {
    const cleanest = points.filter((point) => point.smoke! < ONSET_SMOKE).sort((a, b) => a.o2 - b.o2)[0];
    return {
      kind: 'narrow-onset',
      targetO2: cleanest ? (cleanest.o2 + smoky.sort((a, b) => b.o2 - a.o2)[0]!.o2) / 2 : first.o2 + STEP_TO_CLEAN_O2,
    };
  }
  return { kind: 'find-smoke', targetO2: towardsSmoke(first.o2) };
}
