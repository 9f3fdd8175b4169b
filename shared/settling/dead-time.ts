import type { SettlingChannel } from '../measurement/channel.ts';
import type { SettlingKnowledge } from '../measurement/knowledge.ts';

const KEPT = 9;
/** Longer than this after the mark, the move has another cause. */
const LONGEST_S = 25;
/** The key is pressed some time before or after the turn. */
const EARLIEST_S = -4;

/**
 * Learns per channel how long after a mark the move shows: the median of the last nine.
 * @param known from a bench test; the first mark of the run that is confirmed takes its place
 */
export function createDeadTimes(known: SettlingKnowledge['channels'] = {}) {
  const seen: Partial<Record<SettlingChannel, number[]>> = {};
  const marks: number[] = [];
  return {
    mark(timeS: number): void {
      marks.push(timeS);
      if (marks.length > KEPT) marks.shift();
    },
    /** A move that began at `timeS`. @returns the time of the mark that it confirms */
    moved(channel: SettlingChannel, timeS: number): number | undefined {
      const mark = marks.findLast((m) => timeS - m >= EARLIEST_S && timeS - m <= LONGEST_S);
      if (mark === undefined) return undefined;
      const list = (seen[channel] ??= []);
      list.push(timeS - mark);
      if (list.length > KEPT) list.shift();
      return mark;
    },
    /** s; without a mark that was confirmed what is known, at its longest, or undefined */
    of(channel: SettlingChannel): number | undefined {
      const list = seen[channel];
      const prior = known[channel]?.dead;
      if (!list || list.length === 0) return prior && Math.max(0, prior.mean + 2 * prior.sd);
      const sorted = [...list].sort((a, b) => a - b);
      return Math.max(0, sorted[Math.floor(sorted.length / 2)]!);
    },
  };
}
