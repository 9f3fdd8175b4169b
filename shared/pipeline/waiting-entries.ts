import type { RunEntry } from '../measurement/run.ts';
import type { LoggedLine } from './line-log.ts';

export type WaitingEntry = { readonly entry: RunEntry; readonly logged: LoggedLine | undefined };

/** entries that wait for a recipe; beyond it the oldest lines are read by nobody (they stay in the run file) */
const MOST_WAITING = 50_000;

/** Entries that came before it was known what the lines mean, in their order. */
export function createWaitingEntries(): { readonly add: (waiting: WaitingEntry) => void; readonly takeAll: () => readonly WaitingEntry[] } {
  let waiting: WaitingEntry[] = [];
  const dropOldestLine = (): void => {
    const index = waiting.findIndex(({ entry }) => entry.kind === 'line');
    // without a line among them, the oldest mark has nothing left to say about one
    waiting.splice(Math.max(0, index), 1);
  };
  return {
    add(one) {
      waiting.push(one);
      if (waiting.length > MOST_WAITING) dropOldestLine();
    },
    takeAll() {
      const all = waiting;
      waiting = [];
      return all;
    },
  };
}
