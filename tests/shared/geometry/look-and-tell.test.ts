/** Planted errors: each kind occurs, none is planted that a rule cannot show, and the score counts misses and false alarms alike. */
import { describe, expect, it } from 'vitest';
import { drawnMm, sideView } from '../../../shared/geometry/drawing/drawing.ts';
import { asTheCardWants } from '../../../shared/geometry/left.ts';
import { beginLesson, burnerOf, checkTold, isOver, nextBurner, turnTold } from '../../../shared/geometry/lesson.ts';
import { errorKinds, hasRule, leftOf, plantErrors, scoreTold, tellByMeasuring } from '../../../shared/geometry/look-and-tell.ts';
import { trainingCards } from '../../../shared/geometry/training-cards.ts';
import { seededRandom } from '../../../shared/tuning/training/random.ts';
import { answerLine } from '../../../shared/words/geometry/look-and-tell.ts';
import { burnersWith, expectedPatterns, watchFired } from '../../score/geometry-hints.ts';
import { geometryScore } from '../../score/geometry-score.ts';

describe('look and tell', () => {
  it('plants none to three errors, and every kind of them', () => {
    const burners = Array.from({ length: 300 }, (_, seed) => plantErrors(trainingCards[seed % 2]!, seededRandom(seed + 1)));
    expect(new Set(burners.map(({ planted }) => planted.length))).toEqual(new Set([0, 1, 2, 3]));
    expect(new Set(burners.flatMap(({ planted }) => planted))).toEqual(new Set(errorKinds));
  });
  it('hides nothing from a learner who measures everything and reads the verdicts: 500 burners', () => {
    const { planted, missed, falseAlarms } = geometryScore(500);
    expect(planted).toBeGreaterThan(500);
    expect([missed, falseAlarms]).toEqual([0, 0]);
  });
  it('counts what was missed and what was not there', () => {
    expect(scoreTold({ planted: ['height', 'tube-end'] }, ['height', 'level'])).toEqual({
      found: ['height'],
      missed: ['tube-end'],
      falseAlarms: ['level'],
    });
    const clean = { ...plantErrors(trainingCards[0]!, seededRandom(1)), planted: [] };
    expect(scoreTold(clean, errorKinds).falseAlarms).toHaveLength(10);
  });
  it('finds nothing on a burner that is as the card wants it', () => {
    const clean = Array.from({ length: 80 }, (_, seed) => plantErrors(trainingCards[seed % 2]!, seededRandom(seed + 500))).filter(
      ({ planted }) => planted.length === 0,
    );
    expect(clean.length).toBeGreaterThan(5);
    for (const burner of clean) expect(tellByMeasuring(burner)).toEqual([]);
  });
  it('takes the rule away in the second half', () => {
    expect([1, 6, 7, 12].map((burner) => hasRule(burner, 12))).toEqual([true, true, false, false]);
  });
});

describe('a lesson', () => {
  const begin = beginLesson(7, 4);
  it('counts what is told, burner by burner, and goes on only by itself', () => {
    let lesson = begin;
    for (let at = 1; at <= 4; at += 1) {
      const burner = burnerOf(lesson, trainingCards, seededRandom);
      expect(burnerOf(lesson, trainingCards, seededRandom)).toEqual(burner);
      for (const kind of tellByMeasuring(burner)) lesson = turnTold(lesson, kind);
      lesson = checkTold(lesson, burner);
      // told twice, or after the answer, changes nothing
      expect(checkTold(lesson, burner)).toBe(lesson);
      expect(turnTold(lesson, 'gap')).toBe(lesson);
      expect(lesson.answer).toEqual({ found: burner.planted, missed: [], falseAlarms: [] });
      lesson = nextBurner(lesson);
    }
    expect(isOver(lesson)).toBe(true);
    expect(lesson).toMatchObject({ missed: 0, falseAlarms: 0, skipped: 0 });
    expect(lesson.found).toBeGreaterThan(0);
  });
  it('takes a told error back by the same key, and counts a skipped burner as neither found nor missed', () => {
    expect(turnTold(turnTold(begin, 'gap'), 'gap').told).toEqual([]);
    expect(nextBurner(begin)).toMatchObject({ at: 2, skipped: 1, found: 0, missed: 0 });
  });
  it('explains every error that can be planted, and every false alarm, in whole sentences', () => {
    const burners = Array.from({ length: 200 }, (_, seed) => plantErrors(trainingCards[seed % 2]!, seededRandom(seed + 1)));
    for (const burner of burners)
      for (const kind of errorKinds) {
        const { figure, flame } = answerLine(burner, kind);
        expect(figure, `${kind} of ${burner.planted.join()}`).toMatch(/^\S.*\.$/);
        expect(flame).toMatch(/^\S.*\.$/);
      }
  });
  it('draws the metal as far from the tip as its figure, and the crack only where the porcelain has one', () => {
    const view = sideView({ tipToMetal: { mm: 6.4, source: 'measured' }, porcelainCracked: true }, { metal: true });
    const metal = view.dimensions.find(({ item }) => item === 'tipToMetal');
    expect(metal && drawnMm(metal)).toBeCloseTo(6.4, 9);
    expect(view.shapes.filter(({ part }) => part === 'crack')).toHaveLength(1);
    expect(sideView({ tipToMetal: { mm: 6.4, source: 'measured' } }).shapes.some(({ part }) => part === 'metal' || part === 'crack')).toBe(
      false,
    );
  });
});

describe('fired as it was left', () => {
  it('is as the card wants it where nothing was planted', () => {
    const clean = Array.from({ length: 60 }, (_, seed) => plantErrors(trainingCards[seed % 2]!, seededRandom(seed + 500))).find(
      ({ planted }) => planted.length === 0,
    )!;
    expect(leftOf(clean)).toEqual(asTheCardWants);
    expect(watchFired(leftOf(clean), 3)).toEqual([]);
  });
  // one burner of each error; 30 of each are in `npm run score -- geometry`
  it.each(errorKinds)('%s shows its own pattern among the first two hints', (kind) => {
    const [one] = burnersWith(kind, 1, 40);
    const left = leftOf(one!.burner);
    const hints = watchFired(left, one!.seed)
      .slice(0, 2)
      .map(({ pattern }) => pattern);
    expect(
      expectedPatterns(kind, left).some((pattern) => hints.includes(pattern)),
      hints.join(),
    ).toBe(true);
  });
});
