/** Looks at the monotonic and the wall clock side by side: tells of a machine that slept and of a clock that was set. */
import type { Clock } from '../../../shared/clock.ts';
import type { ClockEntry } from '../../../shared/measurement/run.ts';

const LOOK_EVERY_MS = 1000;
const TOLERANCE_MS = 2000;
/** No laptop sleeps through a season; a clock that jumps further was wrong before (a flat battery: 1970), and the run's time must not follow it. */
const LONGEST_SLEEP_MS = 92 * 86_400_000;

export type ClockWatchParts = {
  readonly everyMs: number;
  readonly onClock: (entry: ClockEntry) => void;
  /** @param aheadMs by how much the wall clock has run away from the monotonic one since the last look */
  readonly onJump: (reason: 'suspended' | 'clock-set', aheadMs: number) => void;
};

/** @returns a function that stops it */
export function createClockWatch(clock: Clock, { everyMs, onClock, onJump }: ClockWatchParts): () => void {
  const difference = (): number => clock.wallMs() - clock.nowMs();
  let known = difference();
  let lastClockMs = clock.nowMs();
  const write = (): void => {
    lastClockMs = clock.nowMs();
    onClock({ monotonicMs: clock.nowMs(), wallMs: clock.wallMs(), zoneMinutes: clock.zoneMinutes() });
  };
  write();
  return clock.every(LOOK_EVERY_MS, () => {
    const now = difference();
    const aheadMs = now - known;
    if (Math.abs(aheadMs) > TOLERANCE_MS) {
      // A set clock that jumps ahead can't be told from sleep. Backwards is never sleep.
      onJump(aheadMs > 0 && aheadMs < LONGEST_SLEEP_MS ? 'suspended' : 'clock-set', aheadMs);
      known = now;
      write();
    } else {
      // a clock that is slowly corrected is no jump
      known = now;
      if (clock.nowMs() - lastClockMs >= everyMs) write();
    }
  });
}
