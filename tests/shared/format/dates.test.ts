/** Dates and times in the zone they were taken in, against the runtime's own calendar (ECMA-402). */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { csvRow } from '../../../shared/format/csv.ts';
import { formatDay, formatIsoDay, formatLongDay, formatZone, isoDay, isoWithZone, wholeMonths } from '../../../shared/format/date.ts';
import { formatAbout, formatAge, formatClock, formatDate, formatDuration } from '../../../shared/format/duration.ts';

const offsetOf = (minutes: number): string =>
  `${minutes < 0 ? '-' : '+'}${String(Math.floor(Math.abs(minutes) / 60)).padStart(2, '0')}:${String(Math.abs(minutes) % 60).padStart(2, '0')}`;
const moment = fc.integer({ min: Date.UTC(1990, 0, 1), max: Date.UTC(2120, 0, 1) });
/** zones without summer time, as the calendar names them */
const named = fc.constantFrom<[number, string]>(
  ...Array.from({ length: 27 }, (_, at): [number, string] => [(at - 12) * 60, `Etc/GMT${at < 12 ? '+' : '-'}${Math.abs(at - 12)}`]),
  [330, 'Asia/Kolkata'],
  [345, 'Asia/Kathmandu'],
);
const zone = fc.integer({ min: -14 * 4, max: 14 * 4 }).map((quarters) => quarters * 15);

describe('a moment in its zone', () => {
  it('is the day and the clock that the calendar has there', () => {
    fc.assert(
      fc.property(moment, named, (wallMs, [zoneMinutes, timeZone]) => {
        const part = (options: Intl.DateTimeFormatOptions): string =>
          new Intl.DateTimeFormat('en-GB', { timeZone, ...options }).format(wallMs);
        expect(formatLongDay(wallMs, zoneMinutes)).toBe(part({ day: 'numeric', month: 'long', year: 'numeric' }));
        expect(formatDay(wallMs, zoneMinutes)).toBe(part({ day: 'numeric', month: 'short', year: 'numeric' }).replace('Sept', 'Sep'));
        expect(formatClock(wallMs, zoneMinutes, 'seconds')).toBe(part({ timeStyle: 'medium' }));
        expect(formatClock(wallMs, zoneMinutes, 'minutes')).toBe(part({ timeStyle: 'short' }));
        const iso = isoDay(wallMs, zoneMinutes);
        expect(iso.split('-').reverse().join('/')).toBe(part({ dateStyle: 'short' }));
        expect([formatDate(wallMs, zoneMinutes), formatIsoDay(iso)]).toEqual([iso, formatLongDay(wallMs, zoneMinutes)]);
      }),
    );
  });

  it('is the same moment when its ISO text is read again (ISO 8601)', () => {
    fc.assert(
      fc.property(moment, zone, (wallMs, zoneMinutes) => {
        const text = isoWithZone(wallMs, zoneMinutes);
        expect(Date.parse(text)).toBe(wallMs);
        expect(text.slice(-6)).toBe(offsetOf(zoneMinutes));
      }),
    );
    expect(isoDay(Date.UTC(2026, 10, 24, 23, 59))).toBe('2026-11-24');
  });

  it.each([
    [0, 'UTC'],
    [60, 'UTC+1'],
    [-270, 'UTC−4:30'],
    [345, 'UTC+5:45'],
    [-5, 'UTC−0:05'],
  ])('%i min is %s', (minutes, text) => expect(formatZone(minutes)).toBe(text));

  it.each([
    ['2026-11-24', '24 November 2026'],
    ['2026-01-05', '5 January 2026'],
    ['2026-12', 'December 2026'],
    ['2026', '2026'],
    ['in spring', 'in spring'],
    ['', ''],
  ])('%j as people write it', (iso, text) => expect(formatIsoDay(iso)).toBe(text));
});

describe('how long', () => {
  it.each([
    [0, '0 s'],
    [59_999, '59 s'],
    [60_000, '1 min'],
    [119_000, '1 min 59 s'],
    [599_000, '9 min 59 s'],
    [600_000, '10 min'],
    [659_000, '10 min'],
    [3_599_000, '59 min'],
    [3_600_000, '1 h 00 min'],
    [45_240_000, '12 h 34 min'],
  ])('%i ms is %s', (ms, text) => expect(formatDuration(ms)).toBe(text));

  it.each([
    [0, 'about 5 s'],
    [52, 'about 50 s'],
    [57, 'about 55 s'],
    [58, 'about 1 min'],
    [89, 'about 1 min'],
    [91, 'about 2 min'],
    [3540, 'about 59 min'],
    [3600, 'about 1 h 00 min'],
    [7500, 'about 2 h 05 min'],
  ])('%i s is %s', (seconds, text) => expect(formatAbout(seconds)).toBe(text));

  it('the age of a line has tenths while they can be read, and is never below nothing', () => {
    expect([formatAge(-50), formatAge(0), formatAge(1250), formatAge(9_940), formatAge(9_960), formatAge(61_000)]).toEqual([
      '0.0 s',
      '0.0 s',
      '1.3 s',
      '9.9 s',
      '9 s',
      '1 min 01 s',
    ]);
  });
});

describe('a row of CSV (RFC 4180)', () => {
  it('ends with CRLF, doubles quotes, and leaves absent cells empty', () => {
    expect(csvRow(['a', undefined, 0, 'say "yes"', 'b,c', 'two\nlines'], 'comma')).toBe('a,,0,"say ""yes""","b,c","two\nlines"\r\n');
  });
  it('with semicolons has decimal commas, and quotes what holds a semicolon', () => {
    expect(csvRow([4.5, -0.25, '4.5', 'a;b', 12], 'semicolon')).toBe('4,5;-0,25;4.5;"a;b";12\r\n');
  });
});

describe('whole months between two days', () => {
  // by hand, from a calendar
  it.each([
    ['2025-12-01', '2026-12-01', 12],
    ['2025-12-02', '2026-12-01', 11],
    ['2026-11-01', '2026-12-01', 1],
    ['2024-02-29', '2025-02-28', 11],
    ['2024-02-29', '2025-03-01', 12],
    ['2026-12-01', '2026-12-01', 0],
    ['2026-12-02', '2026-12-01', undefined],
    ['next week', '2026-12-01', undefined],
  ])('%s to %s: %s', (from, to, whole) => {
    expect(wholeMonths(from, to)).toBe(whole);
  });
  it('a month later on the same day is one more', () => {
    fc.assert(
      fc.property(
        fc.date({ min: new Date('1990-01-01'), max: new Date('2090-01-01'), noInvalidDate: true }),
        fc.integer({ min: 0, max: 400 }),
        (from, count) => {
          const day = Math.min(28, from.getUTCDate());
          const iso = (months: number): string =>
            new Date(Date.UTC(from.getUTCFullYear(), from.getUTCMonth() + months, day)).toISOString().slice(0, 10);
          expect(wholeMonths(iso(0), iso(count))).toBe(count);
        },
      ),
    );
  });
});
