import type { RunSummary } from '../../../../shared/ipc/run-info.ts';
import { source } from '../../../../shared/words/source.ts';
import { formatDuration } from '../../../../shared/format/duration.ts';
import { formatNumber } from '../../../../shared/format/quantity.ts';

export function summaryLabel({ header }: RunSummary): string {
  const from = header.source;
  return from.kind === 'serial' || from.kind === 'replay'
    ? from.label
    : from.kind === 'simulated'
      ? `${source.simulated}, ${from.title}`
      : source.typed;
}

export const summaryLine = (run: RunSummary): string =>
  [
    source.runLine(source.kindOf[run.header.source.kind], formatDuration(run.durationMs), formatNumber(run.lines, 0)),
    ...(run.damaged ? [source.damaged] : []),
    ...(run.ended ? [] : [source.notEnded]),
  ].join(' · ');
