/** What a step of a bench test gives: its application of gas, and what only some steps measure. */
import type { DoneStep, StoredApplication } from '../bench-test.ts';
import type { BenchChannel } from '../instrument.ts';
import { allanDeviation } from '../results/noise.ts';
import type { PlanStep } from '../plan.ts';
import type { Application } from './recognise.ts';
import { defined } from '../../defined.ts';

/** minutes after the start of a warm-up at which R 144-2 no. 1.19 asks for readings */
const WARM_UP_MIN = [0, 2, 5, 15] as const;

export type Point = { readonly timeMs: number; readonly values: Partial<Record<BenchChannel, number>> };

export function storedApplication(
  { markMs, toMs, channels }: Application,
  { zeroMs, fromMs, withResponse }: { zeroMs: number; fromMs: number; withResponse: boolean },
): StoredApplication {
  return {
    ...defined({ markMs: withResponse && markMs !== undefined ? markMs - zeroMs : undefined }),
    fromMs: fromMs - zeroMs,
    toMs: toMs - zeroMs,
    channels: Object.fromEntries(
      Object.entries(channels).map(([channel, { plateau, response, resolution }]) => [
        channel,
        { plateau, resolution, ...defined({ response: withResponse && response !== undefined ? response : undefined }) },
      ]),
    ),
  };
}

/** What only some steps give: single readings, noise, readings after warm-up. */
export function ofPurpose(
  step: PlanStep,
  points: readonly Point[],
  channels: readonly BenchChannel[],
  fromMs: number,
): Pick<DoneStep, 'readings' | 'noise' | 'warmUp'> {
  const series = (channel: BenchChannel): number[] => points.flatMap(({ values }) => values[channel] ?? []);
  if (step.purpose === 'repeatability') {
    const wanted = step.readings ?? 20;
    const spread = (list: readonly number[]): number[] =>
      list.length < wanted ? [...list] : Array.from({ length: wanted }, (_, i) => list[Math.floor((i * list.length) / wanted)] as number);
    return { readings: Object.fromEntries(channels.map((channel) => [channel, spread(series(channel))])) };
  }
  if (step.purpose === 'noise') {
    const spanS = ((points.at(-1)?.timeMs ?? 0) - (points[0]?.timeMs ?? 0)) / 1000;
    const intervalS = points.length > 1 ? spanS / (points.length - 1) : 1;
    return { noise: Object.fromEntries(channels.map((channel) => [channel, allanDeviation(series(channel), intervalS).slice(0, 40)])) };
  }
  if (step.purpose === 'warm-up') {
    const endMs = points.at(-1)?.timeMs ?? fromMs;
    const rows = WARM_UP_MIN.filter((minutes) => fromMs + minutes * 60_000 <= endMs + 5000).map((afterMin) => {
      const atMs = fromMs + afterMin * 60_000;
      const near = points.filter(({ timeMs }) => Math.abs(timeMs - atMs) <= 5000);
      const values = Object.fromEntries(
        channels.flatMap((channel) => {
          const list = near.flatMap((point) => point.values[channel] ?? []);
          return list.length === 0 ? [] : [[channel, list.reduce((sum, value) => sum + value, 0) / list.length]];
        }),
      );
      return { afterMin, values };
    });
    return { warmUp: rows };
  }
  return {};
}
