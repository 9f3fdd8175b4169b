/** The line view: the newest lines of the run it looks at, each once, and how many were dropped on the way. */
import { describe, expect, it } from 'vitest';
import { createLineBuffer } from '../../../renderer/live/line-buffer.ts';
import type { LineReport } from '../../../shared/ipc/run-documents.ts';

const lines = (from: number, count: number): LineReport[] =>
  Array.from({ length: count }, (_, at) => ({ number: from + at, timeMs: (from + at) * 100, bytes: 'x', mark: 'read' }));
const numbers = (buffer: ReturnType<typeof createLineBuffer>): number[] => buffer.lines().map(({ number }) => number);

describe('the lines of the run that is looked at', () => {
  it('are those that were asked for and those that came since, each once, in order', () => {
    const buffer = createLineBuffer();
    buffer.start('a', lines(10, 5));
    // what came between asking and the answer comes twice
    buffer.add('a', lines(12, 6), 0);
    expect(numbers(buffer)).toEqual([10, 11, 12, 13, 14, 15, 16, 17]);
    expect([buffer.runId(), buffer.droppedCount()]).toEqual(['a', 0]);
  });

  it('begin with the first line of a run', () => {
    const buffer = createLineBuffer();
    buffer.start('a', []);
    buffer.add('a', lines(0, 2), 0);
    expect(numbers(buffer)).toEqual([0, 1]);
  });

  it('are never those of another run, nor of one that is no longer looked at', () => {
    const buffer = createLineBuffer();
    buffer.start('a', lines(0, 3));
    buffer.add('b', lines(3, 3), 4);
    expect([numbers(buffer), buffer.droppedCount()]).toEqual([[0, 1, 2], 0]);
    buffer.add('a', lines(9, 1), 6);
    expect(buffer.droppedCount()).toBe(6);
    buffer.start('b', lines(0, 1));
    expect([buffer.runId(), numbers(buffer), buffer.droppedCount()]).toEqual(['b', [0], 0]);
    buffer.stop();
    buffer.add('b', lines(1, 1), 0);
    expect([buffer.runId(), numbers(buffer)]).toEqual([undefined, []]);
  });

  it('are the newest when there are many, however they came', () => {
    const buffer = createLineBuffer();
    buffer.start('a', lines(0, 2000));
    const kept = numbers(buffer).length;
    expect([kept < 2000, numbers(buffer).at(-1)]).toEqual([true, 1999]);
    buffer.add('a', lines(2000, 10), 0);
    expect(numbers(buffer)).toEqual(lines(2010 - kept, kept).map(({ number }) => number));
  });

  it('are told of at each change and at nothing else, until nobody wants to hear', () => {
    const buffer = createLineBuffer();
    const heard: number[] = [];
    const quiet = buffer.onChange(() => heard.push(buffer.version()));
    buffer.start('a', []);
    buffer.add('a', lines(0, 1), 0);
    buffer.add('b', lines(0, 1), 0);
    buffer.stop();
    expect(heard).toHaveLength(3);
    expect(new Set(heard).size).toBe(3);
    quiet();
    buffer.start('a', []);
    expect(heard).toHaveLength(3);
  });
});
