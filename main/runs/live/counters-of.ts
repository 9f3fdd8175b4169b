import { defined } from '../../../shared/defined.ts';
import type { Counters } from '../../../shared/ipc/run-info.ts';
import type { RunFold } from '../../../shared/pipeline/run-fold.ts';

export function countersOf(fold: RunFold, nowMs: number): Counters {
  const { lines, understood, rejected, ignored, bytes, lastGoodMs } = fold.counters;
  return {
    lines,
    understood,
    rejected,
    ignored,
    bytes,
    linesPerSecond: Math.round(fold.linesPerSecond(nowMs) * 10) / 10,
    ...defined({ lastGoodMs }),
  };
}
