/** Sentences that choose between several say the one that fits. */
import { describe, expect, it } from 'vitest';
import { stateReasons } from '../../../shared/measurement/state.ts';
import { parseLengthMm } from '../../../shared/units/length.ts';
import { bench } from '../../../shared/words/bench/bench.ts';
import { recipeWords } from '../../../shared/words/lines/lines.ts';
import { reasonWords } from '../../../shared/words/tune/states.ts';
import { lengthRefusal } from '../../../shared/words/visit/refusals.ts';

describe('why a channel has no figure', () => {
  it.each(stateReasons)('is said for every reason: %s', (reason) => {
    for (const channel of ['o2', 'stackTemperature'] as const) expect(reasonWords(channel, reason, true)).toMatch(/^[A-Za-z]/);
  });
  it.each([
    ['co', 'blank', 'no value in the line'],
    ['co', 'stuck', 'has not changed at all'],
    ['co', 'impossible', 'outside what is possible'],
    ['co', 'over-range', 'CO over range'],
    ['o2', 'under-range', 'O2 under range'],
    ['o2', 'impossible', 'above what air can hold'],
  ] as const)('of %s, %s: %s', (channel, reason, says) => expect(reasonWords(channel, reason, true)).toBe(says));
  it('O2 that is not possible is too high or too low', () => expect(reasonWords('o2', 'impossible', false)).toBe('below zero'));
});

it.each([
  ['', 'Type a length'],
  ['1/2', '"1/2" is a fraction in mm'],
  ['abc', '"abc" is not a length'],
  ['5/0 in', '"5/0 in" is not a length'],
])('a length that cannot be read says what is wrong with it: "%s"', (typed, says) => {
  const read = parseLengthMm(typed, 'mm');
  expect(read.ok ? read.value : lengthRefusal(read.error)).toContain(says);
});

it('a gas says when it expires and what is left, where it is known', () => {
  expect(bench.gas.line('Bottle 3', '100 ppm', '2027-01-31', '90 bar left')).toBe(
    'Bottle 3: certified 100 ppm, expires 2027-01-31, 90 bar left',
  );
  expect(bench.gas.line('Bottle 3', '100 ppm', '', '')).toBe('Bottle 3: certified 100 ppm, no expiry date');
});

it('several things are named one after the other', () => {
  expect([[], ['a'], ['a', 'b'], ['a', 'b', 'c']].map((parts) => bench.list(parts))).toEqual(['', 'a', 'a and b', 'a, b and c']);
});

it('readings of lines that were read anew are counted', () => {
  expect([0, 1, 2].map(recipeWords.readings)).toEqual([
    '0 readings come from them',
    '1 reading comes from them',
    '2 readings come from them',
  ]);
});
