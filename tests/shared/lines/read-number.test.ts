import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readValue, type NumberStyle } from '../../../shared/lines/reading/read-number.ts';

const point: NumberStyle = { decimal: '.', thousands: 'none' };
const comma: NumberStyle = { decimal: ',', thousands: 'none' };
const value = (text: string, style: NumberStyle = point): number | string => {
  const read = readValue(text, style);
  return read.kind === 'number' ? read.value : read.kind === 'absent' ? read.why : read.kind;
};

// Spellings: common practice of laboratory instruments; NR1, NR2, NR3: IEEE 488.2.
describe('reading a value', () => {
  it.each<[string, number]>([
    ['4.1', 4.1],
    ['  4.1 ', 4.1],
    ['0023', 23],
    ['+212.4', 212.4],
    ['-0.05', -0.05],
    ['.5', 0.5],
    ['4.', 4],
    ['- 4.1', -4.1],
    ['4.10E+00', 4.1],
    ['2.30e1', 23],
    ['-1.2D-2', -0.012],
    ['\u22124.1', -4.1],
    ['4.1-', -4.1],
    ['(0.05)', -0.05],
    ['"4.1"', 4.1],
    ['4.1 ', 4.1],
  ])('%j is %d', (text, expected) => expect(value(text)).toBe(expected));

  it('agrees with Number on every plain decimal', () => {
    fc.assert(
      fc.property(fc.integer({ min: -9_999_999, max: 9_999_999 }), fc.integer({ min: 0, max: 6 }), (whole, digits) => {
        const text = (whole / 10 ** digits).toFixed(digits);
        expect(value(text)).toBe(Number(text));
        expect(value(text.replace('.', ','), comma)).toBe(Number(text));
      }),
    );
  });

  it.each<[string, NumberStyle, number]>([
    ['4,1', comma, 4.1],
    ['1.234,5', { decimal: ',', thousands: 'point' }, 1234.5],
    ['1,234.5', { decimal: '.', thousands: 'comma' }, 1234.5],
    ["1'234.5", { decimal: '.', thousands: 'apostrophe' }, 1234.5],
    ['1 234,5', { decimal: ',', thousands: 'blank' }, 1234.5],
    ['1\u202f234', { decimal: '.', thousands: 'blank' }, 1234],
    ['1_234', { decimal: '.', thousands: 'underscore' }, 1234],
  ])('%j in style %j is %d', (text, style, expected) => expect(value(text, style)).toBe(expected));

  it('does not guess what 1,234 means when the recipe has a decimal point and no thousands mark', () => {
    expect(value('1,234')).toBe('unknown');
    expect(value('4,1')).toBe(4.1);
  });

  it.each([
    ['4.1%', '%'],
    ['4.1 %vol', '%'],
    ['23ppm', 'ppm'],
    ['23 ppmv', 'ppm'],
    ['212.4C', 'C'],
    ['212.4 \u00b0C', 'C'],
    ['212.4\u00f8C', 'C'],
    ['212.4 \u00dfC', 'C'],
    ['414 \u00b0F', 'F'],
    ['485.5K', 'K'],
    ['-4.5Pa', 'Pa'],
    ['-0.045 mbar', 'mbar'],
    ['-0.02 inH2O', 'inH2O'],
    ['-0.02"wc', 'inH2O'],
    ['30 mg/m3', 'mg/m3'],
  ])('%j names its unit %s', (text, unit) => {
    const read = readValue(text, point);
    expect(read.kind === 'number' ? read.unit : read.kind).toBe(unit);
  });

  it.each([
    ['OL', 'over-range'],
    ['OVER', 'over-range'],
    ['+++', 'over-range'],
    ['***', 'over-range'],
    ['----', 'not-measuring'],
    ['--.-', 'not-measuring'],
    ['', 'blank'],
    ['n/a', 'not-fitted'],
    ['NaN', 'not-a-number'],
    ['ERR', 'error'],
    ['Err 4', 'error'],
    ['WARM', 'warming-up'],
    ['PURGE', 'not-measuring'],
    ['UNDER', 'under-range'],
  ])('%j is absent: %s', (text, why) => expect(value(text)).toBe(why));

  it('keeps the bound of a censored value', () => {
    expect(readValue('>2000', point)).toMatchObject({ kind: 'bound', bound: 'above', value: 2000 });
    expect(readValue('< 5 ppm', point)).toMatchObject({ kind: 'bound', bound: 'below', value: 5, unit: 'ppm' });
  });

  it.each(['4.1x', '0x1F', '4..1', '1.2.3', '4.1 4.2', '--5', 'abc'])('%j is no number', (text) =>
    expect(readValue(text, point).kind).not.toBe('number'),
  );

  it('never throws and never gives a number that is not finite', () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 90, unit: 'binary' }), fc.constantFrom(point, comma), (text, style) => {
        const read = readValue(text, style);
        if (read.kind === 'number' || read.kind === 'bound') expect(Number.isFinite(read.value)).toBe(true);
      }),
    );
  });
});
