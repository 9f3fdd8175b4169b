import { fromHalfWidth } from '../combustion/figures/uncertainty.ts';
import type { ChannelId } from '../measurement/channel.ts';
import { defaultTolerances, toleranceAt, type Tolerances } from '../measurement/limits.ts';
import type { RunEntry } from '../measurement/run.ts';
import type { Sample } from '../measurement/sample.ts';
import type { Reading } from '../measurement/state.ts';

/** One set of typed values is a reading in itself: the person judged the display. The instrument is off by what it is off by, typed or not. */
export function typedReading(
  sample: Sample | undefined,
  { timeMs, readingId }: Extract<RunEntry, { kind: 'take' }>,
  tolerances: Tolerances = defaultTolerances,
): Reading | undefined {
  if (sample === undefined) return undefined;
  const entries = Object.entries(sample.values) as [ChannelId, number][];
  if (entries.length === 0) return undefined;
  const isFull = sample.values.stackTemperature !== undefined;
  return {
    id: readingId,
    scope: isFull ? 'full' : 'gas',
    settled: true,
    fromMs: sample.timeMs,
    toMs: sample.timeMs,
    takenMs: timeMs,
    final: true,
    channels: Object.fromEntries(
      entries.map(([channel, mean]) => {
        const u = fromHalfWidth(toleranceAt(tolerances, channel, mean) ?? 0);
        return [channel, { mean, sd: 0, n: 1, nEff: 1, u, typed: true }];
      }),
    ),
    first: { ...sample.values },
  };
}
