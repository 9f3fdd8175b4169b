import { expect, it } from 'vitest';
import { adviseLine } from '../../../main/commands/advise.ts';

const visit = {
  id: 'a',
  fuel: 'no2',
  adjusters: [{ name: 'shutter', kind: 'air', min: 0, max: 10, step: 0.5 }],
  trials: [{ setting: { shutter: 5 }, o2_pct: 5, co_ppm: 12, smoke: 0, settled: true }],
};

it.each([
  ['no JSON', '{"id": ', 'This visit is not written as it has to be. This line is not JSON.'],
  ['a fuel that is not in the list', JSON.stringify({ ...visit, fuel: 'peat' }), 'There is no such fuel. fuel: peat'],
  ['a trial that is not there', JSON.stringify({ ...visit, as_left: 3 }), 'This visit is not written as it has to be. as_left'],
  [
    'a scale that ends below where it begins',
    JSON.stringify({ ...visit, adjusters: [{ ...visit.adjusters[0], min: 9, max: 1 }] }),
    'adjusters: the scale of',
  ],
])('what cannot be judged is refused for what it is: %s', (_, line, says) => {
  const { problem } = adviseLine(line);
  expect(problem).toContain(says);
  expect(problem).not.toContain('physically');
});
it('and the visit itself is judged', () => {
  expect(adviseLine(JSON.stringify(visit))).toMatchObject({ id: 'a', advice: expect.any(String) as unknown });
});
