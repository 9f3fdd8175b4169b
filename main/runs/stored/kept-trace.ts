/** What has been told to a trace, as numbers: told again in the same order it is the same trace to the last digit. */
import { channelIds, type ChannelId } from '../../../shared/measurement/channel.ts';
import type { Sample } from '../../../shared/measurement/sample.ts';
import type { Series } from '../../../shared/series/series.ts';
import type { RunTrace } from './run-trace.ts';

export interface TraceRecord {
  sample(sample: Sample): void;
  gap(): void;
  /** undefined when there is more than is kept */
  numbers(): Float64Array | undefined;
}

const FIRST = 1 << 16;
/** 64 MB: a day at ten a second has 5 million */
const MOST = 1 << 23;
/** the mark of a gap, where a sample has its time */
const GAP = -1;
/** bits of the channels that hold a value, then of those that are absent with a reason; both fit a double many times over */
const ABSENT = 2 ** 20;
const placeOf = new Map(channelIds.map((id, at) => [id, at]));

export function createTraceRecord(): TraceRecord {
  let numbers = new Float64Array(FIRST);
  let used = 0;
  let isTooMuch = false;
  const room = (more: number): void => {
    if (used + more <= numbers.length) return;
    if (numbers.length >= MOST) {
      isTooMuch = true;
      used = 0;
      return;
    }
    const larger = new Float64Array(numbers.length * 2);
    larger.set(numbers);
    numbers = larger;
  };
  return {
    sample({ timeMs, values, absent }) {
      room(2 + channelIds.length);
      const at = used;
      used += 2;
      let bits = 0;
      let from = 0;
      // in the order of the channels, which is the order in which they are told again
      for (let place = 0; place < channelIds.length; place++) {
        const value = values[channelIds[place] as ChannelId];
        if (value === undefined) continue;
        bits += 2 ** place;
        numbers[used++] = value;
        from++;
      }
      for (const channel in absent) {
        if (values[channel as ChannelId] === undefined) bits += ABSENT * 2 ** (placeOf.get(channel as ChannelId) ?? 0);
      }
      if (bits === 0 && from === 0) {
        used = at;
        return;
      }
      numbers[at] = timeMs;
      numbers[at + 1] = bits;
    },
    gap() {
      room(1);
      numbers[used++] = GAP;
    },
    numbers: () => (isTooMuch ? undefined : numbers.subarray(0, used)),
  };
}

/** @throws RangeError on what no record holds */
export function tellTrace(numbers: Float64Array, trace: Pick<RunTrace, 'seriesOf' | 'gap'>): void {
  const count = channelIds.length;
  /** by place, from the first value on */
  const lines: (Series | undefined)[] = channelIds.map(() => undefined);
  let at = 0;
  while (at < numbers.length) {
    const timeMs = numbers[at++] as number;
    if (timeMs === GAP) {
      trace.gap();
      continue;
    }
    if (at >= numbers.length) throw new RangeError('a record ends in the middle of a sample');
    const both = numbers[at++] as number;
    const held = both % ABSENT;
    const missing = Math.floor(both / ABSENT);
    for (let place = 0, left = held; left !== 0; place++, left >>>= 1) {
      if ((left & 1) === 0) continue;
      if (at >= numbers.length) throw new RangeError('a record ends in the middle of a sample');
      (lines[place] ??= trace.seriesOf(channelIds[place] as ChannelId)).append(timeMs, numbers[at++] as number);
    }
    if (missing !== 0) for (let place = 0; place < count; place++) if ((missing & (1 << place)) !== 0) lines[place]?.gap();
  }
}
