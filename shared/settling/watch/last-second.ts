/** A little less than a second: of one line a second, even if the lines come unevenly, it is the last one. */
const WINDOW_MS = 900;
const MOST = 64;

/**
 * What was measured, as it is shown: the mean of the values of the last second, or the last value where the lines come more slowly. The instrument's
 * own display and the screen say the same, so nothing is left out of it and nothing is filtered.
 */
export function createLastSecond() {
  const times = new Float64Array(MOST);
  const values = new Float64Array(MOST);
  let index = -1;
  return {
    add(timeMs: number, value: number): void {
      index++;
      times[index % MOST] = timeMs;
      values[index % MOST] = value;
    },
    mean(): number | undefined {
      if (index < 0) return undefined;
      const newest = times[index % MOST]!;
      let sum = 0;
      let count = 0;
      for (let i = index; i >= 0 && i > index - MOST && newest - times[i % MOST]! < WINDOW_MS; i--) {
        sum += values[i % MOST]!;
        count++;
      }
      return sum / count;
    },
    reset(): void {
      index = -1;
    },
  };
}
