import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { roomCoLevel } from '../../shared/tuning/advice/cautions.ts';
import { exampleCards } from '../../shared/tuning/card/example-cards.ts';
import { CardLine, judge } from '../../shared/tuning/card/target-card.ts';

/** @source 1. BImSchV 2010, section 10 and Annex 2 no. 3.4: the loss is a whole per cent, rounded by DIN 1333 (halves up), before it is compared */
describe('law 11: a verdict rounds as its rule says before it judges', () => {
  const card = exampleCards.find(({ id }) => id === 'example-germany-25')!;
  const loss = card.lines.find(({ quantity }) => quantity === 'siegertLossPercent')!;
  it.each([
    [11.4, 'pass'],
    [11.49, 'pass'],
    [11.5, 'fail'],
    [11.6, 'fail'],
    [10.6, 'pass'],
  ])('a loss of %s %% against 11: %s', (value, verdict) => {
    expect(judge(loss, { value, expanded: 0 }, card.decisionRule).verdict).toBe(verdict);
  });
  it('for every value and limit: the rounded value alone decides by the simple rule', () => {
    let tried = 0;
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 3000 }), fc.integer({ min: 1, max: 25 }), (hundredths, high) => {
        tried++;
        const rounded = Math.floor((hundredths + 50) / 100);
        const line = CardLine.parse({ quantity: 'siegertLossPercent', high, roundTo: 1, source: 'typed' });
        expect(judge(line, { value: hundredths / 100, expanded: 0.3 }, 'simple').verdict).toBe(rounded <= high ? 'pass' : 'fail');
      }),
      { numRuns: 2000, seed: 11 },
    );
    expect(tried).toBeGreaterThanOrEqual(2000);
  });
  it('a line of an earlier version has no rounding and is judged as it was', () => {
    const line = CardLine.parse({ quantity: 'siegertLossPercent', high: 11, source: 'typed' });
    expect(judge(line, { value: 11.4 }, 'simple').verdict).toBe('fail');
  });
  it('"from 9 ppm" begins at 9, "35" at 35', () => {
    expect([8.99, 9, 34.99, 35, 99.99, 100].map(roomCoLevel)).toEqual(['clear', 'notice', 'notice', 'stop', 'stop', 'out']);
  });
});
