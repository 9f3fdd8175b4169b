import { describe, expect, it } from 'vitest';
import {
  errorOf,
  isAnyWrong,
  plainText,
  typedDay,
  typedPlain,
  typedQuantity,
  typedText,
  typedWhole,
  typedWithin,
} from '../../../renderer/fields/typed.ts';

describe('what is typed into a field', () => {
  it('empty is absent, never zero, and never wrong', () => {
    for (const read of [typedPlain, typedDay, typedText, plainText, (text: string) => typedWhole(text, { low: 3, high: 50 })])
      expect(read('  ')).toEqual({ kind: 'empty' });
  });
  it('takes a decimal comma, refuses what is no number', () => {
    expect(typedPlain('4,02')).toEqual({ kind: 'value', value: 4.02 });
    expect(errorOf(typedPlain('four'))).toBe('This is not a number. Type it like 4.5 or 4,5.');
    expect(errorOf(typedPlain('1.234,5'))).toBe('Two decimal marks. Type it like 1234.5 or 1234,5.');
  });
  it('asks where a comma may stand before thousands: 1,200 ppm of CO were taken for 1.2', () => {
    for (const text of ['1,200', ' 12,500 ', '-1,200', '\u22121,200', '112,000']) expect(typedPlain(text).kind, text).toBe('wrong');
    expect(errorOf(typedPlain('1,200'))).toBe('This can mean two numbers. Type 1200 or 1.200.');
    // what it says can be typed
    expect(typedPlain('1200')).toEqual({ kind: 'value', value: 1200 });
    expect(typedPlain('1.200')).toEqual({ kind: 'value', value: 1.2 });
    // no thousands: a leading zero, or not three digits
    for (const [text, value] of [
      ['0,125', 0.125],
      ['-0,020', -0.02],
      ['1,2', 1.2],
      ['1,25', 1.25],
      ['1,2000', 1.2],
      ['1234,500', 1234.5],
      ['1.234', 1.234],
    ] as const)
      expect(typedPlain(text), text).toEqual({ kind: 'value', value });
  });
  it('says the limits that there are, and no others', () => {
    expect(typedWithin('400', { low: 0, high: 400 })).toEqual({ kind: 'value', value: 400 });
    expect(typedWithin('0', { low: 0, high: 400 })).toEqual({ kind: 'value', value: 0 });
    expect(errorOf(typedWithin('401', { low: 0, high: 400 }))).toBe('Outside its scale. Type 0 to 400.');
    expect(errorOf(typedWithin('-1', { low: 0 }))).toBe('Too low. Type 0 or more.');
    expect(errorOf(typedWithin('9', { high: 8 }))).toBe('Too high. Type 8 or less.');
  });
  it('counts in whole numbers', () => {
    expect(typedWhole('20', { low: 3, high: 50 })).toEqual({ kind: 'value', value: 20 });
    for (const text of ['2', '51', '3.5'])
      expect(errorOf(typedWhole(text, { low: 3, high: 50 }))).toBe('Type a whole number from 3 to 50.');
  });
  it('keeps the blanks of words that are kept while they are typed, and not those of a form', () => {
    expect(plainText(' A. Sample ')).toEqual({ kind: 'value', value: ' A. Sample ' });
    expect(typedText(' A. Sample ')).toEqual({ kind: 'value', value: 'A. Sample' });
    expect(errorOf(typedText('abcd', 3))).toBe('This is longer than 3 letters.');
  });
  it('finds the one field of a form that is wrong', () => {
    expect(isAnyWrong([typedPlain(''), typedPlain('4')])).toBe(false);
    expect(isAnyWrong([typedPlain(''), typedPlain('4'), typedDay('24.11.2026')])).toBe(true);
  });
  // the calendar: ISO 8601 dates, 2024 is a leap year and 2026 is none
  it.each([
    ['2026-11-24', 'value'],
    ['2024-02-29', 'value'],
    ['2026-02-29', 'wrong'],
    ['2026-13-01', 'wrong'],
    ['24.11.2026', 'wrong'],
  ])('date %s: %s', (text, kind) => expect(typedDay(text).kind).toBe(kind));
});

it('a figure that no instrument shows is a slip of the unit: what can be typed is said in the unit of the field', () => {
  expect(errorOf(typedQuantity('-5', 'pumpPressure', 'us'))).toBe('No instrument shows this. Type 0\u2009psi to 725\u2009psi.');
  expect(errorOf(typedQuantity('500', 'pumpPressure', 'metric'))).toBe('No instrument shows this. Type 0\u2009bar to 50\u2009bar.');
  expect(errorOf(typedQuantity('50', 'o2', 'us'))).toMatch(/Type −0.5.*% to 21.5.*%\./);
  expect(errorOf(typedQuantity('300', 'airTemperature', 'us'))).toMatch(/Type −40.*°F to 176.*°F\./);
  expect(typedQuantity('140', 'pumpPressure', 'us').kind).toBe('value');
  expect(typedQuantity('20.9', 'o2', 'us')).toEqual({ kind: 'value', value: 20.9 });
});
