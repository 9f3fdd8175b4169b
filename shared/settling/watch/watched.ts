import type { SettlingChannel } from '../../measurement/channel.ts';
import type { Sample } from '../../measurement/sample.ts';
import type { ChannelState, StateReason } from '../../measurement/state.ts';
import { quantities } from '../../units/quantities.ts';
import { bandAt, defaultBands, type Bands } from '../../measurement/limits.ts';
import { createBlockHistory } from './block-history.ts';
import { createTracker } from '../channel-tracker.ts';
import { createDespike } from '../fits/despike.ts';
import type { KnownChannel } from '../../measurement/knowledge.ts';
import { createLastSecond } from './last-second.ts';
import { createQuantum } from '../fits/noise.ts';
import { createRestless } from './restless.ts';
import { createStuck } from './stuck.ts';
import type { Verdict } from '../verdict.ts';

/** Without a value for so long a channel counts as absent even if no reason was given. */
const BLANK_MS = 10_000;
/** One impossible value is dropped; so long a row of them makes the channel suspect. */
const IMPOSSIBLE_MS = 3000;

export type Block = {
  readonly mean: number;
  readonly squares: number;
  readonly count: number;
  readonly timeMs: number;
  readonly flat: boolean;
};
export type Watched = ReturnType<typeof createWatched>;

/** One channel on its way from samples to blocks, with what stands in the way of using it. */
export function createWatched(channel: SettlingChannel, bands: Bands, known?: KnownChannel) {
  // fields of one object are written in place, without a new number on the heap
  const open = { sum: 0.5, squares: 0.5, count: 0, timeSum: 0.5, origin: 0.5, lastValueMs: 0.5 };
  open.lastValueMs = 0;
  let impossibleMs: number | undefined;
  const [low, high] = quantities[channel].possible;
  const quantum = createQuantum();
  const stuck = createStuck();
  const lastSecond = createLastSecond();
  clear();
  const despike = createDespike((timeMs, value) => {
    // sums about the first value: digits are not lost to a large mean
    if (open.count === 0) open.origin = value;
    const x = value - open.origin;
    open.sum += x;
    open.squares += x * x;
    open.timeSum += timeMs;
    open.count++;
  });

  function clear(): void {
    open.sum = 0;
    open.squares = 0;
    open.count = 0;
    open.timeSum = 0;
  }

  const watched = {
    channel,
    tracker: createTracker(channel, known, channel === 'co' ? (ppm) => bandAt(bands, channel, ppm) / defaultBands.coPpm : undefined),
    history: createBlockHistory(),
    restless: createRestless(),
    quantum: quantum.value,
    seen: false,
    absent: undefined as StateReason | undefined,
    /** the instrument says that it is not measuring this now */
    blocked: undefined as StateReason | undefined,
    /** pattern that keeps the values out although they come */
    excluded: undefined as StateReason | undefined,
    shown: undefined as number | undefined,
    lastAlarmMs: -Infinity,
    state: { channel, state: 'absent', sinceMs: 0, timeMs: 0, band: bandAt(bands, channel, 0) } as ChannelState,
    verdict: 'stay' as Verdict,
    /** whether `state` carries the forecast already: it costs more than all the rest, so it is made when asked for */
    detailed: true,

    take(nowMs: number, sample: Sample): void {
      const value = sample.values[channel];
      if (value === undefined) {
        const reason = sample.absent?.[channel];
        // one empty field is a lost sample, not a channel that has gone
        const isLostSample = watched.seen && (reason === 'blank' || reason === 'not-a-number') && nowMs - open.lastValueMs <= BLANK_MS;
        if (isLostSample) return;
        if (reason !== undefined) watched.absent = reason;
        else if (watched.seen && nowMs - open.lastValueMs > BLANK_MS) watched.absent = 'blank';
        return;
      }
      watched.seen = true;
      if (!(value >= low && value <= high)) {
        impossibleMs ??= nowMs;
        if (nowMs - impossibleMs >= IMPOSSIBLE_MS) {
          watched.absent = 'impossible';
          watched.shown = value;
          lastSecond.reset();
          lastSecond.add(nowMs, value);
        }
        return;
      }
      impossibleMs = undefined;
      watched.absent = undefined;
      open.lastValueMs = nowMs;
      lastSecond.add(nowMs, value);
      quantum.add(value);
      stuck.add(nowMs, value, quantum.value());
      despike.add(nowMs, value, quantum.value());
    },
    /** what the instrument says: never despiked, never filtered */
    measured: (): number | undefined => lastSecond.mean(),
    stuck: stuck.is,
    block(): Block | undefined {
      const { sum, squares, count, timeSum, origin } = open;
      if (count === 0) return undefined;
      return {
        mean: origin + sum / count,
        squares: Math.max(0, squares - (sum * sum) / count),
        count,
        timeMs: timeSum / count,
        flat: squares < 1e-12 * count,
      };
    },
    clear,
    reset(): void {
      watched.tracker.reset();
      watched.history.reset();
      watched.restless.reset();
      despike.reset();
      stuck.reset();
      impossibleMs = undefined;
      clear();
    },
  };
  return watched;
}
