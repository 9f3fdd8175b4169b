import { describe, expect, it } from 'vitest';
import { storedContent, within } from '../../../../renderer/views/records/run/stored-points.ts';

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

describe('the marks of a stored run', () => {
  const change = (id: string, timeMs: number, shutter: number) => ({
    id,
    timeMs,
    body: {
      kind: 'adjustment' as const,
      setting: {
        stage: '1',
        positions: [
          { name: 'Shutter', value: shutter },
          { name: 'Band', value: 3 },
        ],
      },
    },
  });
  const history = {
    fromMs: 0,
    toMs: 1000,
    series: [],
    readings: [],
    gaps: [],
    excluded: [],
    settled: [],
    marks: [change('a', 100, 7), { id: 's', timeMs: 150, body: { kind: 'smoke' as const, spots: [{ number: 0 }] } }, change('b', 200, 5)],
  };

  it('are numbered, so that each has a name over the strips however near the next is', () => {
    expect(storedContent(history as never, [], 1000).marks).toEqual([
      { timeMs: 100, label: '1 · shutter 7, band 3' },
      { timeMs: 200, label: '2 · shutter 5' },
    ]);
  });
});
