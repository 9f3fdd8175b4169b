/**
 * Line shapes as loggers, boards, rigs and plants send them: thirty that were handed to us with their truth (values are invented),
 * and our own, written before the learner was tried on them. A channel that is filled and wrong is the worst there is.
 */
import { describe, expect, it } from 'vitest';
import { columnReasons, questionText, troubleText } from '../../../shared/words/lines/learning.ts';
import { whyOpen } from '../../../shared/words/lines/column-reasons.ts';
import { withAnswers } from '../../../shared/pipeline/propose.ts';
import { boardShapes } from './shapes/board-shapes.ts';
import { boilerShapes } from './shapes/boiler-shapes.ts';
import { ownShapes } from './shapes/own-field-shapes.ts';
import { fieldShapes, scoreField, scoreLive } from './score-field.ts';
import { strangerShapes } from './shapes/stranger-shapes.ts';
import { wireShapes } from './shapes/wire/shapes.ts';

const all = [
  ...fieldShapes().map((shape) => ['field', shape] as const),
  ...ownShapes.map((shape) => ['own', shape] as const),
  ...strangerShapes.map((shape) => ['stranger', shape] as const),
  ...wireShapes.map((shape) => ['wire', shape] as const),
  ...boardShapes.map((shape) => ['board', shape] as const),
  ...boilerShapes.map((shape) => ['boiler', shape] as const),
];

describe('field shapes', () => {
  it('has thirty of them, and at least forty of our own', () => {
    expect(all.filter(([kind]) => kind === 'field')).toHaveLength(30);
    expect(all.filter(([kind]) => kind === 'own').length).toBeGreaterThanOrEqual(40);
  });

  it.each(all.map(([, shape]) => [shape.name, shape] as const))(
    '%s',
    (_, shape) => {
      const { verdict, wrong, isAsExpected, judged } = scoreField(shape);
      expect(wrong).toEqual([]);
      expect(verdict).not.toBe('misread');
      // an open shape that is read fully right is good too
      expect(isAsExpected || (shape.expect === 'ask' && verdict === 'right'), `${shape.expect}: ${verdict}`).toBe(true);
      if (judged.kind === 'ask') {
        const text = questionText(judged.proposal.columns);
        expect(text).toContain('?');
        const looks = judged.proposal.columns.filter(({ sureness }) => sureness === 'look');
        expect(looks.length).toBeGreaterThan(0);
        for (const one of looks) expect(whyOpen(one), one.name).not.toBe('');
        expect(columnReasons(judged.proposal.columns).length).toBeGreaterThan(0);
      }
      if (judged.kind === 'refuse') {
        const cause = troubleText(judged.trouble, judged.ruledOut, judged.lineCount);
        expect(judged.trouble).not.toBe('too-few-lines');
        expect(cause.length).toBeGreaterThan(30);
      }
    },
    30_000,
  );
});

describe('the same lines live, where what is adopted early reads all that follows', () => {
  it.each(all.map(([, shape]) => [shape.name, shape] as const))('%s', (_, shape) => expect(scoreLive(shape).wrong).toEqual([]), 30_000);
});

describe('an answer about one column', () => {
  const shape = ownShapes.find(({ name }) => name === 'one gas and a temperature');
  const judged = shape === undefined ? undefined : scoreField(shape).judged;

  it('changes that column only', () => {
    if (judged?.kind !== 'ask') throw new Error('not asked');
    const { recipe } = judged.proposal;
    const oxygen = recipe.fields.find(({ channel }) => channel === 'o2');
    expect(withAnswers(recipe, [{ at: 2, channel: 'none' }])?.fields).toEqual([oxygen]);
    expect(withAnswers(recipe, [{ at: 2, channel: 'airTemperature' }])?.fields).toEqual([
      oxygen,
      expect.objectContaining({ channel: 'airTemperature', at: 2, unit: 'C' }),
    ]);
  });

  it('gives no recipe where no channel is left', () => {
    if (judged?.kind !== 'ask') throw new Error('not asked');
    const answers = judged.proposal.recipe.fields.map(({ at }) => ({ at, channel: 'none' as const }));
    expect(withAnswers(judged.proposal.recipe, answers)).toBeUndefined();
  });
});
