/** Step of the printed values (quantum), from the smallest difference seen more than once. */
export type Noise = {
  /** takes the next value of the channel; `expectedRateHz` only sets how long it remembers */
  add(value: number): void;
  /** standard deviation of a single value, floor for quantisation included */
  sd(): number;
  quantum(): number;
  reset(): void;
};

const START_COUNT = 4;

/**
 * Noise from second differences: a trend cancels, var(d2) = 6 sd^2 for white noise. Large second differences (a turn, a spike)
 * are clipped. A channel can be quantised so coarsely that the variance is zero; then q^2/12 stays as floor.
 */
export function createNoise(priorSd: number, memory: number): Noise {
  let meanSquare = 6 * priorSd * priorSd;
  let count = START_COUNT;
  let previous: number | undefined;
  let before: number | undefined;
  let quantum = 0;
  let candidate = Infinity;
  return {
    add(value) {
      if (previous !== undefined) {
        const step = Math.round(Math.abs(value - previous) * 1e6) / 1e6;
        if (step > 0) {
          if (step < candidate - 1e-6) candidate = step;
          else if (step < candidate * 1.01 + 1e-6) quantum = candidate;
          if (quantum > candidate + 1e-6) quantum = candidate;
        }
        if (before !== undefined) {
          const d2 = value - 2 * previous + before;
          const clipped = Math.min(d2 * d2, 9 * meanSquare + 1e-12);
          count = Math.min(count + 1, memory);
          meanSquare += (clipped - meanSquare) / count;
        }
      }
      before = previous;
      previous = value;
    },
    sd: () => Math.sqrt(meanSquare / 6 + (quantum * quantum) / 12),
    quantum: () => quantum,
    reset() {
      previous = undefined;
      before = undefined;
    },
  };
}
