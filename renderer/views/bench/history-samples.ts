import type { History } from '../../../shared/ipc/run-commands.ts';
import type { Sample } from '../../../shared/measurement/sample.ts';

/** Thinned history -> samples in order of time: what a window that was reloaded feeds its recogniser with first. */
export function samplesOf({ series }: Pick<History, 'series'>): Sample[] {
  const byTime = new Map<number, Sample>();
  for (const { channel, timeMs, low, high } of series)
    timeMs.forEach((time, i) => {
      const sample = byTime.get(time) ?? { timeMs: time, values: {} };
      sample.values[channel] = ((low[i] as number) + (high[i] as number)) / 2;
      byTime.set(time, sample);
    });
  return [...byTime.values()].sort((a, b) => a.timeMs - b.timeMs);
}
