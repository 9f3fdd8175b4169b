/** The real clock. The only place, with the source that stamps the bytes, where time is read. */
import { performance } from 'node:perf_hooks';
import type { Clock } from '../shared/clock.ts';

export const systemClock: Clock = {
  nowMs: () => performance.now(),
  wallMs: () => Date.now(),
  zoneMinutes: () => -new Date().getTimezoneOffset(),
  sleep: (ms) => new Promise((resolve) => setTimeout(resolve, ms)),
  every: (ms, tick) => {
    const timer = setInterval(tick, ms);
    return () => clearInterval(timer);
  },
  after: (ms, tick) => {
    const timer = setTimeout(tick, ms);
    return () => clearTimeout(timer);
  },
};
