/** What the patterns are looked for in: the last half hour, at most two a second, in order. */
import { expect, it } from 'vitest';
import { createRecentSamples } from '../../../main/visits/recent-samples.ts';

const MINUTE = 60_000;
function fed(apartMs: number, lastMs: number) {
  const recent = createRecentSamples();
  for (let timeMs = 0; timeMs <= lastMs; timeMs += apartMs) recent.add({ timeMs, values: { o2: timeMs } });
  return { recent, times: recent.all().map(({ timeMs }) => timeMs) };
}

it.each([100, 1000, 4000])('at one sample each %i ms: the whole last half hour is there, little more, at most two a second', (apartMs) => {
  const lastMs = 100 * MINUTE;
  const { times } = fed(apartMs, lastMs);
  const steps = times.slice(1).map((at, index) => at - (times[index] as number));
  expect(times.at(-1)).toBeGreaterThan(lastMs - 500);
  expect(times[0]).toBeLessThanOrEqual(lastMs - 30 * MINUTE);
  // cut in one go: at most two hundred samples too many
  expect(times[0]).toBeGreaterThanOrEqual(lastMs - 30 * MINUTE - 201 * Math.max(apartMs, 500));
  expect(Math.min(...steps)).toBeGreaterThanOrEqual(450);
  expect(Math.max(...steps)).toBe(Math.max(apartMs, 500));
});

it('of a short run all of it is there; nothing after a new start', () => {
  const { recent, times } = fed(500, 5 * MINUTE);
  expect(times).toHaveLength(601);
  recent.clear();
  expect(recent.all()).toEqual([]);
  recent.add({ timeMs: 0, values: {} });
  expect(recent.all()).toHaveLength(1);
});
