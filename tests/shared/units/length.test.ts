import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatLength, inchFraction, parseLengthMm } from '../../../shared/units/length.ts';

/** 1 in = 25.4 mm exactly (NIST SP 811) */
describe('typed lengths', () => {
  it.each([
    { typed: '5/32', unit: 'inch', mm: (5 / 32) * 25.4 },
    { typed: '1 1/16 in', unit: 'mm', mm: (17 / 16) * 25.4 },
    { typed: '1-1/16 in', unit: 'inch', mm: (17 / 16) * 25.4 },
    { typed: '4 mm', unit: 'inch', mm: 4 },
    { typed: '4,5', unit: 'mm', mm: 4.5 },
    { typed: '.16', unit: 'inch', mm: 4.064 },
    { typed: '0.16"', unit: 'mm', mm: 4.064 },
    { typed: '1½', unit: 'inch', mm: 38.1 },
    { typed: '-1/16', unit: 'inch', mm: -25.4 / 16 },
    { typed: '3 / 16', unit: 'inch', mm: (3 / 16) * 25.4 },
  ] as const)('$typed on a sheet in $unit', ({ typed, unit, mm }) => {
    const parsed = parseLengthMm(typed, unit);
    expect(parsed.ok && parsed.value).toBeCloseTo(mm, 9);
  });
  it.each(['', 'abc', '1/0', '4.5.6', '1,2.3', '5/', '1 2', '4 cm'])('refuses "%s"', (typed) => {
    expect(parseLengthMm(typed, 'mm').ok).toBe(false);
  });
  // on a sheet in mm '1/2' may be half a millimetre; '1 3/8 mm' is neither
  it.each(['1 3/8', '1/2', '1½', '1 3/8 mm'])('refuses the fraction "%s" on a sheet in mm, and says why', (typed) => {
    expect(parseLengthMm(typed, 'mm')).toMatchObject({ ok: false, error: { key: 'length-fraction-mm', text: typed } });
  });
  it.each(['1 5/4', '1 -3/8', '5/0', '1 8/8'])('refuses "%s"', (typed) => {
    expect(parseLengthMm(typed, 'inch').ok).toBe(false);
  });
  it('writes ruler fractions in lowest terms', () => {
    expect(formatLength((5 / 32) * 25.4, 'inch')).toBe('5/32\u2009in');
    expect(formatLength((17 / 16) * 25.4, 'inch')).toBe('1 1/16\u2009in');
    expect(formatLength(25.4, 'inch')).toBe('1\u2009in');
    expect(formatLength(0, 'inch')).toBe('0\u2009in');
    expect(formatLength(-3, 'mm')).toBe('−3.0\u2009mm');
  });
  it('says "about" between two marks', () => {
    // 4.3 mm is 5.4/32 in, 0.33 mm away from 5/32
    expect(formatLength(4.3, 'inch')).toBe('about 5/32\u2009in');
  });
  it('reads back every 1/32 it writes', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 400 }), (thirtySeconds) => {
        const mm = (thirtySeconds / 32) * 25.4;
        const back = parseLengthMm(inchFraction(mm).text, 'inch');
        expect(back.ok && back.value).toBeCloseTo(mm, 9);
      }),
    );
  });
});
