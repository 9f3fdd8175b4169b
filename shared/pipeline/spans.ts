/** Stretches of a run, as they are shaded on the trend: bounded, the oldest is forgotten first. */

export type Span = { fromMs: number; toMs?: number | undefined };

export interface SpanList<T extends Span> {
  readonly all: readonly T[];
  /** spans begun or ended since the last call, for the next batch */
  takeChanged(): T[];
  begin(span: T): void;
  isOpen(which: (span: T) => boolean): boolean;
  /** ends the open span that `which` names */
  end(which: (span: T) => boolean, toMs: number): void;
}

const MOST = 2000;

export function createSpanList<T extends Span>(): SpanList<T> {
  const all: T[] = [];
  const open = new Set<T>();
  const changed = new Set<T>();
  return {
    all,
    takeChanged() {
      const taken = [...changed];
      changed.clear();
      return taken;
    },
    begin(span) {
      all.push(span);
      if (span.toMs === undefined) open.add(span);
      changed.add(span);
      if (all.length <= MOST) return;
      const [oldest] = all.splice(0, 1);
      if (oldest === undefined) return;
      open.delete(oldest);
      changed.delete(oldest);
    },
    isOpen: (which) => [...open].some(which),
    end(which, toMs) {
      for (const span of open) {
        if (!which(span)) continue;
        span.toMs = toMs;
        open.delete(span);
        changed.add(span);
      }
    },
  };
}
