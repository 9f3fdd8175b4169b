/** A burner that was left wrong in one thing, fired as it was left: is its pattern among the first two hints? */
import { createBurner } from '../../shared/burner/burner.ts';
import { findScenario } from '../../shared/burner/scenarios/catalogue.ts';
import { asTheCardWants } from '../../shared/geometry/left.ts';
import type { GeometryLeft } from '../../shared/measurement/geometry-left.ts';
import { errorKinds, leftOf, plantErrors, type ErrorKind, type TaughtBurner } from '../../shared/geometry/look-and-tell.ts';
import { trainingCards } from '../../shared/geometry/training-cards.ts';
import type { Hint, PatternKey } from '../../shared/tuning/diagnosis/patterns.ts';
import { seededRandom } from '../../shared/tuning/training/random.ts';
import { hintsNow } from './tuning-hints.ts';
import { takeTrial, wait, type Bench } from './tuning-technician.ts';

/** Which pattern tells which error, and which way it is off. Fixed by MODEL.md. More than one name: either is right. */
export function expectedPatterns(kind: ErrorKind, left: GeometryLeft): readonly PatternKey[] {
  switch (kind) {
    case 'gap':
      return ['late-light'];
    case 'height':
      return left.heightAboveCentreline > 0 ? ['light-off-puff'] : ['late-and-oily'];
    case 'ahead':
      return left.aheadOfNozzle > 0 ? ['later-each-start'] : ['late-when-cold'];
    case 'metal':
      return ['lights-now-and-then'];
    case 'level':
      return ['late-and-smoky'];
    case 'centre':
      return ['one-sided-flame'];
    case 'tube-end':
      return left.headToTubeEnd > 0 ? ['chilled-and-smoky'] : ['co-with-air'];
    case 'zero':
      return left.headSetting > 0 ? ['smoke-with-air'] : ['lifting-flame'];
    case 'porcelain':
      return ['late-when-warm'];
    case 'nozzle':
      return left.nozzleShare > 1 ? ['too-little-air'] : ['plain-excess-air', 'over-aired'];
  }
}

/** A trial when the stack has come to rest, then three more starts from warm. */
export function watchFired(left: GeometryLeft, seed: number): Hint[] {
  const scenario = findScenario('four-starts');
  if (!scenario.ok) throw new Error('there is no scenario four-starts');
  const bench: Bench = {
    burner: createBurner({ scenario: { ...scenario.value, geometry: left }, seed }),
    samples: [],
    nowMs: 0,
    trials: [],
    adjustmentsMs: [],
  };
  takeTrial(bench, { waitS: 500, spots: 3 });
  wait(bench, 1310 - bench.nowMs / 1000);
  return hintsNow(bench);
}

/** Burners with one error of this kind, drawn as Look and tell draws them. */
export function burnersWith(kind: ErrorKind, count: number, firstSeed: number): { burner: TaughtBurner; seed: number }[] {
  const found: { burner: TaughtBurner; seed: number }[] = [];
  for (let seed = firstSeed; found.length < count; seed += 1) {
    const card = trainingCards[seed % trainingCards.length];
    if (card === undefined) throw new Error('there are no training cards');
    const burner = plantErrors(card, seededRandom(seed));
    if (burner.planted.length === 1 && burner.planted[0] === kind) found.push({ burner, seed });
  }
  return found;
}

export type PatternScore = { kind: ErrorKind; ways: string; of: number; firstTwo: number; first: number; wrong: string[] };

export function geometryPatternScore(
  perKind: number,
  firstSeed = 1,
): { kinds: PatternScore[]; healthy: { of: number; withHints: number } } {
  const kinds = errorKinds.map((kind): PatternScore => {
    const score: PatternScore = { kind, ways: '', of: 0, firstTwo: 0, first: 0, wrong: [] };
    const ways = new Set<string>();
    for (const { burner, seed } of burnersWith(kind, perKind, firstSeed)) {
      const left = leftOf(burner);
      const wanted = expectedPatterns(kind, left);
      wanted.forEach((pattern) => ways.add(pattern));
      const hints = watchFired(left, seed);
      score.of += 1;
      if (hints.slice(0, 2).some(({ pattern }) => wanted.includes(pattern))) score.firstTwo += 1;
      else score.wrong.push(`${seed} wanted ${wanted.join('/')}: ${hints.map(({ pattern }) => pattern).join(', ') || 'none'}`);
      if (hints[0] !== undefined && wanted.includes(hints[0].pattern)) score.first += 1;
    }
    return { ...score, ways: [...ways].join(', ') };
  });
  const healthy = Array.from({ length: perKind }, (_, index) => watchFired(asTheCardWants, firstSeed + index));
  return { kinds, healthy: { of: healthy.length, withHints: healthy.filter((hints) => hints.length > 0).length } };
}
