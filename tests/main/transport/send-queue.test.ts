import { describe, expect, it } from 'vitest';
import type { LiveBatch } from '../../../shared/ipc/run-documents.ts';
import { createSendQueue, SLOW_BYTES, STUCK_BYTES } from '../../../main/transport/send-queue.ts';

type Event = { type: 'event'; name: string; payload: LiveBatch };

const counters = { lines: 0, understood: 0, rejected: 0, ignored: 0, bytes: 0, linesPerSecond: 0 };
const batch = (timeMs: number, more: Partial<LiveBatch> = {}): Event => ({
  type: 'event',
  name: 'live.batch',
  payload: {
    runId: 'a',
    timeMs,
    samples: [{ timeMs, values: [] } as never],
    droppedCount: 0,
    states: [],
    readings: [],
    marks: [],
    edits: [],
    gaps: [],
    excluded: [],
    settled: [],
    counters,
    ...more,
  },
});

function slowWindow() {
  const written: Event[] = [];
  const wire = { buffered: 0, givenUp: false };
  const queue = createSendQueue({
    write: (text) => void written.push(JSON.parse(text) as Event),
    bufferedBytes: () => wire.buffered,
    giveUp: () => (wire.givenUp = true),
  });
  return { written, wire, queue };
}

describe('a window that reads', () => {
  it('gets every batch as it is', () => {
    const { written, queue } = slowWindow();
    queue.send(batch(1));
    queue.send(batch(2));
    expect(written).toEqual([batch(1), batch(2)]);
  });

  it('shares the text of a batch with the other windows: it is made once', () => {
    let made = 0;
    const counted = { timeMs: 1, values: {}, toJSON: () => ({ made: ++made }) };
    const { payload } = batch(1, { samples: [counted] });
    const windows = [slowWindow(), slowWindow(), slowWindow(), slowWindow()];
    // each window gets a message of its own around the same batch, as `publish` sends it
    for (const { queue } of windows) queue.send({ type: 'event', name: 'live.batch', payload });
    expect(windows.map(({ written }) => written[0]?.payload.samples)).toEqual(windows.map(() => [{ made: 1 }]));
    expect(made).toBe(1);
  });
});

describe('a window that is slow', () => {
  it('gets one merged batch later: samples counted, facts kept in order', () => {
    const { written, wire, queue } = slowWindow();
    wire.buffered = SLOW_BYTES + 1;
    const gap = (fromMs: number) => ({ fromMs, reason: 'unplugged' as const });
    queue.send(batch(1, { gaps: [gap(1)], droppedCount: 3 }));
    queue.send(batch(2, { gaps: [gap(2)] }));
    queue.send(batch(3));
    expect(written).toEqual([]);
    wire.buffered = 0;
    queue.flush();
    expect(written).toEqual([batch(3, { samples: [], droppedCount: 6, gaps: [gap(1), gap(2)] })]);
  });

  it.each(['readings', 'marks', 'edits', 'gaps', 'excluded', 'settled'] as const)('loses none of its %s', (facts) => {
    const { written, wire, queue } = slowWindow();
    wire.buffered = SLOW_BYTES + 1;
    for (const id of ['a', 'b', 'c']) queue.send(batch(1, { [facts]: [{ id }] }));
    wire.buffered = 0;
    queue.flush();
    expect(written.map(({ payload }) => payload[facts])).toEqual([[{ id: 'a' }, { id: 'b' }, { id: 'c' }]]);
  });

  it('keeps runs apart', () => {
    const { written, wire, queue } = slowWindow();
    wire.buffered = SLOW_BYTES + 1;
    queue.send(batch(1));
    queue.send(batch(2, { runId: 'b' }));
    wire.buffered = 0;
    queue.flush();
    expect(written.map(({ payload }) => [payload.runId, payload.droppedCount])).toEqual([
      ['a', 1],
      ['b', 1],
    ]);
  });

  it('waits with at most one batch per run, however long it lasts', () => {
    const { written, wire, queue } = slowWindow();
    wire.buffered = SLOW_BYTES + 1;
    for (let count = 0; count < 10_000; count += 1) queue.send(batch(count));
    wire.buffered = 0;
    queue.flush();
    expect(written).toHaveLength(1);
    expect(written[0]?.payload.droppedCount).toBe(10_000);
  });

  it('still gets answers at once', () => {
    const { written, wire, queue } = slowWindow();
    wire.buffered = SLOW_BYTES + 1;
    queue.send(batch(1));
    queue.send({ type: 'reply', id: 1, result: { ok: true, value: {} } });
    expect(written).toEqual([{ type: 'reply', id: 1, result: { ok: true, value: {} } }]);
  });

  it('is caught up with by the next batch, as soon as it reads again', () => {
    const { written, wire, queue } = slowWindow();
    wire.buffered = SLOW_BYTES + 1;
    queue.send(batch(1));
    wire.buffered = SLOW_BYTES;
    queue.send(batch(2));
    expect(written.map(({ payload }) => payload.timeMs)).toEqual([2]);
  });

  it('sends nothing twice', () => {
    const { written, wire, queue } = slowWindow();
    wire.buffered = SLOW_BYTES + 1;
    queue.send(batch(1));
    wire.buffered = 0;
    queue.send(batch(2));
    queue.flush();
    expect(written.map(({ payload }) => payload.droppedCount)).toEqual([2]);
  });
});

it('gives a window up that has stopped reading altogether', () => {
  const { wire, queue } = slowWindow();
  wire.buffered = STUCK_BYTES + 1;
  queue.send({ type: 'reply', id: 1, result: { ok: true, value: {} } });
  expect(wire.givenUp).toBe(true);
});
