import { valleyFit } from './isotonic.ts';

export type CoPoint = { o2: number; coAirFreePpm: number };

export type CoValley = {
  /** fitted CO air-free at each O2, in order of O2 */
  curve: { o2: number; coAirFreePpm: number }[];
  lowestPpm: number;
  lowestO2: number;
  /** where CO stays near the lowest: between two trials on a straight line, never beyond the trials */
  fromO2: number;
  toO2: number;
  /** an arm is seen only when CO rises by more than the band on that side */
  richArm: boolean;
  leanArm: boolean;
};

/** Own choice: near the lowest means within the larger of this (air-free) and half the lowest value. */
const BAND_PPM = 30;
const BAND_SHARE = 0.5;
const LEAST_TRIALS = 3;

/** CO over O2 has two arms on oil: steep with smoke on the rich side, shallower without smoke where too much air chills the flame. */
export function coValley(points: readonly CoPoint[]): CoValley | undefined {
  if (points.length < LEAST_TRIALS) return undefined;
  const sorted = [...points].sort((a, b) => a.o2 - b.o2);
  const { fit, lowest } = valleyFit(sorted.map((point) => point.coAirFreePpm));
  const lowestPpm = fit[lowest]!;
  const near = lowestPpm + Math.max(BAND_PPM, BAND_SHARE * Math.abs(lowestPpm));
  const first = fit.findIndex((ppm) => ppm <= near);
  const last = fit.findLastIndex((ppm) => ppm <= near);
  const crossing = (inside: number, outside: number): number => {
    if (fit[outside] === undefined) return sorted[inside]!.o2;
    const share = (near - fit[inside]!) / (fit[outside] - fit[inside]!);
    return sorted[inside]!.o2 + share * (sorted[outside]!.o2 - sorted[inside]!.o2);
  };
  return {
    curve: sorted.map((point, index) => ({ o2: point.o2, coAirFreePpm: fit[index]! })),
    lowestPpm,
    lowestO2: sorted[lowest]!.o2,
    fromO2: crossing(first, first - 1),
    toO2: crossing(last, last + 1),
    richArm: fit[0]! > near,
    leanArm: fit[fit.length - 1]! > near,
  };
}
