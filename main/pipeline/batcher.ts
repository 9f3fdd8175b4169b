/**
 * The bounded queue between a run and the windows. It may drop samples and lines (the run file never does), oldest first, and says
 * how many. Everything else is few and is never dropped.
 */
export interface Batcher<T> {
  add(item: T): void;
  readonly isEmpty: boolean;
  take(): { items: T[]; droppedCount: number };
}

export function createBatcher<T>(limit: number): Batcher<T> {
  let items: T[] = [];
  let droppedCount = 0;
  return {
    add(item) {
      items.push(item);
      // dropped in pieces, because taking one off the front for each one added would be slow in a flood
      if (items.length < 2 * limit) return;
      droppedCount += items.length - limit;
      items = items.slice(-limit);
    },
    get isEmpty() {
      return items.length === 0;
    },
    take() {
      const kept = items.length > limit ? items.slice(-limit) : items;
      const taken = { items: kept, droppedCount: droppedCount + items.length - kept.length };
      items = [];
      droppedCount = 0;
      return taken;
    },
  };
}
