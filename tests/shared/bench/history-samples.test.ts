import { expect, it } from 'vitest';
import { samplesOf } from '../../../shared/bench/session/history-samples.ts';

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
