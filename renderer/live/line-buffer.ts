/** The newest lines of the run that the line view looks at; outside the store, bounded. */
import type { LineReport } from '../../shared/ipc/run-documents.ts';

const KEPT = 500;

export type LineBuffer = {
  runId: () => string | undefined;
  lines: () => readonly LineReport[];
  droppedCount: () => number;
  version: () => number;
  start: (runId: string, lines: readonly LineReport[]) => void;
  add: (runId: string, lines: readonly LineReport[], droppedCount: number) => void;
  stop: () => void;
  onChange: (listener: () => void) => () => void;
};

export function createLineBuffer(): LineBuffer {
  let watched: string | undefined;
  let kept: LineReport[] = [];
  let dropped = 0;
  let version = 0;
  const listeners = new Set<() => void>();
  const changed = (): void => {
    version += 1;
    listeners.forEach((listener) => listener());
  };
  return {
    runId: () => watched,
    lines: () => kept,
    droppedCount: () => dropped,
    version: () => version,
    start(runId, lines) {
      watched = runId;
      kept = lines.slice(-KEPT);
      dropped = 0;
      changed();
    },
    add(runId, lines, droppedCount) {
      if (runId !== watched) return;
      const newest = kept[kept.length - 1]?.number ?? -1;
      kept = [...kept, ...lines.filter((line) => line.number > newest)].slice(-KEPT);
      dropped += droppedCount;
      changed();
    },
    stop() {
      watched = undefined;
      kept = [];
      changed();
    },
    onChange(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}
