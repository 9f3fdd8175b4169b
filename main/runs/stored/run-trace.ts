/** What a run looks like over its whole length, bounded: a series per channel. Fed by the chain, asked for by the trend. */
import type { History } from '../../../shared/ipc/run-documents.ts';
import { channelIds, type ChannelId } from '../../../shared/measurement/channel.ts';
import type { Sample } from '../../../shared/measurement/sample.ts';
import type { Reading } from '../../../shared/measurement/state.ts';
import type { ExcludedStretch, GapStretch, RunFold, SettledStretch } from '../../../shared/pipeline/run-fold.ts';
import { createSeries, type Series } from '../../../shared/series/series.ts';

/** What is shown over the curves. */
export type ToldOfRun = {
  readonly marks: RunFold['marks'];
  readonly readings: () => readonly Reading[];
  readonly gaps: { readonly all: readonly GapStretch[] };
  readonly excluded: { readonly all: readonly ExcludedStretch[] };
  readonly settled: { readonly all: readonly SettledStretch[] };
};

export interface RunTrace {
  sample(sample: Sample): void;
  /** points before and after are not joined */
  gap(): void;
  /** the curve of one channel, begun when there is none */
  seriesOf(channel: ChannelId): Series;
  history(told: ToldOfRun, fromMs: number, toMs: number, buckets: number): History;
  channels(): ChannelId[];
}

/** @param samplesKept how many samples of a channel can be looked at one by one; older ones only as low and high of a stretch */
export function createRunTrace(samplesKept?: number): RunTrace {
  const series = new Map<ChannelId, Series>();
  const seriesOf = (channel: ChannelId): Series => {
    let line = series.get(channel);
    if (line === undefined) series.set(channel, (line = createSeries(samplesKept === undefined ? {} : { samplesKept })));
    return line;
  };
  /** the channels of a sample, nearly always those of the one before in the same order: found without asking the map */
  const names: string[] = [];
  const lines: Series[] = [];
  return {
    seriesOf,
    sample({ timeMs, values, absent }) {
      // over what the sample holds, not over every channel there could be: a day has a million samples of four
      let at = 0;
      for (const channel in values) {
        const value = values[channel as ChannelId];
        if (value === undefined) continue;
        if (names[at] !== channel) {
          names[at] = channel;
          lines[at] = seriesOf(channel as ChannelId);
        }
        (lines[at++] as Series).append(timeMs, value);
      }
      for (const channel in absent) if (values[channel as ChannelId] === undefined) series.get(channel as ChannelId)?.gap();
    },
    gap() {
      for (const line of series.values()) line.gap();
    },
    history(told, fromMs, toMs, buckets) {
      const touches = (span: { fromMs: number; toMs?: number | undefined }): boolean =>
        span.fromMs <= toMs && (span.toMs ?? Infinity) >= fromMs;
      return {
        fromMs,
        toMs,
        series: channelIds.flatMap((channel) => {
          const line = series.get(channel);
          return line === undefined ? [] : [{ channel, ...line.query(fromMs, toMs, buckets) }];
        }),
        marks: told.marks.filter(({ timeMs }) => timeMs >= fromMs && timeMs <= toMs),
        readings: told.readings().filter(touches),
        gaps: told.gaps.all.filter(touches),
        excluded: told.excluded.all.filter(touches),
        settled: told.settled.all.filter(touches),
      };
    },
    channels: () => channelIds.filter((channel) => series.has(channel)),
  };
}
