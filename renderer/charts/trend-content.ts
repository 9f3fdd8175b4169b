/** What the trend draws beside the curves, in run time and inner units. */
import type { Mark } from '../../shared/measurement/mark.ts';
import type { SettlingChannel } from '../../shared/measurement/channel.ts';

export type TrendMark = { timeMs: number; label: string };
/** The changes of a run in the order of time, from 1: where a name has no room over the strips, its number stands for it. */
export const numberedChanges = (marks: readonly Mark[]): ReadonlyMap<string, number> =>
  new Map(
    marks
      .filter(({ body }) => body.kind === 'adjustment')
      .sort((a, b) => a.timeMs - b.timeMs)
      .map(({ id }, index) => [id, index + 1]),
  );

export type TrendSpan = { fromMs: number; toMs: number };
export type TrendStrip = {
  channel: SettlingChannel;
  /** height against the other strips */
  weight: number;
  leastSpan: number;
  settled: readonly TrendSpan[];
  readings: readonly { timeMs: number; value: number }[];
  forecast: readonly { timeMs: number; value: number }[];
  /** where it comes to rest: drawn as a slot at the right, as high as the band */
  heading: { value: number; band: number } | undefined;
  /** it keeps its slope: the straight way from now on */
  drift?: { value: number; toMs: number; toValue: number } | undefined;
  /** it goes to and fro between these, since then */
  swing?: { fromMs: number; low: number; high: number } | undefined;
};
export type TrendContent = {
  strips: readonly TrendStrip[];
  marks: readonly TrendMark[];
  gaps: readonly TrendSpan[];
  /** when lines stopped coming, while they are away */
  lostSinceMs: number | undefined;
  /** one that still goes on ends at Infinity */
  excluded: readonly (TrendSpan & { reason: string })[];
};
