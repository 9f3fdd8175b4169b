import { expect, it } from 'vitest';
import { createRunBuffers } from '../../../renderer/live/run-buffers.ts';
import { batchOf } from '../helpers/records.ts';

const samples = (from: number, to: number, value: number) =>
  Array.from({ length: (to - from) / 1000 }, (_, index) => ({ timeMs: from + index * 1000, values: { o2: value } }));
const breaks = (buffers: ReturnType<typeof createRunBuffers>): number => buffers.series('o2').query(0, 100_000, 500).breaks.length;

it('joins what is whole', () => {
  const buffers = createRunBuffers();
  buffers.take(batchOf({ samples: samples(0, 20_000, 5) }));
  buffers.take(batchOf({ samples: samples(20_000, 40_000, 5) }));
  expect(buffers.series('o2').count).toBe(40);
  expect(breaks(buffers)).toBe(0);
});
it('breaks at a gap, once, wherever it stands in the batch', () => {
  const buffers = createRunBuffers();
  buffers.take(batchOf({ samples: samples(0, 20_000, 5), gaps: [{ fromMs: 20_000, reason: 'unplugged' }] }));
  buffers.take(batchOf({ samples: samples(30_000, 40_000, 5), gaps: [{ fromMs: 20_000, toMs: 30_000, reason: 'unplugged' }] }));
  expect(breaks(buffers)).toBe(1);
  const inside = createRunBuffers();
  inside.take(
    batchOf({
      samples: [...samples(0, 10_000, 5), ...samples(30_000, 40_000, 5)],
      gaps: [{ fromMs: 9500, toMs: 30_000, reason: 'unplugged' }],
    }),
  );
  expect(breaks(inside)).toBe(1);
});
it('breaks where samples were left out and where a channel was absent', () => {
  const buffers = createRunBuffers();
  buffers.take(batchOf({ samples: samples(0, 10_000, 5) }));
  buffers.take(batchOf({ droppedCount: 5, samples: samples(20_000, 30_000, 5) }));
  buffers.take(batchOf({ samples: [{ timeMs: 30_000, values: {}, absent: { o2: 'over-range' } }, ...samples(31_000, 40_000, 5)] }));
  expect(breaks(buffers)).toBe(2);
});
it('has no last value while a channel is absent', () => {
  const buffers = createRunBuffers();
  buffers.take(batchOf({ samples: samples(0, 10_000, 5) }));
  expect(buffers.latest('o2')).toBe(5);
  buffers.take(batchOf({ samples: [{ timeMs: 11_000, values: {}, absent: { o2: 'error' } }] }));
  expect(buffers.latest('o2')).toBeUndefined();
});
it('takes the past once, with its spikes and gaps', () => {
  const buffers = createRunBuffers();
  const history = {
    fromMs: 0,
    toMs: 30_000,
    series: [{ channel: 'o2' as const, timeMs: [0, 10_000, 20_000], low: [5, 4, 5], high: [5, 9, 5], breaks: [2] }],
    marks: [],
    readings: [],
    gaps: [{ fromMs: 12_000, toMs: 18_000, reason: 'unplugged' as const }],
    excluded: [],
    settled: [],
  };
  buffers.takeHistory(history);
  buffers.takeHistory(history);
  const { high, breaks: at } = buffers.series('o2').query(0, 30_000, 100);
  expect(Math.max(...high)).toBe(9);
  expect(at).toHaveLength(1);
  expect(buffers.series('o2').count).toBe(4);
});

it('shows at once what was measured last, not the thinned past and not only the next line', () => {
  const buffers = createRunBuffers();
  const past = { channel: 'o2' as const, timeMs: [0, 10_000], low: [5, 4], high: [5, 9], breaks: [] };
  const none = { marks: [], readings: [], gaps: [], excluded: [], settled: [] };
  buffers.awaitHistory();
  buffers.takeHistory({ fromMs: 0, toMs: 12_000, series: [past], ...none, last: { timeMs: 10_000, values: { o2: 4.4 } } });
  expect(buffers.latest('o2')).toBe(4.4);
  buffers.take(batchOf({ samples: [{ timeMs: 13_000, values: { o2: 4.6 } }] }));
  expect(buffers.latest('o2')).toBe(4.6);
});

it('never shows an old value beside a new line', () => {
  const buffers = createRunBuffers();
  buffers.take(batchOf({ samples: [{ timeMs: 1000, values: { o2: 5.1, stackTemperature: 211 } }] }));
  buffers.take(batchOf({ samples: [{ timeMs: 61_000, values: { o2: 4.2 } }] }));
  expect([buffers.latest('o2'), buffers.latest('stackTemperature')]).toEqual([4.2, undefined]);
});

it('puts the past before what came while it was fetched, and doubles nothing', () => {
  const buffers = createRunBuffers();
  buffers.awaitHistory();
  buffers.take(batchOf({ samples: samples(18_000, 24_000, 6) }));
  expect(buffers.series('o2').count).toBe(0);
  buffers.takeHistory({
    fromMs: 0,
    toMs: 20_000,
    series: [{ channel: 'o2', timeMs: [0, 10_000, 20_000], low: [5, 5, 5], high: [5, 5, 5], breaks: [] }],
    marks: [],
    readings: [],
    gaps: [],
    excluded: [],
    settled: [],
  });
  // 3 of the past, and 21, 22, 23 s
  expect(buffers.series('o2').count).toBe(6);
  expect(buffers.series('o2').firstMs).toBe(0);
});
it('goes on with what came when the past cannot be had', () => {
  const buffers = createRunBuffers();
  buffers.awaitHistory();
  buffers.take(batchOf({ samples: samples(0, 5000, 6) }));
  buffers.historyFailed();
  expect(buffers.series('o2').count).toBe(5);
});
