/** Finds the step of the printed values: the smallest difference between neighbours that is seen more than once. */
export function createQuantum() {
  // fields of one object are written in place, without a new number on the heap
  const seen = { quantum: 0, candidate: Infinity, previous: Number.NaN };
  return {
    add(value: number): void {
      const { previous } = seen;
      if (value === previous) return;
      seen.previous = value;
      if (Number.isNaN(previous)) return;
      const step = Math.round(Math.abs(value - previous) * 1e6) / 1e6;
      if (step === 0) return;
      if (step < seen.candidate - 1e-6) seen.candidate = step;
      else if (step < seen.candidate * 1.01 + 1e-6) seen.quantum = seen.candidate;
    },
    value: (): number => seen.quantum,
  };
}

const START_COUNT = 4;

/**
 * Noise from second differences: a trend cancels, var(d2) = 6 sd^2 for white noise. Large second differences (a turn, a spike)
 * are clipped. Can be exactly zero when the quantisation is coarser than the noise: the caller keeps a floor.
 */
export function createNoise(priorSd: number, memory: number) {
  let meanSquare = 6 * priorSd * priorSd;
  let count = START_COUNT;
  let previous: number | undefined;
  let before: number | undefined;
  return {
    add(value: number): void {
      if (previous !== undefined && before !== undefined) {
        const d2 = value - 2 * previous + before;
        const clipped = Math.min(d2 * d2, 9 * meanSquare + 1e-12);
        count = Math.min(count + 1, memory);
        meanSquare += (clipped - meanSquare) / count;
      }
      before = previous;
      previous = value;
    },
    sd: (): number => Math.sqrt(meanSquare / 6),
    reset(): void {
      previous = undefined;
      before = undefined;
    },
  };
}
