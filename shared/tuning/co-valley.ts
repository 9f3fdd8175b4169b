import { valleyFit } from './isotonic.ts';

export type CoPoint = { o2: number; coAirFreePpm: number };

export type CoValley = {
  /** fitted CO air-free at each O2, in order of O2 */
  curve: { o2: number; coAirFreePpm: number }[];
  lowestPpm: number;
  lowestO2: number;
  /** where CO stays near the lowest; the ends are trials, never beyond them */
  fromO2: number;
  toO2: number;
  /** an arm is seen only when CO rises by more than the band on that side */
  richArm: boolean;
  leanArm: boolean;
};

/** Own choice: near the lowest means within the larger of this and half the lowest value. */
const BAND_PPM = 15;
const BAND_SHARE = 0.5;
const LEAST_TRIALS = 3;

/** CO over O2 has two arms on oil: steep with smoke on the rich side, shallower without smoke where too much air chills the flame. */
export function coValley(points: readonly CoPoint[]): CoValley | undefined {
  if (points.length < LEAST_TRIALS) return undefined;
  const sorted = [...points].sort((a, b) => a.o2 - b.o2);
  const { fit, lowest } = valleyFit(sorted.map((point) => point.coAirFreePpm));
  const lowestPpm = fit[lowest]!;
  const near = lowestPpm + Math.max(BAND_PPM, BAND_SHARE * Math.abs(lowestPpm));
  const inValley = sorted.filter((_, index) => fit[index]! <= near);
  return {
    curve: sorted.map((point, index) => ({ o2: point.o2, coAirFreePpm: fit[index]! })),
    lowestPpm,
    lowestO2: sorted[lowest]!.o2,
    fromO2: inValley[0]!.o2,
    toO2: inValley[inValley.length - 1]!.o2,
    richArm: fit[0]! > near,
    leanArm: fit[fit.length - 1]! > near,
  };
}
