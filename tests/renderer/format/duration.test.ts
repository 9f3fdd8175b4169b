import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatAbout, formatAge, formatClock, formatDuration, formatTimeLeft } from '../../../shared/format/duration.ts';

describe('time left', () => {
  it.each([
    [0.3, '5 s'],
    [12, '10 s'],
    [13, '15 s'],
    [57, '55 s'],
    [58, '1 min'],
    [64, '1 min'],
    [66, '1 min 10 s'],
    [260, '4 min 20 s'],
    [594, '9 min 50 s'],
    [596, 'about 10 min'],
    [7500, 'about 2 h 05 min'],
  ])('%d s reads %s', (seconds, text) => expect(formatTimeLeft(seconds)).toBe(text));

  it('moves in steps of 5 s, 10 s, then minutes', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 590, noNaN: true }), (seconds) => {
        const text = formatTimeLeft(seconds);
        const minutes = Number(/(\d+) min/.exec(text)?.[1] ?? 0);
        const shown = minutes * 60 + Number(/(\d+) s/.exec(text)?.[1] ?? 0);
        expect(shown % (shown < 60 ? 5 : 10)).toBe(0);
        expect(Math.abs(shown - Math.max(5, seconds))).toBeLessThanOrEqual(5);
      }),
    );
  });
});

it.each([
  [52_900, '52 s'],
  [60_000, '1 min'],
  [100_000, '1 min 40 s'],
  [63_000, '1 min 03 s'],
  [1_200_000, '20 min'],
  [7_500_000, '2 h 05 min'],
  [-5, '0 s'],
])('%d ms lasted %s', (ms, text) => expect(formatDuration(ms)).toBe(text));
it.each([
  [400, '0.4 s'],
  [9949, '9.9 s'],
  [9951, '9 s'],
  [14_000, '14 s'],
])('a line %d ms old is %s old', (ms, text) => expect(formatAge(ms)).toBe(text));
it('rounds sentences to minutes', () => expect([formatAbout(250), formatAbout(38)]).toEqual(['about 4 min', 'about 40 s']));
it('shows the wall clock of the run’s own zone', () => {
  expect(formatClock(Date.UTC(2026, 0, 15, 23, 30, 5, 7), 60, 'milliseconds')).toBe('00:30:05.007');
  expect(formatClock(Date.UTC(2026, 0, 15, 3, 30), -300, 'minutes')).toBe('22:30');
});
