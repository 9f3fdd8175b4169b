/** The points of every run, outside React and outside the store: one min-max series per channel, and the last value of each. */
import type { LiveBatch, History } from '../../shared/ipc/run-documents.ts';
import type { ChannelId } from '../../shared/measurement/channel.ts';
import { createSeries, type Series } from '../../shared/series/series.ts';

export type RunBuffers = {
  /** grows with every batch */
  version: () => number;
  series: (channel: ChannelId) => Series;
  channels: () => ChannelId[];
  /** run time of the newest batch */
  nowMs: () => number;
  /** the value that came with the newest line, or shortly before it; never an old one */
  latest: (channel: ChannelId) => number | undefined;
  take: (batch: LiveBatch) => void;
  /** Batches wait until the past has come (or will not): points go in in time order. */
  awaitHistory: () => void;
  historyFailed: () => void;
  /** Past points of a run that was under way when this window saw it first. Ignored once live points are there. */
  takeHistory: (history: History) => void;
};

/** Instruments that send one value per line need a moment for all of them. */
const FRESH_MS = 5000;

export function createRunBuffers(): RunBuffers {
  const all = new Map<ChannelId, Series>();
  const latest = new Map<ChannelId, number>();
  let version = 0;
  let nowMs = 0;
  let gapsSeen = 0;
  let lastSampleMs = 0;
  let waiting: LiveBatch[] | undefined;

  const series = (channel: ChannelId): Series => {
    const known = all.get(channel);
    if (known !== undefined) return known;
    const fresh = createSeries();
    all.set(channel, fresh);
    return fresh;
  };
  const breakAll = (): void => all.forEach((one) => one.gap());

  const release = (afterMs: number): void => {
    const batches = waiting ?? [];
    waiting = undefined;
    for (const batch of batches) self.take({ ...batch, samples: batch.samples.filter(({ timeMs }) => timeMs > afterMs) });
  };

  const self: RunBuffers = {
    version: () => version,
    series,
    channels: () => [...all.keys()],
    nowMs: () => nowMs,
    latest: (channel) => ((all.get(channel)?.lastMs ?? -Infinity) < lastSampleMs - FRESH_MS ? undefined : latest.get(channel)),
    take(batch) {
      if (waiting !== undefined) {
        waiting.push(batch);
        return;
      }
      if (batch.restarted === true) {
        all.clear();
        latest.clear();
        gapsSeen = 0;
        lastSampleMs = 0;
        nowMs = 0;
      }
      if (batch.droppedCount > 0) breakAll();
      const breaks = new Set(batch.breaks ?? []);
      let gapIndex = 0;
      const gaps = batch.gaps.filter(({ fromMs }) => fromMs >= gapsSeen).sort((a, b) => a.fromMs - b.fromMs);
      for (const sample of batch.samples) {
        while (gapIndex < gaps.length && (gaps[gapIndex]?.fromMs ?? Infinity) <= sample.timeMs) {
          breakAll();
          gapsSeen = (gaps[gapIndex]?.fromMs ?? gapsSeen) + 1;
          gapIndex += 1;
        }
        if (breaks.has(sample.timeMs)) breakAll();
        lastSampleMs = Math.max(lastSampleMs, sample.timeMs);
        for (const [channel, value] of Object.entries(sample.values) as [ChannelId, number][]) {
          series(channel).append(sample.timeMs, value);
          latest.set(channel, value);
        }
        for (const channel of Object.keys(sample.absent ?? {}) as ChannelId[]) {
          all.get(channel)?.gap();
          latest.delete(channel);
        }
      }
      if (gapIndex < gaps.length) breakAll();
      nowMs = Math.max(nowMs, batch.timeMs);
      version += 1;
    },
    awaitHistory: () => void (waiting ??= []),
    historyFailed: () => release(-Infinity),
    takeHistory(history) {
      for (const { channel, timeMs, low, high, breaks } of history.series) {
        const target = series(channel);
        if (target.count > 0) continue;
        const breaksAt = new Set(breaks);
        timeMs.forEach((time, index) => {
          if (breaksAt.has(index)) target.gap();
          target.append(time, low[index] as number);
          if (high[index] !== low[index]) target.append(time, high[index] as number);
        });
      }
      const { last } = history;
      if (last !== undefined && last.timeMs >= lastSampleMs) {
        lastSampleMs = last.timeMs;
        for (const [channel, value] of Object.entries(last.values) as [ChannelId, number][]) latest.set(channel, value);
      }
      nowMs = Math.max(nowMs, history.toMs);
      version += 1;
      release(history.toMs);
    },
  };
  return self;
}

/** Buffers by run; made when first asked for. */
export type LiveBuffers = { of: (runId: string) => RunBuffers; forget(runId: string): void };

export function createLiveBuffers(): LiveBuffers {
  const runs = new Map<string, RunBuffers>();
  return {
    of(runId) {
      const known = runs.get(runId);
      if (known !== undefined) return known;
      const fresh = createRunBuffers();
      runs.set(runId, fresh);
      return fresh;
    },
    forget: (runId) => void runs.delete(runId),
  };
}
