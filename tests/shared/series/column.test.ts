/** A column gives back what was put in, to the last digit, whatever room it takes. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createColumn, TIME_STEPS, VALUE_STEPS } from '../../../shared/series/column.ts';

const odd = [0, -0, 0.1 + 0.2, 1e-9, -1e-9, 214_748.3647, 214_748.3648, -214_748.3648, -214_748.3649, 2 ** 31, 2 ** 31 - 1, 1e15, 1 / 3];
const number = fc.oneof(
  fc.integer({ min: -2_200_000, max: 2_200_000 }).map((n) => n / 100),
  fc.constantFrom(...odd),
  fc.double({ noNaN: true, noDefaultInfinity: true }),
);

describe('a column', () => {
  it.each([TIME_STEPS, VALUE_STEPS])('gives back every number as it was, also after it grew (%i steps)', (steps) => {
    fc.assert(
      fc.property(fc.array(number, { minLength: 1, maxLength: 40 }), (numbers) => {
        const column = createColumn(steps, 1);
        for (const [place, value] of numbers.entries()) {
          if (place > 0) column.grow(place + 1);
          column.set(place, value);
        }
        expect(numbers.every((value, place) => Object.is(column.get(place), value))).toBe(true);
      }),
      { numRuns: 2000 },
    );
  });
});
