import type { Sample } from '../measurement/sample.ts';

export type StaleWatch = {
  /** @returns since when all channels have stood still to the last bit, once that is long enough; else undefined */
  push(sample: Sample): number | undefined;
};

export type StaleOptions = {
  /** how long bit-identical values may stand, ms */
  readonly forMs?: number | undefined;
  /** so many lines at least must have said the same */
  readonly leastLines?: number | undefined;
};

/** Lines go on, yet nothing changes in any channel: a stuck instrument, or a very slow one. */
export function createStaleWatch({ forMs = 60_000, leastLines = 20 }: StaleOptions = {}): StaleWatch {
  let before: Sample['values'] | undefined;
  let sinceMs = 0;
  let lines = 0;
  const isSame = (a: Sample['values'], b: Sample['values']): boolean => {
    const keys = Object.keys(a) as (keyof Sample['values'])[];
    return keys.length === Object.keys(b).length && keys.every((key) => Object.is(a[key], b[key]));
  };
  return {
    push({ timeMs, values }) {
      // One channel alone may well stand still; with none there is nothing to say.
      if (Object.keys(values).length === 0) return undefined;
      if (before === undefined || !isSame(before, values)) {
        before = values;
        sinceMs = timeMs;
        lines = 0;
      }
      lines += 1;
      return lines >= leastLines && timeMs - sinceMs >= forMs ? sinceMs : undefined;
    },
  };
}
