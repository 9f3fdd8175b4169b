import { expect, it } from 'vitest';
import { samplesFromHistory } from '../../../renderer/live/samples-from-history.ts';

it('puts the channels of a time together again, in order, and leaves absent what was absent', () => {
  const series = [
    { channel: 'o2' as const, timeMs: [1000, 2000, 4000], low: [5, 5.2, 4], high: [5, 5.4, 4], breaks: [] },
    { channel: 'co' as const, timeMs: [1000, 3000], low: [10, 12], high: [10, 12], breaks: [] },
  ];
  expect(samplesFromHistory({ series })).toEqual([
    { timeMs: 1000, values: { o2: 5, co: 10 } },
    { timeMs: 2000, values: { o2: expect.closeTo(5.3, 9) as number } },
    { timeMs: 3000, values: { co: 12 } },
    { timeMs: 4000, values: { o2: 4 } },
  ]);
  expect(samplesFromHistory({ series: [] })).toEqual([]);
});
