/**
 * A ring of summaries, oldest first, in plain number columns: each row says what a stretch of samples held.
 * Grows by doubling up to its capacity, then forgets the oldest row for each new one.
 */
export interface Level {
  readonly size: number;
  push(row: Row): void;
  /** index of the first row that ends at or after `timeMs`; `size` when none does */
  firstEndingAtOrAfter(timeMs: number): number;
  fromMs(index: number): number;
  toMs(index: number): number;
  low(index: number): number;
  high(index: number): number;
  /** true when this row must not be joined with the one before it */
  startsSegment(index: number): boolean;
}

export type Row = { fromMs: number; toMs: number; low: number; high: number; startsSegment: boolean };

const SMALLEST = 256;

/** @param capacity rows kept at most; a power of two */
export function createLevel(capacity: number): Level {
  let room = Math.min(SMALLEST, capacity);
  let from = new Float64Array(room);
  let to = new Float64Array(room);
  let low = new Float64Array(room);
  let high = new Float64Array(room);
  let starts = new Uint8Array(room);
  let size = 0;
  let head = 0; // where the oldest row is; stays 0 until the ring is full

  const grow = (): void => {
    const wider = <T extends Float64Array | Uint8Array>(old: T, fresh: T): T => {
      fresh.set(old);
      return fresh;
    };
    room = Math.min(room * 2, capacity);
    from = wider(from, new Float64Array(room));
    to = wider(to, new Float64Array(room));
    low = wider(low, new Float64Array(room));
    high = wider(high, new Float64Array(room));
    starts = wider(starts, new Uint8Array(room));
  };
  const at = (index: number): number => (head + index) & (room - 1);

  return {
    get size() {
      return size;
    },
    push(row) {
      if (size === room && room < capacity) grow();
      let place: number;
      if (size < room) place = size++;
      else {
        place = head;
        head = (head + 1) & (room - 1);
      }
      from[place] = row.fromMs;
      to[place] = row.toMs;
      low[place] = row.low;
      high[place] = row.high;
      starts[place] = row.startsSegment ? 1 : 0;
    },
    firstEndingAtOrAfter(timeMs) {
      let left = 0;
      let right = size;
      while (left < right) {
        const middle = (left + right) >>> 1;
        if ((to[at(middle)] as number) < timeMs) left = middle + 1;
        else right = middle;
      }
      return left;
    },
    fromMs: (index) => from[at(index)] as number,
    toMs: (index) => to[at(index)] as number,
    low: (index) => low[at(index)] as number,
    high: (index) => high[at(index)] as number,
    startsSegment: (index) => starts[at(index)] === 1,
  };
}
