import type { Clock } from '../../shared/clock.ts';

export interface FakeClock extends Clock {
  /** Moves time on; timers fire in order, at their own times, and what they set off is let run in between. */
  advance(ms: number): Promise<void>;
  /** The wall clock alone jumps: set by hand, or the machine slept. */
  jumpWall(ms: number): void;
}

/** Lets everything that is already due (promises, file callbacks) run. */
export const settle = async (): Promise<void> => {
  for (let turn = 0; turn < 5; turn++) await new Promise((resolve) => setImmediate(resolve));
};

export function createFakeClock(startWallMs = 1_760_000_000_000): FakeClock {
  let now = 0;
  let wallAhead = 0;
  let nextId = 1;
  const timers = new Map<number, { dueMs: number; everyMs: number | undefined; tick: () => void }>();
  const add = (ms: number, everyMs: number | undefined, tick: () => void): (() => void) => {
    const id = nextId++;
    timers.set(id, { dueMs: now + ms, everyMs, tick });
    return () => timers.delete(id);
  };
  return {
    nowMs: () => now,
    wallMs: () => startWallMs + now + wallAhead,
    zoneMinutes: () => 120,
    sleep: (ms) => new Promise((resolve) => add(ms, undefined, resolve)),
    every: (ms, tick) => add(ms, ms, tick),
    after: (ms, tick) => add(ms, undefined, tick),
    async advance(ms) {
      const end = now + ms;
      for (;;) {
        await settle();
        const due = [...timers.entries()].filter(([, { dueMs }]) => dueMs <= end).sort(([a, x], [b, y]) => x.dueMs - y.dueMs || a - b)[0];
        if (due === undefined) break;
        const [id, timer] = due;
        now = Math.max(now, timer.dueMs);
        if (timer.everyMs === undefined) timers.delete(id);
        else timer.dueMs += timer.everyMs;
        timer.tick();
      }
      now = end;
      await settle();
    },
    jumpWall(ms) {
      wallAhead += ms;
    },
  };
}

/** Waits for something that real files or processes have to do first; no fixed time, and an end to it. */
export async function until(isDone: () => boolean, mostMs = 10_000): Promise<void> {
  const startMs = performance.now();
  while (!isDone()) {
    if (performance.now() - startMs > mostMs) throw new Error(`still not: ${isDone.toString()}`);
    await new Promise((resolve) => setTimeout(resolve, 2));
  }
}
