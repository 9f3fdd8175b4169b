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
  let reversing = 0;
  let wide = 0;
  let steps = 0;
  let count = 0;
  let previous: number | undefined;
  let direction = 0;
  let row = 0;
  let sinceMs = 0;
  let nowMs = 0;
  return {
    add(timeMs: number, value: number, quantum: number): void {
      nowMs = timeMs;
      if (previous === undefined) sinceMs = timeMs;
      else {
        const step = Math.sign(value - previous);
        const reversal = step !== 0 && step === -direction;
        if (step !== 0) {
          steps = Math.min(steps + 1, MEMORY);
          wide += ((Math.abs(value - previous) > 1.5 * quantum ? 1 : 0) - wide) / steps;
          direction = step;
          row = 0;
          sinceMs = timeMs;
        } else row++;
        if (row < LONG_ROW) {
          count = Math.min(count + 1, MEMORY);
          reversing += ((reversal ? 1 : 0) - reversing) / count;
        }
      }
      previous = value;
    },
    is: (): boolean =>
      count >= LEAST_COUNT &&
      previous !== 0 &&
      reversing >= LEAST_REVERSING &&
      wide >= LEAST_WIDE &&
      nowMs - sinceMs >= LEAST_MS &&
      row * Math.log(1 - reversing) < LOG_CHANCE,
    reset(): void {
      previous = undefined;
      row = 0;
    },
  };
}
