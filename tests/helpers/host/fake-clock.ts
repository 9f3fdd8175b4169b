import { createLedTime, letRun } from '../../../main/led-clock.ts';
import type { Clock } from '../../../shared/clock.ts';

export interface FakeClock extends Clock {
  /** Moves time on; timers fire in order, at their own times, and what they set off is let run in between. */
  advance(ms: number): Promise<void>;
  /** The wall clock alone jumps: set by hand, or the machine slept. */
  jumpWall(ms: number): void;
}

/** Lets everything that is already due (promises, file callbacks) run. */
export const settle = (): Promise<void> => letRun(5);

export function createFakeClock(startWallMs = 1_760_000_000_000): FakeClock {
  let wallAhead = 0;
  const time = createLedTime({ nowMs: 0, wallMs: () => startWallMs + wallAhead, zoneMinutes: () => 120, turns: 5 });
  return {
    ...time.clock,
    advance: (ms) => time.forward(ms),
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
