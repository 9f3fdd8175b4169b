/**
 * A channel whose noise used to change it with every few lines and that now stands on exactly one value: a frozen cell or a frozen
 * line. A coarse printout stands still for minutes quite properly, and CO can be nothing at all, so the usual share of
 * reversals (up after down, down after up; a trend has none) decides: an unbroken row that had a chance below 1e-12.
 */
const LEAST_MS = 60_000;
const LOG_CHANCE = Math.log(1e-12);
const MEMORY = 200;
const LEAST_COUNT = 100;
const LEAST_REVERSING = 0.25;
/**
 * Share of the steps that must have been wider than one step of the printout. Noise narrower than a step shows only while the value
 * lies near an edge between two; as soon as it drifts off the edge it stands still, and nothing is wrong.
 */
const LEAST_WIDE = 0.1;
/** A row this long is not taken into the usual share: it must not teach that standing still is usual. */
const LONG_ROW = 20;

export function createStuck() {
  // fields of one object are written in place, without a new number on the heap
  const seen = { reversing: 0.5, wide: 0.5, steps: 0, count: 0, previous: Number.NaN, direction: 0, row: 0, sinceMs: 0.5, nowMs: 0.5 };
  seen.reversing = 0;
  seen.wide = 0;
  return {
    add(timeMs: number, value: number, quantum: number): void {
      const { previous } = seen;
      seen.nowMs = timeMs;
      seen.previous = value;
      if (Number.isNaN(previous)) {
        seen.sinceMs = timeMs;
        return;
      }
      const step = Math.sign(value - previous);
      const reversal = step !== 0 && step === -seen.direction;
      if (step !== 0) {
        seen.steps = Math.min(seen.steps + 1, MEMORY);
        seen.wide += ((Math.abs(value - previous) > 1.5 * quantum ? 1 : 0) - seen.wide) / seen.steps;
        seen.direction = step;
        seen.row = 0;
        seen.sinceMs = timeMs;
      } else seen.row++;
      if (seen.row >= LONG_ROW) return;
      seen.count = Math.min(seen.count + 1, MEMORY);
      seen.reversing += ((reversal ? 1 : 0) - seen.reversing) / seen.count;
    },
    is: (): boolean =>
      seen.count >= LEAST_COUNT &&
      seen.previous !== 0 &&
      seen.reversing >= LEAST_REVERSING &&
      seen.wide >= LEAST_WIDE &&
      seen.nowMs - seen.sinceMs >= LEAST_MS &&
      seen.row * Math.log(1 - seen.reversing) < LOG_CHANCE,
    reset(): void {
      seen.previous = Number.NaN;
      seen.row = 0;
    },
  };
}
