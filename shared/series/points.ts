import { createColumn, TIME_STEPS, VALUE_STEPS } from './column.ts';
import type { Level } from './level.ts';

const SMALLEST = 256;

/**
 * The finest level: samples as they came. Each begins where it ends and its low is its high, so it takes half the room of a row of a level above.
 *
 * @param capacity samples kept at most; a power of two
 */
export function createPoints(capacity: number): Level {
  let room = Math.min(SMALLEST, capacity);
  const time = createColumn(TIME_STEPS, room);
  const value = createColumn(VALUE_STEPS, room);
  let starts = new Uint8Array(room);
  let size = 0;
  let head = 0; // where the oldest sample is; stays 0 until the ring is full

  const grow = (): void => {
    room = Math.min(room * 2, capacity);
    time.grow(room);
    value.grow(room);
    const wider = new Uint8Array(room);
    wider.set(starts);
    starts = wider;
  };
  const at = (index: number): number => (head + index) & (room - 1);
  const timeAt = (index: number): number => time.get(at(index));
  const valueAt = (index: number): number => value.get(at(index));

  return {
    get size() {
      return size;
    },
    push({ fromMs, low, startsSegment }) {
      if (size === room && room < capacity) grow();
      let place: number;
      if (size < room) place = size++;
      else {
        place = head;
        head = (head + 1) & (room - 1);
      }
      time.set(place, fromMs);
      value.set(place, low);
      starts[place] = startsSegment ? 1 : 0;
    },
    firstEndingAtOrAfter(timeMs) {
      let left = 0;
      let right = size;
      while (left < right) {
        const middle = (left + right) >>> 1;
        if (timeAt(middle) < timeMs) left = middle + 1;
        else right = middle;
      }
      return left;
    },
    fromMs: timeAt,
    toMs: timeAt,
    low: valueAt,
    high: valueAt,
    startsSegment: (index) => starts[at(index)] === 1,
  };
}
