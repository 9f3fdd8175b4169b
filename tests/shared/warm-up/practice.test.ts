import { describe, expect, it } from 'vitest';
import {
  practiceQuestion,
  smokeAnswers,
  timeAnswers,
  type PracticeAnswer,
  type PracticeKind,
  type PracticeQuestion,
} from '../../../shared/tuning/training/practice.ts';
import { PRACTICE_QUESTIONS, answeredWith, beginPractice, isPracticeOver, nextQuestion } from '../../../shared/warm-up/practice.ts';
import { seededRandom } from '../../../shared/tuning/training/random.ts';
import { practiceFacts, practiceWhy } from '../../../shared/words/practice.ts';

const many = (kind: PracticeKind): PracticeQuestion[] =>
  Array.from({ length: 400 }, (_, seed) => practiceQuestion({ kind, seed, at: 1 }, seededRandom));

describe('practice questions', () => {
  it('smoke papers: the answer is that of the trade, worked out here from the spots alone', () => {
    const seen = new Map<string, number>();
    for (const one of many('smoke')) {
      if (one.kind !== 'smoke') throw new Error('another kind');
      const usable = one.spots.filter(({ flaw }) => flaw === undefined).map(({ number }) => number);
      // oil first; wet and uneven spots say nothing; above 2 the probe stays out (common practice)
      const right = one.spots.some(({ oilTrace }) => oilTrace)
        ? 'oil'
        : usable.length === 0
          ? 'another-spot'
          : Math.max(...usable) > 2
            ? 'probe-out'
            : 'probe-in';
      expect(one.right).toBe(right);
      expect(practiceWhy(one)).toMatch(/\.$/);
      seen.set(right, (seen.get(right) ?? 0) + 1);
    }
    for (const answer of smokeAnswers) expect(seen.get(answer)).toBeGreaterThan(60);
  });

  it('times: valve-on delay and recycle wait are taken off, and without them there is no verdict', () => {
    const seen = new Map<string, number>();
    for (const one of many('times')) {
      if (one.kind !== 'times') throw new Error('another kind');
      const { seconds, ratedS, control, startedFrom, restartS } = one.facts;
      const recycles = control?.onFlameLoss === 'recycles';
      const delay = control?.valveOnDelayS;
      const off = recycles ? restartS && delay && restartS + delay : startedFrom === 'burner-starts' ? delay : 0;
      const right = ratedS === undefined || off === undefined ? 'cannot' : seconds - off <= ratedS ? 'pass' : 'fail';
      expect([one.right, practiceFacts(one)]).toEqual([right, expect.any(Array)]);
      expect(practiceWhy(one)).toMatch(/\.$/);
      seen.set(right, (seen.get(right) ?? 0) + 1);
    }
    for (const answer of timeAnswers) expect(seen.get(answer)).toBeGreaterThan(60);
  });

  it('the first answer counts, and the practice ends', () => {
    let practice = beginPractice<PracticeAnswer>(7);
    for (let at = 0; at < PRACTICE_QUESTIONS; at++) {
      const { right } = practiceQuestion({ ...practice, kind: 'smoke' }, seededRandom);
      const wrong = smokeAnswers.find((answer) => answer !== right)!;
      expect(nextQuestion(practice)).toBe(practice);
      practice = answeredWith(practice, right, at === 0 ? wrong : right);
      expect(answeredWith(practice, right, right)).toBe(practice);
      practice = nextQuestion(practice);
    }
    expect([isPracticeOver(practice), practice.right]).toEqual([true, PRACTICE_QUESTIONS - 1]);
  });
});
