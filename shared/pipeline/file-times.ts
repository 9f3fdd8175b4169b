/**
 * Gives the lines of a stored text file their times. An instrument's clock column is often coarse (ten lines with the same second) or
 * set in mid-file; its steps are what counts. Lines that share a stamp are spread evenly up to the next one.
 */

export interface FileTimes<T> {
  /**
   * @param stampMs the instrument's clock in this line; undefined when the line has none
   * @param takesTime false for headers and comments, which come together with the line after them
   * @returns lines whose time is known now, in order, times from 0 and never going back
   */
  push(item: T, stampMs: number | undefined, takesTime?: boolean): Timed<T>[];
  end(): Timed<T>[];
}
export type Timed<T> = { item: T; timeMs: number };

const MOST_WAITING = 10_000;

/**
 * @param onSetBack the clock in the lines was set back by so much (ms); the lines from `atMs` on have the new clock
 * @param stepMs between two lines when there is no clock (and at the end of a stretch that has nothing to go by)
 */
export function createFileTimes<T>(stepMs: number, onSetBack?: (atMs: number, byMs: number) => void): FileTimes<T> {
  let waiting: T[] = [];
  let stampedAt: number | undefined; // the stamp that the waiting lines share
  let isFirstGroup = true;
  let startMs = 0; // time of the first waiting line
  let usualMs = stepMs; // between lines, as seen so far
  let offsetMs: number | undefined; // time = stamp + offset
  let isLive = false; // a stamp was seen

  const spread = (spacing: number, fromMs: number): Timed<T>[] => {
    const timed = waiting.map((item, index) => ({ item, timeMs: Math.round(fromMs + index * spacing) }));
    waiting = [];
    return timed;
  };

  /** The lines of one stamp, now that the next stamp is known. */
  const closeGroup = (nextStamp: number): Timed<T>[] => {
    const count = waiting.length;
    const stepOfClock = nextStamp - (stampedAt as number);
    if (stepOfClock < 0) {
      // the clock was set back: go on as the lines usually come
      const timed = spread(usualMs, startMs);
      startMs += count * usualMs;
      offsetMs = startMs - nextStamp;
      onSetBack?.(Math.round(startMs), -stepOfClock);
      return timed;
    }
    if (isFirstGroup && count > 1) {
      // The first stamp may have begun before the file: how dense lines are is not known until the second stamp is complete.
      isFirstGroup = false;
      const spacing = stepOfClock / count;
      const timed = spread(spacing, startMs);
      startMs += stepOfClock;
      offsetMs = startMs - nextStamp;
      usualMs = spacing;
      return timed;
    }
    isFirstGroup = false;
    const isGap = usualMs > 0 && count > 1 && stepOfClock > 5 * count * usualMs;
    const spacing = isGap ? usualMs : stepOfClock / count;
    const timed = spread(spacing, startMs);
    if (!isGap) usualMs = spacing;
    startMs = Math.max(nextStamp + (offsetMs as number), startMs);
    return timed;
  };

  return {
    push(item, stampMs, takesTime = true) {
      if (stampMs === undefined || !Number.isFinite(stampMs)) {
        if (isLive) {
          // belongs with the lines around it
          waiting.push(item);
          return waiting.length > MOST_WAITING ? flush() : [];
        }
        const timed = [{ item, timeMs: Math.round(startMs) }];
        if (takesTime) startMs += stepMs;
        return timed;
      }
      if (!isLive) {
        isLive = true;
        stampedAt = stampMs;
        offsetMs = startMs - stampMs;
        waiting.push(item);
        return [];
      }
      if (stampMs === stampedAt) {
        waiting.push(item);
        return waiting.length > MOST_WAITING ? flush() : [];
      }
      const timed = closeGroup(stampMs);
      stampedAt = stampMs;
      waiting.push(item);
      return timed;
    },
    end: () => flush(),
  };

  function flush(): Timed<T>[] {
    const count = waiting.length;
    const timed = spread(usualMs, startMs);
    startMs += count * usualMs;
    if (stampedAt !== undefined) offsetMs = startMs - stampedAt;
    return timed;
  }
}
