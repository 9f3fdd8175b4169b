import type { Visit } from '../tuning/visit.ts';
import { formatsFor } from '../words/formats.ts';
import { reportWords } from '../words/report.ts';
import { onsetWords } from '../words/tune.ts';
import type { AirCurvePicture } from './drawings/air-curve.ts';
import type { StageFacts } from './stage-facts.ts';
import { trialNumber } from './written.ts';

/** @returns undefined when no fresh trial of the stage has O2 */
export function curvePicture(visit: Visit, { curve, asLeft }: StageFacts, simulated: string | undefined): AirCurvePicture | undefined {
  if (curve === undefined || curve.points.length === 0) return undefined;
  const { onset, window } = curve;
  return {
    points: curve.points.map((point) => ({
      number: trialNumber(visit, point.trialId),
      o2: point.o2,
      o2Half: point.o2Half,
      smoke: point.smoke,
      smokeHalf: point.smokeHalf,
      coPpm: point.coPpm,
      settled: point.settled,
      asLeft: point.trialId === asLeft?.id,
    })),
    onset: onset.state === 'found' ? { o2: onset.o2, low: onset.low, high: onset.high } : undefined,
    window: window === undefined || window.conflict ? undefined : { fromO2: window.fromO2, toO2: window.toO2 },
    words: { smoke: reportWords.smokeAxis, co: reportWords.coAxis, o2: reportWords.o2Axis, simulated },
    label: `${reportWords.curveTitle}. ${onsetWords(onset, formatsFor(visit.unitPreset))}`,
  };
}
