/** A run's entries -> what the report shows of it. The very chain that live capture goes through; memory stays bounded. */
import { settlingChannels, type SettlingChannel } from '../measurement/channel.ts';
import type { RunEntry, RunHeader } from '../measurement/run.ts';
import { createRunFold } from '../pipeline/fold-run.ts';
import { type FoldSettings } from '../pipeline/run-fold.ts';
import { createSeries, type Series } from '../series/series.ts';
import { createFlameWatch } from './flame-watch.ts';
import type { ReportRun } from './report-input.ts';

/** one per dot of a good printer would be more than paper shows */
const BUCKETS = 700;

export interface RunGatherer {
  push(entry: RunEntry): void;
  /** @param hash SHA-256 of the file, hex */
  finish(hash: string | undefined): ReportRun;
}

export function gatherRun(header: RunHeader, settings: FoldSettings): RunGatherer {
  const series = new Map<SettlingChannel, Series>(settlingChannels.map((channel) => [channel, createSeries()]));
  const flame = createFlameWatch();
  const fold = createRunFold(header, settings, {
    sample({ timeMs, values, absent }) {
      if (values.o2 !== undefined) flame.push(timeMs, values.o2);
      for (const [channel, line] of series) {
        const value = values[channel];
        if (value === undefined) {
          if (absent?.[channel] !== undefined) line.gap();
          continue;
        }
        line.append(timeMs, value);
      }
    },
    gap: () => series.forEach((line) => line.gap()),
  });
  const { kind } = header.source;
  let isReread = false;
  return {
    push(entry) {
      // readings were taken as the lines were read then; a later look at them with another recipe is told, not mixed in
      if (entry.kind === 'change' && entry.change.rereads === true) isReread = true;
      else fold.push(entry);
    },
    finish: (hash) => ({
      runId: header.runId,
      startWallMs: header.startWallMs,
      zoneMinutes: header.zoneMinutes,
      source: kind === 'serial' ? 'port' : kind,
      recipeName: fold.recipe?.name,
      ...(isReread ? { isReread } : {}),
      hash,
      startSetting: header.setting,
      endMs: fold.timeMs,
      lines: fold.counters.lines,
      rejected: fold.counters.rejected,
      series: [...series]
        .filter(([, line]) => line.count > 0)
        .map(([channel, line]) => ({ channel, ...line.query(0, Math.max(1, fold.timeMs), BUCKETS) })),
      marks: fold.marks,
      readings: fold.readings(),
      gaps: fold.gaps.all,
      excluded: fold.excluded.all,
      settled: fold.settled.all,
      stops: flame.all(),
    }),
  };
}
