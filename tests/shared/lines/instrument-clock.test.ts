import { describe, expect, it } from 'vitest';
import { createInstrumentClock, type FieldTime } from '../../../shared/lines/reading/instrument-clock.ts';

const readAll = (time: Omit<FieldTime, 'kind' | 'at'>, texts: readonly (string | readonly [string, string])[]): (number | undefined)[] => {
  const clock = createInstrumentClock({ kind: 'field', at: 0, ...time });
  return texts.map((text) => (typeof text === 'string' ? clock.read(text) : clock.read(text[0], text[1])));
};

describe('instrument clock: ms since its first value', () => {
  it('counts clock times over midnight', () =>
    expect(readAll({ format: 'clock' }, ['23:59:58', '23:59:59', '00:00:01'])).toEqual([0, 1000, 3000]));
  it('reads twelve-hour times: 12 AM is midnight, 12 PM is noon', () => {
    expect(readAll({ format: 'clock' }, ['11:59:59 AM', '12:00:00 PM', '1:00:00 PM'])).toEqual([0, 1000, 3_601_000]);
    expect(readAll({ format: 'clock' }, ['11:59:59 PM', '12:00:01 AM'])).toEqual([0, 2000]);
    expect(
      readAll({ format: 'clock' }, [
        ['11:59:59', 'AM'],
        ['12:00:01', 'PM'],
      ]),
    ).toEqual([0, 2000]);
  });
  it('reads fractions, missing seconds and six digits', () => {
    expect(readAll({ format: 'clock' }, ['12:01:07.250', '12:01:07.5'])).toEqual([0, 250]);
    expect(readAll({ format: 'clock' }, ['12:01', '12:03'])).toEqual([0, 120_000]);
    expect(readAll({ format: 'clock' }, ['120107.00', '120200.00'])).toEqual([0, 53_000]);
  });
  // ISO 8601; 2028 is a leap year, 2026 is not.
  it('reads ISO 8601 over the end of February', () => {
    expect(readAll({ format: 'date-time' }, ['2028-02-28T23:59:59Z', '2028-03-01T00:00:00Z'])).toEqual([0, 86_401_000]);
    expect(readAll({ format: 'date-time' }, ['2026-02-28T23:59:59Z', '2026-03-01T00:00:00Z'])).toEqual([0, 1000]);
    expect(readAll({ format: 'date-time' }, ['20261231T235959', '20270101T000000'])).toEqual([0, 1000]);
  });
  it('reads dates in both orders', () => {
    expect(readAll({ format: 'date-time', date: 'day-month-year' }, ['31/01/26 23:59:59', '01/02/26 00:00:00'])).toEqual([0, 1000]);
    expect(readAll({ format: 'date-time', date: 'month-day-year' }, ['01/31/26 23:59:59', '02/01/26 00:00:00'])).toEqual([0, 1000]);
    expect(
      readAll({ format: 'clock', date: 'day-month-year' }, [
        ['23:59:59', '31.12.2026'],
        ['00:00:00', '01.01.2027'],
      ]),
    ).toEqual([0, 1000]);
  });
  it('counts seconds, milliseconds, minutes and days', () => {
    expect(readAll({ format: 'seconds' }, ['10', '10.5', '12'])).toEqual([0, 500, 2000]);
    expect(readAll({ format: 'milliseconds' }, ['1000', '1250'])).toEqual([0, 250]);
    expect(readAll({ format: 'minutes' }, ['0', '0,5'])).toEqual([0, 30_000]);
    expect(readAll({ format: 'days' }, ['46000', '46000.00001157407'])).toEqual([0, 1000]);
  });
  it('goes on when a 32-bit counter of milliseconds starts again (2^32 ms = 49.7 days)', () =>
    expect(readAll({ format: 'milliseconds', wrapMs: 4_294_967_296 }, ['4294967000', '296'])).toEqual([0, 592]));
  it('reads day of year with time', () => expect(readAll({ format: 'day-of-year' }, ['329 23:59:59', '330 00:00:01'])).toEqual([0, 2000]));
  it('is not bothered by what is no time', () =>
    expect(readAll({ format: 'clock' }, ['12:00:00', '----', '99:99:99', '12:00:05'])).toEqual([0, undefined, undefined, 5000]));
});
