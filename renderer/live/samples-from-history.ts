/** What the host kept of a run, as samples again: for a window that came later or was loaded anew. Pure. */
import type { History } from '../../shared/ipc/run-documents.ts';
import type { ChannelId } from '../../shared/measurement/channel.ts';
import type { Sample } from '../../shared/measurement/sample.ts';
import type { RunBuffers } from './run-buffers.ts';

/** A row that stands for several lines gives their middle: smoother than they were, so nothing is seen that was not there. */
export function samplesFromHistory({ series }: Pick<History, 'series'>): Sample[] {
  const byTime = new Map<number, Partial<Record<ChannelId, number>>>();
  for (const { channel, timeMs, low, high } of series)
    timeMs.forEach((at, row) => {
      const [least, most] = [low[row], high[row]];
      if (least === undefined || most === undefined) return;
      const values = byTime.get(at) ?? {};
      values[channel] = (least + most) / 2;
      byTime.set(at, values);
    });
  return [...byTime].sort(([a], [b]) => a - b).map(([timeMs, values]) => ({ timeMs, values }));
}

const BUCKETS = 4000;

/** A stretch of what this window holds of a run, to be drawn or looked at. */
export const samplesBetween = (run: RunBuffers, fromMs: number, toMs: number): Sample[] =>
  samplesFromHistory({ series: run.channels().map((channel) => ({ channel, ...run.series(channel).query(fromMs, toMs, BUCKETS) })) });
