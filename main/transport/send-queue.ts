import type { Payload } from '../../shared/ipc/contract.ts';

type LiveBatch = Payload<'live.batch'>;
type LinesBatch = Payload<'lines.batch'>;
type BatchEvent = { name: 'live.batch'; payload: LiveBatch } | { name: 'lines.batch'; payload: LinesBatch };

/** Above this, a window counts as slow and gets its batches merged, samples left out and counted. */
export const SLOW_BYTES = 256 * 1024;
/** Above this it has stopped reading altogether and is given up. */
export const STUCK_BYTES = 16 * 1024 * 1024;

export interface SendQueue {
  send(message: unknown): void;
  /** Called now and then: sends what was held back once the window reads again. */
  flush(): void;
}

/** One batch goes to every window: it is put into text for the first of them, and forgotten with the batch. */
const texts = new WeakMap<object, string>();
function textOf({ name, payload }: BatchEvent): string {
  let text = texts.get(payload);
  if (text === undefined) texts.set(payload, (text = JSON.stringify({ type: 'event', name, payload })));
  return text;
}

/**
 * What waits for one window is bounded. Answers and events about facts always go out; live batches give way: while the window is slow they
 * are merged into one per run, whose samples are left out and counted in `droppedCount`. Readings, marks, gaps are facts and stay.
 */
export function createSendQueue(wire: { write(text: string): void; bufferedBytes(): number; giveUp(): void }): SendQueue {
  const held = new Map<string, BatchEvent>();

  const write = (text: string): void => {
    wire.write(text);
    if (wire.bufferedBytes() > STUCK_BYTES) wire.giveUp();
  };
  const flush = (): void => {
    for (const [key, event] of held) {
      if (wire.bufferedBytes() > SLOW_BYTES) return;
      held.delete(key);
      write(textOf(event));
    }
  };

  return {
    send(message) {
      const event = asBatch(message);
      if (event === undefined) return write(JSON.stringify(message));
      const key = `${event.name} ${event.payload.runId}`;
      const waiting = held.get(key);
      if (waiting === undefined && wire.bufferedBytes() <= SLOW_BYTES) return write(textOf(event));
      held.set(key, waiting === undefined ? withoutSamples(event) : merge(waiting, event));
      flush();
    },
    flush,
  };
}

function asBatch(message: unknown): BatchEvent | undefined {
  const { type, name, payload } = message as { type?: string; name?: string; payload?: unknown };
  if (type !== 'event' || (name !== 'live.batch' && name !== 'lines.batch')) return undefined;
  return { name, payload } as BatchEvent;
}

function withoutSamples(event: BatchEvent): BatchEvent {
  if (event.name === 'lines.batch') {
    const { runId, lines, droppedCount } = event.payload;
    return { name: 'lines.batch', payload: { runId, lines: [], droppedCount: droppedCount + lines.length } };
  }
  const { samples, droppedCount } = event.payload;
  return { name: 'live.batch', payload: { ...event.payload, samples: [], droppedCount: droppedCount + samples.length } };
}

/** The newer one with the older one's facts before its own. */
function merge(older: BatchEvent, newer: BatchEvent): BatchEvent {
  const thin = withoutSamples(newer);
  if (older.name === 'lines.batch' || thin.name === 'lines.batch') {
    return { ...thin, payload: { ...thin.payload, droppedCount: older.payload.droppedCount + thin.payload.droppedCount } } as BatchEvent;
  }
  const first = older.payload;
  const last = thin.payload;
  return {
    name: 'live.batch',
    payload: {
      ...last,
      droppedCount: first.droppedCount + last.droppedCount,
      readings: [...first.readings, ...last.readings],
      marks: [...first.marks, ...last.marks],
      edits: [...first.edits, ...last.edits],
      gaps: [...first.gaps, ...last.gaps],
      excluded: [...first.excluded, ...last.excluded],
      settled: [...first.settled, ...last.settled],
    },
  };
}
