import type { BenchChannel } from '../instrument.ts';

/** A gas of the plan, or fresh air, as the channels should read it. */
export type Level = { readonly key: string; readonly values: Partial<Record<BenchChannel, number>> };

/** Farther than this part of the scale is no gas of the plan. A weak cell still is nearest to its own gas. */
const FARTHEST = 0.35;

/** Least scale, in the unit of the channel: a plan may have no gas at all for a channel, and its noise in fresh air is rest all the same (own). */
const LEAST: Readonly<Record<BenchChannel, number>> = { o2: 5, co: 200, no: 200, no2: 50, so2: 200, co2: 5 };

/** What one part of the scale is, per channel: the largest value that any gas of the plan has. */
export const levelScales = (channels: readonly BenchChannel[], levels: readonly Level[]): number[] =>
  channels.map((channel) => Math.max(LEAST[channel], ...levels.map(({ values }) => Math.abs(values[channel] ?? 0))));

/**
 * The gas whose values lie nearest to what is read; the farthest channel decides.
 *
 * @param means in the order of `channels`
 * @returns undefined when no gas is near
 */
export function nearestLevel(
  channels: readonly BenchChannel[],
  levels: readonly Level[],
  means: readonly (number | undefined)[],
): string | undefined {
  const scales = levelScales(channels, levels);
  let best: { key: string; distance: number } | undefined;
  for (const level of levels) {
    const distance = distanceTo(level, channels, scales, means);
    if (distance !== undefined && (best === undefined || distance < best.distance)) best = { key: level.key, distance };
  }
  return best !== undefined && best.distance < FARTHEST ? best.key : undefined;
}

/** @returns part of the scale; undefined when no channel can be compared */
function distanceTo(
  { values }: Level,
  channels: readonly BenchChannel[],
  scales: readonly number[],
  means: readonly (number | undefined)[],
): number | undefined {
  let distance: number | undefined;
  channels.forEach((channel, i) => {
    const reference = values[channel];
    const mean = means[i];
    if (reference === undefined || mean === undefined) return;
    distance = Math.max(distance ?? 0, Math.abs(mean - reference) / (scales[i] as number));
  });
  return distance;
}
