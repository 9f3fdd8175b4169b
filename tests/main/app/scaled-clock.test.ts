import { expect, it } from 'vitest';
import { scaledClock } from '../../../main/scaled-clock.ts';
import { createFakeClock } from '../../helpers/host/fake-clock.ts';

it('lets a minute pass in 1.2 s, on both clocks and for every timer', async () => {
  const real = createFakeClock();
  await real.advance(5000);
  const fast = scaledClock(real, 50);
  const [startMs, startWallMs] = [fast.nowMs(), fast.wallMs()];
  const fired: number[] = [];
  fast.every(10_000, () => fired.push(fast.nowMs() - startMs));
  fast.after(25_000, () => fired.push(-1));
  void fast.sleep(59_000).then(() => fired.push(-2));
  await real.advance(1200);
  expect(fast.nowMs() - startMs).toBeCloseTo(60_000, 6);
  expect(fast.wallMs() - startWallMs).toBe(60_000);
  expect(fired.map((ms) => Math.round(ms))).toEqual([10_000, 20_000, -1, 30_000, 40_000, 50_000, -2, 60_000]);
});

it('is the very same clock at life speed', () => {
  const real = createFakeClock();
  expect(scaledClock(real, 1)).toBe(real);
});
