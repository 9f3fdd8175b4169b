/** What a curve is taken from: the run on screen, or a stored one. */
import type { RunInfo, RunSummary } from '../../../../shared/ipc/run-info.ts';
import type { SourceInfo } from '../../../../shared/measurement/run.ts';
import type { WarmUpCurve } from '../../../../shared/warm-up/curve.ts';
import { warmUp } from '../../../../shared/words/warm-up.ts';
import { summaryLabel } from '../../source/forms/summary-label.ts';
import { formatClock } from '../../../../shared/format/duration.ts';

export type Capture = { runId: string; source: WarmUpCurve['source']; startWallMs: number; endMs: number; name: string };

export const isPractice = (source: SourceInfo): boolean =>
  source.kind === 'simulated' || (source.kind === 'replay' && source.of === 'simulated');

/** A replay of the simulated burner stays simulated. */
const curveSource = (source: SourceInfo): WarmUpCurve['source'] =>
  isPractice(source) ? 'simulated' : source.kind === 'serial' ? 'port' : source.kind;

export const captureOf = ({ runId, source, startWallMs, zoneMinutes }: RunInfo, endMs: number): Capture => ({
  runId,
  source: curveSource(source),
  startWallMs,
  endMs,
  name: `${source.kind === 'simulated' ? source.title : warmUp.runNow} ${formatClock(startWallMs, zoneMinutes, 'minutes')}`,
});

export const storedCapture = (run: RunSummary): Capture => ({
  runId: run.runId,
  source: curveSource(run.header.source),
  startWallMs: run.header.startWallMs,
  endMs: Math.max(1, run.durationMs),
  name: `${summaryLabel(run)} ${formatClock(run.header.startWallMs, run.header.zoneMinutes, 'minutes')}`.slice(0, 120),
});
