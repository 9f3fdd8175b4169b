import type { ChannelId } from '../../measurement/channel.ts';
import type { Sample } from '../../measurement/sample.ts';

type Series = {
  readonly channel: ChannelId;
  readonly timeMs: readonly number[];
  readonly low: readonly number[];
  readonly high: readonly number[];
};

/** Thinned history -> samples in order of time: what a session that begins in the middle of a step is fed with first. */
export function samplesOf({ series }: { readonly series: readonly Series[] }): Sample[] {
  const byTime = new Map<number, Sample>();
  for (const { channel, timeMs, low, high } of series)
    timeMs.forEach((time, i) => {
      const sample = byTime.get(time) ?? { timeMs: time, values: {} };
      sample.values[channel] = ((low[i] as number) + (high[i] as number)) / 2;
      byTime.set(time, sample);
    });
  return [...byTime.values()].sort((a, b) => a.timeMs - b.timeMs);
}
