/** Look and tell: burners with planted errors, and a learner who measures everything and reads the verdicts. */
import { errorKinds, plantErrors, scoreTold, tellByMeasuring } from '../../shared/geometry/look-and-tell.ts';
import { trainingCards } from '../../shared/geometry/training-cards.ts';
import { seededRandom } from '../../shared/tuning/random.ts';

export type GeometryScore = {
  burners: number;
  planted: number;
  found: number;
  missed: number;
  falseAlarms: number;
  perKind: Record<string, number>;
};

export function geometryScore(burners = 500): GeometryScore {
  const score: GeometryScore = { burners, planted: 0, found: 0, missed: 0, falseAlarms: 0, perKind: {} };
  for (let seed = 1; seed <= burners; seed += 1) {
    const card = trainingCards[seed % trainingCards.length];
    if (card === undefined) throw new Error('there are no training cards');
    const burner = plantErrors(card, seededRandom(seed));
    const told = scoreTold(burner, tellByMeasuring(burner));
    score.planted += burner.planted.length;
    score.found += told.found.length;
    score.missed += told.missed.length;
    score.falseAlarms += told.falseAlarms.length;
    for (const kind of burner.planted) score.perKind[kind] = (score.perKind[kind] ?? 0) + 1;
  }
  return score;
}

export function scoreGeometry(say: (text: string) => void): void {
  const { burners, planted, found, missed, falseAlarms, perKind } = geometryScore();
  say(`geometry: ${burners} burners, ${planted} planted errors: ${found} found, ${missed} missed, ${falseAlarms} false alarms`);
  say(errorKinds.map((kind) => `${kind} ${perKind[kind] ?? 0}`).join(', '));
  if (missed > 0 || falseAlarms > 0) process.exitCode = 1;
}
