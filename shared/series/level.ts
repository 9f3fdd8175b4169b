import { createColumn, TIME_STEPS, VALUE_STEPS } from './column.ts';

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
  const from = createColumn(TIME_STEPS, room);
  const to = createColumn(TIME_STEPS, room);
  const low = createColumn(VALUE_STEPS, room);
  const high = createColumn(VALUE_STEPS, room);
  let starts = new Uint8Array(room);
  let size = 0;
  let head = 0; // where the oldest row is; stays 0 until the ring is full

  const grow = (): void => {
    room = Math.min(room * 2, capacity);
    for (const column of [from, to, low, high]) column.grow(room);
    const wider = new Uint8Array(room);
    wider.set(starts);
    starts = wider;
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
      from.set(place, row.fromMs);
      to.set(place, row.toMs);
      low.set(place, row.low);
      high.set(place, row.high);
      starts[place] = row.startsSegment ? 1 : 0;
    },
    firstEndingAtOrAfter(timeMs) {
      let left = 0;
      let right = size;
      while (left < right) {
        const middle = (left + right) >>> 1;
        if (to.get(at(middle)) < timeMs) left = middle + 1;
        else right = middle;
      }
      return left;
    },
    fromMs: (index) => from.get(at(index)),
    toMs: (index) => to.get(at(index)),
    low: (index) => low.get(at(index)),
    high: (index) => high.get(at(index)),
    startsSegment: (index) => starts[at(index)] === 1,
  };
}
