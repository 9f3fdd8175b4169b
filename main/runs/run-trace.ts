/** What a run looks like over its whole length, bounded: a series per channel. Fed by the chain, asked for by the trend. */
import type { History } from '../../shared/ipc/run-commands.ts';
import { channelIds, type ChannelId } from '../../shared/measurement/channel.ts';
import type { Sample } from '../../shared/measurement/sample.ts';
import type { RunFold } from '../../shared/pipeline/fold-run.ts';
import { createSeries, type Series } from '../../shared/series/series.ts';

export interface RunTrace {
  sample(sample: Sample): void;
  /** points before and after are not joined */
  gap(): void;
  history(fold: RunFold, fromMs: number, toMs: number, buckets: number): History;
  channels(): ChannelId[];
}

/** A stretch without any line is not drawn over even when nobody noticed a gap. */
const SILENT_MS = 30_000;

export function createRunTrace(): RunTrace {
  const series = new Map<ChannelId, Series>();
  return {
    sample({ timeMs, values, absent }) {
      for (const channel of channelIds) {
        const value = values[channel];
        if (value === undefined) {
          if (absent?.[channel] !== undefined) series.get(channel)?.gap();
          continue;
        }
        let line = series.get(channel);
        if (line === undefined) series.set(channel, (line = createSeries()));
        if (line.lastMs !== undefined && timeMs - line.lastMs > SILENT_MS) line.gap();
        line.append(timeMs, value);
      }
    },
    gap() {
      for (const line of series.values()) line.gap();
    },
    history(fold, fromMs, toMs, buckets) {
      const touches = (span: { fromMs: number; toMs?: number | undefined }): boolean =>
        span.fromMs <= toMs && (span.toMs ?? Infinity) >= fromMs;
      return {
        fromMs,
        toMs,
        series: channelIds.flatMap((channel) => {
          const line = series.get(channel);
          return line === undefined ? [] : [{ channel, ...line.query(fromMs, toMs, buckets) }];
        }),
        marks: fold.marks.filter(({ timeMs }) => timeMs >= fromMs && timeMs <= toMs),
        readings: fold.readings().filter(touches),
        gaps: fold.gaps.all.filter(touches),
        excluded: fold.excluded.all.filter(touches),
        settled: fold.settled.all.filter(touches),
      };
    },
    channels: () => channelIds.filter((channel) => series.has(channel)),
  };
}
