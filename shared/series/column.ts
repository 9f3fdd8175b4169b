/**
 * Numbers of a ring, in half the room where that loses nothing: as whole multiples of a step. What instruments print has few digits, so it comes
 * back to the last one. The first number that would not makes the whole column one of ordinary numbers.
 */
export interface Column {
  get(place: number): number;
  set(place: number, value: number): void;
  /** @param room how many numbers; not less than before */
  grow(room: number): void;
}

/** ms of a run */
export const TIME_STEPS = 1;
/** four digits behind the point: readings up to 214 000 */
export const VALUE_STEPS = 10_000;

/** @param steps how many of them make one */
export function createColumn(steps: number, roomAtFirst: number): Column {
  let whole: Int32Array | undefined = new Int32Array(roomAtFirst);
  let plain = new Float64Array(0);
  return {
    get: (place) => (whole === undefined ? plain[place]! : whole[place]! / steps),
    set(place, value) {
      if (whole !== undefined) {
        const count = Math.round(value * steps);
        // beyond 32 bits a number is not the same again
        if (Object.is((count | 0) / steps, value)) {
          whole[place] = count;
          return;
        }
        plain = Float64Array.from(whole, (one) => one / steps);
        whole = undefined;
      }
      plain[place] = value;
    },
    grow(room) {
      if (whole === undefined) {
        const wider = new Float64Array(room);
        wider.set(plain);
        plain = wider;
        return;
      }
      const wider = new Int32Array(room);
      wider.set(whole);
      whole = wider;
    },
  };
}
