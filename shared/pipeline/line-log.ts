/** The last lines as the line view shows them, and how fast they come. Bounded. */
import type { StampedLine } from '../measurement/line.ts';
import type { LineRead } from '../lines/reading/line-read.ts';

export type LoggedLine = { readonly number: number; readonly line: StampedLine; read: LineRead | undefined };

export interface LineLog {
  add(line: StampedLine): LoggedLine;
  /** the newest `count`, oldest first */
  last(count: number): LoggedLine[];
  readonly count: number;
}

const KEPT = 500;

export function createLineLog(): LineLog {
  const ring: LoggedLine[] = [];
  let count = 0;
  return {
    get count() {
      return count;
    },
    add(line) {
      const logged: LoggedLine = { number: ++count, line, read: undefined };
      ring[(count - 1) % KEPT] = logged;
      return logged;
    },
    last(wanted) {
      const size = Math.min(wanted, ring.length);
      return Array.from({ length: size }, (_, i) => ring[(count - size + i) % KEPT] as LoggedLine);
    },
  };
}

const BIN_MS = 1000;
const BINS = 5;

/** Lines per second over the last seconds of run time. */
export function createLineRate() {
  const bins = new Array<number>(BINS + 1).fill(0);
  const times = new Array<number>(BINS + 1).fill(-1);
  let firstMs: number | undefined;
  return {
    count(timeMs: number): void {
      firstMs ??= timeMs;
      const bin = Math.floor(timeMs / BIN_MS);
      const place = bin % (BINS + 1);
      if (times[place] !== bin) {
        times[place] = bin;
        bins[place] = 0;
      }
      bins[place] = (bins[place] as number) + 1;
    },
    at(timeMs: number): number {
      if (firstMs === undefined) return 0;
      const now = Math.floor(timeMs / BIN_MS);
      let sum = 0;
      let whole = 0;
      for (let bin = now - BINS; bin < now; bin++) {
        if (bin < Math.floor(firstMs / BIN_MS)) continue;
        whole++;
        const place = ((bin % (BINS + 1)) + BINS + 1) % (BINS + 1);
        if (times[place] === bin) sum += bins[place] as number;
      }
      return whole === 0 ? (bins[now % (BINS + 1)] as number) : sum / whole;
    },
  };
}
