import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseTypedNumber } from '../../../shared/units/parse-number.ts';

describe('typed numbers', () => {
  it.each([
    ['4.5', 4.5],
    ['4,5', 4.5],
    [' 4,5 ', 4.5],
    ['-3', -3],
    ['\u22123,25', -3.25],
    ['\u20133', -3],
    ['+7', 7],
    ['.5', 0.5],
    [',5', 0.5],
    ['5.', 5],
    ['0', 0],
    ['-0', 0],
    ['007', 7],
    ['1e-3', 0.001],
    ['1,5e2', 150],
  ])('"%s" is %s', (text, value) => {
    const result = parseTypedNumber(text);
    expect(result).toEqual({ ok: true, value });
    // minus zero would be shown as '-0'
    if (result.ok) expect(Object.is(result.value, -0)).toBe(false);
  });

  it.each(['1,234.5', '1.234,5', '1.2.3', '1,2,3', "1'234.5", '1 234,5', '1,234,567'])('"%s" has two separators', (text) => {
    const result = parseTypedNumber(text);
    expect(result.ok ? undefined : result.error.code).toBe('two-separators');
  });

  it.each(['', '   ', 'abc', '4.5%', '4 5', '0x10', 'NaN', 'Infinity', '-', '.', ',', '--5', '5-', '1e', '1e999', '4.5 C', '٤', '１'])(
    '"%s" is no number',
    (text) => {
      const result = parseTypedNumber(text);
      expect(result.ok ? undefined : result.error.code).toBe('not-a-number');
      expect(result.ok ? '' : result.error.detail).not.toBe('');
    },
  );

  it('reads back what was written, with either separator', () => {
    fc.assert(
      fc.property(fc.double({ min: -1e6, max: 1e6, noNaN: true }), (value) => {
        const text = value.toFixed(3);
        expect(parseTypedNumber(text)).toEqual({ ok: true, value: Number(text) === 0 ? 0 : Number(text) });
        expect(parseTypedNumber(text.replace('.', ','))).toEqual(parseTypedNumber(text));
      }),
    );
  });

  it('is total: any text gives a number or a reason', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (text) => {
        const result = parseTypedNumber(text);
        expect(result.ok ? Number.isFinite(result.value) : result.error.code.length > 0).toBe(true);
      }),
    );
  });
});
