import type { AirCurve } from '../tuning/curve/air-curve.ts';
import type { Visit } from '../tuning/visit/visit.ts';
import { formatsFor } from '../words/formats.ts';
import { reportWords } from '../words/paper/page-one.ts';
import { onsetWords } from '../words/visit/smoke-and-window.ts';
import type { AirCurvePicture } from './drawings/curve-places.ts';
import type { StageFacts } from './stage-facts.ts';
import { trialNumber } from './written.ts';

type Around = Pick<AirCurvePicture, 'next' | 'label'> & {
  readonly asLeftId: string | undefined;
  readonly numberOf: (trialId: string) => number;
  readonly simulated?: string | undefined;
};

/** What window and paper draw of a curve. */
export function pictureOfCurve(
  { points, onset, window }: AirCurve,
  { asLeftId, numberOf, simulated, next, label }: Around,
): AirCurvePicture {
  return {
    points: points.map((point) => ({
      number: numberOf(point.trialId),
      o2: point.o2,
      o2Half: point.o2Half,
      smoke: point.smoke,
      smokeHalf: point.smokeHalf,
      coPpm: point.coPpm,
      coHalf: point.coHalf,
      settled: point.settled,
      asLeft: point.trialId === asLeftId,
    })),
    onset: onset.state === 'found' ? { o2: onset.o2, low: onset.low, high: onset.high } : undefined,
    window:
      window === undefined || window.conflict
        ? undefined
        : { fromO2: window.fromO2, toO2: window.toO2, reserveO2Points: window.reserveO2Points },
    next,
    words: { smoke: reportWords.smokeAxis, co: reportWords.coAxis, o2: reportWords.o2Axis, simulated },
    label,
  };
}

/** @returns undefined when no fresh trial of the stage has O2 */
export function curvePicture(visit: Visit, { curve, asLeft }: StageFacts, simulated: string | undefined): AirCurvePicture | undefined {
  if (curve === undefined || curve.points.length === 0) return undefined;
  return pictureOfCurve(curve, {
    asLeftId: asLeft?.id,
    numberOf: (id) => trialNumber(visit, id),
    simulated,
    label: `${reportWords.curveTitle}. ${onsetWords(curve.onset, formatsFor(visit.unitPreset))}`,
  });
}
