import { describe, expect, it } from 'vitest';
import { within } from '../../../../renderer/views/records/stored-points.ts';

const columns = { timeMs: [0, 10, 20, 30, 40], low: [1, 2, 3, 4, 5], high: [1, 2, 3, 4, 6], breaks: [1, 3] };

describe('a stretch of a stored run', () => {
  it('keeps one neighbour on each side, and its own breaks', () => {
    expect(within(columns, 15, 25)).toEqual({ timeMs: [10, 20, 30], low: [2, 3, 4], high: [2, 3, 4], breaks: [2] });
  });
  it('is everything when everything is looked at, and nothing beyond the end', () => {
    expect(within(columns, 0, 40)).toEqual(columns);
    expect(within(columns, 41, 50).timeMs).toEqual([]);
  });
});
