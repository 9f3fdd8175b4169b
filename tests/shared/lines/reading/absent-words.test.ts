import { describe, expect, it } from 'vitest';
import { absentReason, instrumentState } from '../../../../shared/lines/reading/absent-words.ts';

describe('what is sent in place of a value', () => {
  it.each([
    ['', 'blank'],
    ['   ', 'blank'],
    ['____', 'blank'],
    ['_', 'blank'],
    ['.', 'blank'],
    ['.....', 'blank'],
    ['xxx', 'blank'],
    ['XX', 'blank'],
    ['+', 'over-range'],
    ['++++', 'over-range'],
    ['***', 'over-range'],
    ['**.*', 'over-range'],
    ['>>>', 'over-range'],
    ['^^', 'over-range'],
    ['OL', 'over-range'],
    ['o.l.', 'over-range'],
    ['OVER RANGE', 'over-range'],
    ['over_range', 'over-range'],
    ['<<<', 'under-range'],
    ['under range', 'under-range'],
    ['-', 'not-measuring'],
    ['---', 'not-measuring'],
    ['--.-', 'not-measuring'],
    ['--,-', 'not-measuring'],
    ['\u2013\u2013', 'not-measuring'],
    ['standby', 'not-measuring'],
    ['E1', 'error'],
    ['E-12', 'error'],
    ['err 07', 'error'],
    ['F.123', 'error'],
    ['ERROR#5', 'error'],
    ['NaN', 'not-a-number'],
    ['n/a', 'not-fitted'],
    ['no sensor', 'not-fitted'],
    ['warm-up', 'warming-up'],
    ['Not ready', 'warming-up'],
  ])('%j says %s', (text, reason) => expect(absentReason(text)).toBe(reason));
  it.each(['12.5', 'E1234', 'G1', 'hello', '-+', '*x', '-5', '<5', '>5', 'x1', '+5'])('%j says nothing of the kind', (text) =>
    expect(absentReason(text)).toBeUndefined(),
  );
});

it.each([
  ['ok', 'measuring'],
  ['Low flow', 'fault'],
  ['warm_up', 'warming-up'],
  ['purge', 'purge'],
  ['auto zero', 'zeroing'],
  ['stby', 'hold'],
  ['LOBAT', undefined],
  ['', undefined],
])('a status of %j: %s', (text, state) => expect(instrumentState(text)).toBe(state));
