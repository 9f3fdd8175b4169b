import type { Extraction } from './extraction.ts';

/** What one line of a cycle brings: which members of the cycle, and texts per slot. */
export type Piece = {
  readonly tags: readonly string[];
  readonly texts: readonly (string | undefined)[];
  readonly starts: readonly number[];
};

export type Gatherer = { add(piece: Piece, timeMs: number): Extraction; end(): Extraction | undefined };

/**
 * Puts a sample together from several lines. The cycle is complete with its last member, or when an earlier member comes again:
 * then the one before had a hole. A first cycle that was joined half way is dropped.
 */
export function createGatherer(order: readonly string[], slotCount: number): Gatherer {
  const rank = new Map(order.map((tag, at) => [tag, at]));
  const lastRank = order.length - 1;
  let texts: (string | undefined)[] = [];
  let fromMs = 0;
  let reached = -1;
  let isWhole = true;
  let isFirst = true;

  const begin = (): void => {
    texts = new Array<string | undefined>(slotCount).fill(undefined);
    reached = -1;
    isWhole = true;
  };
  begin();

  const finish = (): Extraction => {
    const done: Extraction = isWhole ? { kind: 'texts', texts, starts: [], fromMs } : { kind: 'part' };
    begin();
    isFirst = false;
    return done;
  };

  return {
    add(piece, timeMs) {
      const ranks = piece.tags.map((tag) => rank.get(tag) ?? -1).filter((at) => at >= 0);
      if (ranks.length === 0) return { kind: 'ignored', why: 'other-line' };
      const least = Math.min(...ranks);
      const most = Math.max(...ranks);
      let before: Extraction | undefined;
      if (reached >= 0 && least <= reached) before = finish();
      if (reached < 0) {
        fromMs = timeMs;
        isWhole = !(isFirst && least > 0);
      }
      piece.texts.forEach((text, slot) => {
        if (text !== undefined) texts[slot] = text;
      });
      reached = most;
      if (before !== undefined) return before;
      return most === lastRank ? finish() : { kind: 'part' };
    },
    end: () => (reached < 0 ? undefined : finish()),
  };
}
