import { expect, it } from 'vitest';
import { stripScale } from '../../../renderer/charts/strip-scale.ts';

it('shows what is there with room above and below', () => {
  const scale = stripScale({ low: 2.7, high: 5.2 }, 2);
  expect(scale.low).toBeLessThan(2.7);
  expect(scale.high).toBeGreaterThan(5.2);
  expect(scale.ticks.length).toBeGreaterThanOrEqual(2);
  for (const tick of scale.ticks) expect(tick > scale.low && tick < scale.high).toBe(true);
});
it('keeps noise looking like noise', () => {
  const scale = stripScale({ low: 5.0, high: 5.1 }, 2);
  expect(scale.high - scale.low).toBeGreaterThanOrEqual(2);
});
it('stands still while what is seen fits, and moves when it does not', () => {
  const before = stripScale({ low: 2, high: 6 }, 2);
  expect(stripScale({ low: 2.1, high: 5.9 }, 2, before)).toBe(before);
  expect(stripScale({ low: 2, high: 9 }, 2, before)).not.toBe(before);
  expect(stripScale({ low: 3.9, high: 4.1 }, 2, stripScale({ low: 0, high: 21 }, 2)).high).toBeLessThan(10);
});
