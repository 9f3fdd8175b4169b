import type { SettlingChannel } from '../measurement/channel.ts';

const KEPT = 9;
/** Longer than this after the mark, the move has another cause. */
const LONGEST_S = 25;
/** The key is pressed some time before or after the turn. */
const EARLIEST_S = -4;

/** Learns per channel how long after a mark the move shows: the median of the last nine. */
export function createDeadTimes() {
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
    /** s; undefined until a mark has been confirmed on this channel */
    of(channel: SettlingChannel): number | undefined {
      const list = seen[channel];
      if (!list || list.length === 0) return undefined;
      const sorted = [...list].sort((a, b) => a - b);
      return Math.max(0, sorted[Math.floor(sorted.length / 2)]!);
    },
  };
}
