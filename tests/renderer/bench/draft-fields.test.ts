import { describe, expect, it } from 'vitest';
import { compact, errorIn, readDate, readNumber } from '../../../renderer/views/bench/forms/draft-fields.ts';
import { samplesOf } from '../../../shared/bench/session/history-samples.ts';

describe('fields of a form', () => {
  it('empty is absent, never zero', () => {
    expect(readNumber('')).toEqual({ ok: true, value: undefined });
    expect(readDate('  ')).toEqual({ ok: true, value: undefined });
    expect(compact({ a: undefined, b: '', c: 0 })).toEqual({ c: 0 });
  });
  it('takes a decimal comma, refuses what is no number or outside', () => {
    expect(readNumber('4,02')).toEqual({ ok: true, value: 4.02 });
    expect(readNumber('four').ok).toBe(false);
    expect(readNumber('401', { low: 0, high: 400 }).ok).toBe(false);
    expect(errorIn(readNumber('401', { low: 0, high: 400 }))).toContain('400');
  });
  // the calendar: ISO 8601 dates, 2024 is a leap year and 2026 is none
  it.each([
    ['2026-11-24', true],
    ['2024-02-29', true],
    ['2026-02-29', false],
    ['2026-13-01', false],
    ['24.11.2026', false],
  ])('date %s: %s', (text, good) => expect(readDate(text).ok).toBe(good));
});

it('history of a run comes back in order of time, channels of one time together', () => {
  const series = [
    { channel: 'o2', timeMs: [0, 2000], low: [4, 4.2], high: [4.2, 4.2] },
    { channel: 'co', timeMs: [2000, 1000], low: [10, 8], high: [10, 12] },
  ];
  expect(samplesOf({ series } as never)).toEqual([
    { timeMs: 0, values: { o2: 4.1 } },
    { timeMs: 1000, values: { co: 10 } },
    { timeMs: 2000, values: { o2: 4.2, co: 10 } },
  ]);
});
