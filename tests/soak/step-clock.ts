import type { Clock } from '../../shared/clock.ts';

/** A clock that runs as fast as the work in it gets done: timers fire in order, and files get their turn once per simulated second. */
export function createStepClock(startWallMs = 1_760_000_000_000): Clock & { run(ms: number): Promise<void> } {
  let now = 0;
  let nextId = 1;
  const timers = new Map<number, { dueMs: number; everyMs: number | undefined; tick: () => void }>();
  const add = (ms: number, everyMs: number | undefined, tick: () => void): (() => void) => {
    const id = nextId++;
    timers.set(id, { dueMs: now + ms, everyMs, tick });
    return () => timers.delete(id);
  };
  return {
    nowMs: () => now,
    wallMs: () => startWallMs + now,
    zoneMinutes: () => 0,
    sleep: (ms) => new Promise((resolve) => add(ms, undefined, resolve)),
    every: (ms, tick) => add(ms, ms, tick),
    after: (ms, tick) => add(ms, undefined, tick),
    async run(ms) {
      const end = now + ms;
      let breath = now + 1000;
      while (now < end) {
        let nextMs = end;
        for (const { dueMs } of timers.values()) if (dueMs < nextMs) nextMs = dueMs;
        now = Math.max(now, nextMs);
        for (const [id, timer] of timers) {
          if (timer.dueMs > now) continue;
          if (timer.everyMs === undefined) timers.delete(id);
          else timer.dueMs += timer.everyMs;
          timer.tick();
        }
        if (now >= breath) {
          breath = now + 1000;
          await new Promise((resolve) => setImmediate(resolve));
        }
      }
    },
  };
}
