/** Planted errors: each kind occurs, none is planted that a rule cannot show, and the score counts misses and false alarms alike. */
import { describe, expect, it } from 'vitest';
import { errorKinds, hasRule, plantErrors, scoreTold, tellByMeasuring } from '../../../shared/geometry/look-and-tell.ts';
import { trainingCards } from '../../../shared/geometry/training-cards.ts';
import { seededRandom } from '../../../shared/tuning/random.ts';
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
