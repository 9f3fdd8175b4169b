import fc from 'fast-check';
import { expect, it } from 'vitest';
import { createRateLimit } from '../../../main/transport/rate-limit.ts';

it('lets a burst through, then the rate', () => {
  const limit = createRateLimit({ perSecond: 10, burst: 5 });
  const taken = Array.from({ length: 8 }, () => limit.take(0));
  expect(taken).toEqual([true, true, true, true, true, false, false, false]);
  expect(limit.take(99)).toBe(false);
  expect(limit.take(100)).toBe(true);
  expect(limit.take(100)).toBe(false);
});

it('never lets more through than burst plus rate times time, whatever the pattern', () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: 0, max: 500 }), { minLength: 1, maxLength: 300 }), (steps) => {
      const limit = createRateLimit({ perSecond: 20, burst: 7 });
      let nowMs = 0;
      let passed = 0;
      for (const step of steps) {
        nowMs += step;
        if (limit.take(nowMs)) passed += 1;
        expect(passed).toBeLessThanOrEqual(7 + (nowMs / 1000) * 20 + 1e-9);
      }
    }),
  );
});
