import type { ChannelId } from '../../measurement/channel.ts';
import type { LineRecipe } from '../../measurement/recipe.ts';
import type { AbsentReason } from '../../measurement/sample.ts';

/**
 * Numbers that instruments send when they have none.
 * @source SCPI-99 volume 1, 7.2 (9.9E37 infinity, -9.9E37, 9.91E37 not a number), from memory; the round ones: common practice
 */
const classic = new Map<number, AbsentReason>([
  [9.9e37, 'over-range'],
  [-9.9e37, 'under-range'],
  [9.91e37, 'not-a-number'],
  [1e38, 'over-range'],
  [-1e38, 'under-range'],
  [9999, 'over-range'],
  [99999, 'over-range'],
  [32767, 'over-range'],
  [65535, 'over-range'],
  [999.9, 'over-range'],
  [9999.9, 'over-range'],
  [99.99, 'over-range'],
  [99.9, 'over-range'],
  [-999, 'error'],
  [-9999, 'error'],
  [-99.9, 'error'],
  [-999.9, 'error'],
  [-99, 'error'],
  [-32768, 'error'],
  [-99.99, 'error'],
  [999, 'over-range'],
  [-1000, 'error'],
  [-273, 'error'],
  [8888, 'error'],
  [9999.99, 'over-range'],
  [999.99, 'over-range'],
  // the ends of 16 and 8 bits, as tenths or as they are
  [6553.5, 'over-range'],
  [3276.7, 'over-range'],
  [-3276.8, 'error'],
  [-127, 'error'],
  [-128, 'error'],
]);

/** no sentinel of the list is nearer to nought */
const LEAST_CLASSIC = 99;
export const classicSentinel = (value: number): AbsentReason | undefined =>
  value > -LEAST_CLASSIC && value < LEAST_CLASSIC ? undefined : classic.get(value);
/** Beyond this nothing is measured. */
const HUGE = 1e37;

/** The recipe's own sentinels for a channel, and the huge ones that nothing can mean. */
export function sentinelTest(own: LineRecipe['sentinels'], channel: ChannelId): (value: number) => AbsentReason | undefined {
  const list = own.filter((row) => row.channel === undefined || row.channel === channel);
  const huge = (value: number): AbsentReason => classic.get(value) ?? (value > 0 ? 'over-range' : 'under-range');
  if (list.length === 0) return (value) => (value >= HUGE || value <= -HUGE ? huge(value) : undefined);
  const means = new Map(list.map((row) => [row.value, row.means]));
  return (value) => means.get(value) ?? (value >= HUGE || value <= -HUGE ? huge(value) : undefined);
}

export type SentinelWatch = { seen(channel: ChannelId, value: number): { channel: ChannelId; value: number } | undefined };

/** Tells once when a channel has shown the same classic sentinel three times as if it were measured. */
export function createSentinelWatch(): SentinelWatch {
  const counts = new Map<string, number>();
  return {
    seen(channel, value) {
      if (!classic.has(value)) return undefined;
      const key = `${channel} ${value}`;
      const count = (counts.get(key) ?? 0) + 1;
      counts.set(key, count);
      return count === 3 ? { channel, value } : undefined;
    },
  };
}
