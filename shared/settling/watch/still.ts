/**
 * A value that stands still although the bank expects it to move. After a slope has ended the members that followed it are sure of a long way still to
 * go, and explain the standing away; the members that would be right were given up long ago. Then the bank begins anew, at rest or moving.
 */

/** The slowest that a way still to go is gone: long metal, and hose with cell. s */
const SLOWEST_METAL_S = 500;
const SLOWEST_CELL_S = 60;
/** Newest blocks that are looked at: more of them tell in noise, fewer sooner; and how often. */
const METAL_BLOCKS = [30, 45];
const CELL_BLOCKS = [20];
const EVERY = 5;
/** Seen, with twice its error, must be less than this part of the slope that is expected at least. */
const PART = 0.5;

export function createStill(isMetal: boolean) {
  const lengths = isMetal ? METAL_BLOCKS : CELL_BLOCKS;
  const least = Math.min(...lengths);
  const most = Math.max(...lengths);
  const slowestS = isMetal ? SLOWEST_METAL_S : SLOWEST_CELL_S;
  const times = new Float64Array(most);
  const values = new Float64Array(most);
  let count = 0;

  /** Mean of the newest `length` blocks, their steepest believable slope, up or down. */
  function newest(length: number, quantum: number): { mean: number; steepest: number } {
    let timeS = 0;
    let mean = 0;
    for (let i = count - length; i < count; i++) {
      timeS += times[i % most]! / length;
      mean += values[i % most]! / length;
    }
    let xx = 0;
    let xy = 0;
    let yy = 0;
    for (let i = count - length; i < count; i++) {
      const x = times[i % most]! - timeS;
      const y = values[i % most]! - mean;
      xx += x * x;
      xy += x * y;
      yy += y * y;
    }
    const slope = xy / xx;
    const scatter = Math.max(0, yy - slope * xy) / (length - 2);
    // a coarse printout can hide a move of a quarter of a step over the whole stretch
    const error = Math.hypot(Math.sqrt(scatter / xx), (0.25 * quantum) / Math.sqrt((12 * xx) / length));
    return { mean, steepest: Math.abs(slope) + 2 * error };
  }

  return {
    add(timeS: number, value: number): void {
      times[count % most] = timeS;
      values[count % most] = value;
      count++;
    },
    /** whether it is time to ask: not at every block */
    isDue: (): boolean => count >= least && count % EVERY === 0,
    /** @param heading where the bank says that it is going, with the standard deviation of that */
    contradicts: (heading: number, headingSd: number, quantum: number): boolean =>
      lengths.some((length) => {
        if (count < length) return false;
        const { mean, steepest } = newest(length, quantum);
        return steepest < (PART * (Math.abs(heading - mean) - headingSd)) / slowestS;
      }),
    reset(): void {
      count = 0;
    },
  };
}
