import { expect, it } from 'vitest';
import { quickRounds } from './quick-answers.ts';

it('answers quicker than the lines, with stalled lines: nothing refused, nothing lost, every figure a number', async () => {
  // `npm run soak -- quick` tries 500; with the former numerics round 45 lost its last step and its signature
  const figures = await quickRounds(8, 40);
  expect(figures).toMatchObject({ refused: 0, lost: 0, notFinite: 0 });
  expect(figures.stalls).toBeGreaterThan(0);
  expect(figures.responses).toBeGreaterThan(0);
});
