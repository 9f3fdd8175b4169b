import { expect, it } from 'vitest';
import { recordOf, withBatch, withInfo } from '../../../renderer/state/run-record.ts';
import { batchOf, infoOf, readingOf, recordWith, stateOf, turnOf } from '../helpers/records.ts';

it('keeps facts of earlier batches and replaces what is revised', () => {
  const first = withBatch(
    recordOf(infoOf()),
    batchOf({ readings: [readingOf('a')], marks: [turnOf('m1', 5000, 4)], settled: [{ channel: 'o2', fromMs: 1000 }] }),
  );
  const next = withBatch(
    first,
    batchOf({ readings: [readingOf('a', { toMs: 70_000 }), readingOf('b')], settled: [{ channel: 'o2', fromMs: 1000, toMs: 9000 }] }),
  );
  expect(next.readings.map(({ id, toMs }) => [id, toMs])).toEqual([
    ['a', 70_000],
    ['b', 60_000],
  ]);
  expect(next.marks).toHaveLength(1);
  expect(next.settled).toEqual([{ channel: 'o2', fromMs: 1000, toMs: 9000 }]);
});
it('undoes and moves marks, and keeps them in time order', () => {
  const record = recordWith({ marks: [turnOf('a', 1000, 4), turnOf('b', 2000, 5), turnOf('c', 3000, 6)] });
  const edited = withBatch(
    record,
    batchOf({
      edits: [
        { kind: 'undone', markId: 'b' },
        { kind: 'moved', markId: 'a', timeMs: 3500 },
      ],
    }),
  );
  expect(edited.marks.map(({ id, timeMs }) => [id, timeMs])).toEqual([
    ['c', 3000],
    ['a', 3500],
  ]);
});
it('keeps the last state of a channel that a batch leaves out', () => {
  const record = withBatch(recordWith({ states: [stateOf('o2', 'settled')] }), batchOf({ states: [stateOf('co', 'moving')] }));
  expect([record.face.states.o2?.state, record.face.states.co?.state]).toEqual(['settled', 'moving']);
});
it('adds up what was left out on the way', () => {
  expect(withBatch(recordWith({ droppedCount: 3 }), batchOf({ droppedCount: 4 })).face.droppedCount).toBe(7);
});
it('drops an offer that is over', () => {
  const record = recordWith({ openReading: readingOf('open') });
  expect(withBatch(record, batchOf()).face.openReading).toBeUndefined();
});
it('takes marks from a newer info as the whole list', () => {
  expect(withInfo(recordWith({ marks: [turnOf('a', 1000, 4)] }), infoOf({ marks: [] })).marks).toEqual([]);
});
