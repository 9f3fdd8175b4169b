/** Look and tell: burners with planted errors, and a learner who measures everything and reads the verdicts. */
import { errorKinds, plantErrors, scoreTold, tellByMeasuring } from '../../shared/geometry/look-and-tell.ts';
import { trainingCards } from '../../shared/geometry/training-cards.ts';
import { seededRandom } from '../../shared/tuning/training/random.ts';
import { geometryPatternScore } from './geometry-hints.ts';

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

const PER_KIND = 30;

export function scoreGeometry(say: (text: string) => void): void {
  const { burners, planted, found, missed, falseAlarms, perKind } = geometryScore();
  say(`geometry: ${burners} burners, ${planted} planted errors: ${found} found, ${missed} missed, ${falseAlarms} false alarms`);
  say(errorKinds.map((kind) => `${kind} ${perKind[kind] ?? 0}`).join(', '));
  if (missed > 0 || falseAlarms > 0) process.exitCode = 1;
  const { kinds, healthy } = geometryPatternScore(PER_KIND);
  say(`fired as they were left, ${PER_KIND} burners of each error: the pattern among the first two hints (goal 9 of 10 each)`);
  for (const { kind, of, firstTwo, first, ways, wrong } of kinds) {
    say(`  ${kind.padEnd(10)} ${firstTwo} of ${of}   first ${first}   ${ways}`);
    wrong.forEach((line) => say(`      ${line}`));
    if (firstTwo < 0.9 * of) process.exitCode = 1;
  }
  say(`  set right  ${healthy.withHints} of ${healthy.of} with a hint   (goal at most 1 of 20)`);
  if (healthy.withHints > healthy.of / 20) process.exitCode = 1;
}
