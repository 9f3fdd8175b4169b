import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  followingTicks,
  panned,
  spanOf,
  timeTicks,
  towardsMark,
  windowAtRest,
  zoomed,
  type TrendWindow,
} from '../../../renderer/charts/trend-window.ts';

const MINUTE = 60_000;
const now = 30 * MINUTE;

it('rests at 12 min back and a good 4 min ahead', () => {
  expect(spanOf(windowAtRest(now), now)).toEqual({ fromMs: 18 * MINUTE, toMs: now + 4.8 * MINUTE });
});
it('shows a young run closer', () => {
  const { fromMs, toMs } = spanOf(windowAtRest(MINUTE), MINUTE);
  expect(toMs - fromMs).toBeLessThan(6 * MINUTE);
});
it('moves along while following and stands still once panned', () => {
  const following = windowAtRest(now);
  expect(spanOf(following, now + MINUTE).fromMs - spanOf(following, now).fromMs).toBe(MINUTE);
  const fixed = panned(following, now, -0.25);
  expect(spanOf(fixed, now + MINUTE)).toEqual(spanOf(fixed, now));
});
it('keeps following when zoomed by keys, and keeps the point under the pointer when zoomed by wheel', () => {
  expect(zoomed(windowAtRest(now), now, 0.5).kind).toBe('following');
  const start: TrendWindow = { kind: 'fixed', fromMs: 0, toMs: 10 * MINUTE };
  fc.assert(
    fc.property(fc.double({ min: 0, max: 10 * MINUTE, noNaN: true }), fc.double({ min: 0.3, max: 3, noNaN: true }), (around, factor) => {
      const { fromMs, toMs } = spanOf(zoomed(start, now, factor, around), now);
      expect((around - fromMs) / (toMs - fromMs)).toBeCloseTo(around / (10 * MINUTE), 6);
    }),
  );
});
it('never zooms to nothing', () => {
  let window = windowAtRest(now);
  for (let step = 0; step < 60; step++) window = zoomed(window, now, 0.5);
  const { fromMs, toMs } = spanOf(window, now);
  expect(toMs - fromMs).toBeGreaterThanOrEqual(19_999);
});
it('steps from the newest mark to the oldest and round again', () => {
  const marks = [5 * MINUTE, 12 * MINUTE, 20 * MINUTE];
  const centre = (window: TrendWindow): number => {
    const { fromMs, toMs } = spanOf(window, now);
    return (fromMs + toMs) / 2;
  };
  const seen: number[] = [];
  let window = windowAtRest(now);
  for (let step = 0; step < 4; step++) {
    window = towardsMark(window, now, marks);
    seen.push(Math.round(centre(window) / MINUTE));
  }
  expect(seen).toEqual([20, 12, 5, 20]);
});

describe('time ticks', () => {
  it('stand on round distances from now, with one ahead', () => {
    const ticks = followingTicks(spanOf(windowAtRest(now), now), now, 4, (ms) => String(ms / MINUTE));
    expect(ticks.map(({ text }) => text)).toEqual(['-10', '-5', '0', '4']);
  });
  it('are apart by what a clock has: so many go into a day, or it is whole days', () => {
    const day = 86_400_000;
    fc.assert(
      fc.property(fc.integer({ min: 20_000, max: 3 * day }), fc.integer({ min: 1, max: 12 }), (width, most) => {
        const [first, second] = timeTicks({ fromMs: 0, toMs: width }, 0, most, String);
        if (first === undefined || second === undefined) return;
        const apart = second.timeMs - first.timeMs;
        expect([day % apart === 0 || apart % day === 0, apart % 5000]).toEqual([true, 0]);
      }),
    );
    // two days, as wide as the trend goes
    expect(timeTicks({ fromMs: 0, toMs: 2 * day }, 0, 2, (ms) => String(ms / day)).map(({ text }) => text)).toEqual(['0', '1', '2']);
  });
  it('are never more than asked for', () => {
    fc.assert(
      fc.property(fc.integer({ min: 20_000, max: 2 * 86_400_000 }), fc.integer({ min: 3, max: 12 }), (width, most) => {
        expect(timeTicks({ fromMs: 1234, toMs: 1234 + width }, 0, most, String).length).toBeLessThanOrEqual(most + 1);
      }),
    );
  });
});
