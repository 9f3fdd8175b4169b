import type { Clock } from '../shared/clock.ts';

/** Makes hours pass in minutes (`--speed 60`): the simulated burner, time-outs and timers all live in this time. */
export function scaledClock(clock: Clock, speed: number): Clock {
  if (speed === 1) return clock;
  const startMs = clock.nowMs();
  const startWallMs = clock.wallMs();
  const elapsedMs = () => (clock.nowMs() - startMs) * speed;
  return {
    nowMs: () => startMs + elapsedMs(),
    wallMs: () => Math.round(startWallMs + elapsedMs()),
    zoneMinutes: () => clock.zoneMinutes(),
    sleep: (ms) => clock.sleep(ms / speed),
    every: (ms, tick) => clock.every(ms / speed, tick),
    after: (ms, tick) => clock.after(ms / speed, tick),
  };
}
