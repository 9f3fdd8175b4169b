import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { placesOn } from '../../../renderer/views/visit/verdict-geometry.ts';

describe('a value against its limits', () => {
  it('shows the limits and half their width on either side', () => {
    // 4 to 6: the scale runs from 3 to 7, so the limits stand at a quarter and three quarters of it
    const places = placesOn(216, { value: 5, low: 4, high: 6 });
    expect(places).toMatchObject({ low: 58, high: 158, at: 108, beyond: false });
  });
  it('keeps the value on the scale, and in order with its limits', () => {
    const number = fc.double({ min: -500, max: 500, noNaN: true });
    fc.assert(
      fc.property(number, fc.double({ min: 0.1, max: 200, noNaN: true }), number, (low, width, value) => {
        const places = placesOn(150, { value, low, high: low + width })!;
        expect(places.at).toBeGreaterThanOrEqual(0);
        expect(places.at).toBeLessThanOrEqual(150);
        if (value >= low && value <= low + width) {
          expect(places.at).toBeGreaterThanOrEqual(places.low! - 1e-6);
          expect(places.at).toBeLessThanOrEqual(places.high! + 1e-6);
        }
      }),
    );
  });
  it('has one bracket where there is one limit, and no scale without any', () => {
    expect(placesOn(150, { value: 10, high: 50 })).toMatchObject({ low: undefined, beyond: false });
    expect(placesOn(150, { value: 10 })).toBeUndefined();
  });
});
