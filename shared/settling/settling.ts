import { settlingChannels, type SettlingChannel } from '../measurement/channel.ts';
import type { Mark } from '../measurement/mark.ts';
import type { Sample } from '../measurement/sample.ts';
import type { ChannelState, Reading, StateReason } from '../measurement/state.ts';
import { quantities } from '../units/quantities.ts';
import { bandAt, defaultBands, type Bands } from './bands.ts';
import { createBlockHistory } from './block-history.ts';
import { createTracker, type Tracker } from './channel-tracker.ts';
import { createDespike } from './despike.ts';
import { createFreshAir } from './fresh-air.ts';
import { createQuantum } from './noise.ts';
import { createOffers, type OfferInput } from './offers.ts';
import { forecastPoints, secondsLeft } from './forecast.ts';

export type SettlingMode = 'own' | 'lab' | 'field';
export type SettlingOptions = {
  readonly bands?: Partial<Bands>;
  readonly typedAirC?: number;
  readonly mode?: SettlingMode;
  /** channels that the instrument has; learned from the stream when absent */
  readonly expected?: readonly SettlingChannel[];
};
export type SettlingUpdate = { readonly changed: readonly ChannelState[]; readonly readings: readonly Reading[] };
export interface Settling {
  /** samples in time order */
  push(sample: Sample): SettlingUpdate;
  /** an adjustment is a change whose time is known, confirmed when the move is seen; may arrive late */
  mark(mark: Mark): SettlingUpdate;
  /** unplugged, suspended: nothing joins over it */
  gap(timeMs: number): SettlingUpdate;
  /** for display only: turns to silent when lines stay away; never changes later readings */
  tick(timeMs: number): SettlingUpdate;
  states(): readonly ChannelState[];
  /** being offered now, revised while the stretch lasts */
  openReading(): Reading | undefined;
  /** means of the last 10 s, whatever the state */
  takeByHand(timeMs: number): Reading | undefined;
}

const BLOCK_MS = 2000;
const GAP_MS = 30_000;
const LOOK_BACK_MS = 10_000;
/** Long enough for a sampling line's dead time: after a change in one channel the others may still be about to move. */
const DEAD_TIME_MS = 12_000;

type Watched = {
  readonly channel: SettlingChannel;
  readonly tracker: Tracker;
  readonly history: ReturnType<typeof createBlockHistory>;
  readonly despike: ReturnType<typeof createDespike>;
  readonly quantum: ReturnType<typeof createQuantum>;
  sum: number;
  sumSquares: number;
  count: number;
  timeSum: number;
  origin: number;
  seen: boolean;
  lastValueMs: number;
  absent: StateReason | undefined;
  state: ChannelState;
  /** whether `state` carries the forecast already: it costs more than all the rest, so it is made when asked for */
  detailed: boolean;
  lastAlarmMs: number;
  excluded: StateReason | undefined;
  shown: number;
};

export function createSettling(options: SettlingOptions = {}): Settling {
  const bands: Bands = { ...defaultBands, ...options.bands };
  const offers = createOffers({ bands, typedAirC: options.typedAirC });
  const air = createFreshAir();
  let lastAirMs = -Infinity;
  let nowMs = 0;
  let blockStartMs: number | undefined;
  let lastSampleMs: number | undefined;
  let periodMs = 1000;
  let silent = false;

  const watched: Watched[] = settlingChannels.map((channel) => {
    const w: Watched = {
      channel,
      tracker: createTracker(channel),
      quantum: createQuantum(),
      history: createBlockHistory(),
      despike: createDespike((timeMs, value) => {
        if (w.count === 0) w.origin = value;
        const x = value - w.origin;
        w.sum += x;
        w.sumSquares += x * x;
        w.timeSum += timeMs;
        w.count++;
      }),
      sum: 0,
      sumSquares: 0,
      count: 0,
      timeSum: 0,
      origin: 0,
      seen: false,
      lastValueMs: 0,
      absent: undefined,
      state: { channel, state: 'absent', sinceMs: 0, timeMs: 0, band: bandAt(bands, channel, 0) },
      detailed: true,
      lastAlarmMs: -Infinity,
      excluded: undefined,
      shown: 0,
    };
    return w;
  });

  const typedAir = (w: Watched): boolean => w.channel === 'airTemperature' && options.typedAirC !== undefined && !w.seen;
  const wanted = (w: Watched): boolean => (options.expected ? options.expected.includes(w.channel) : w.seen) && !typedAir(w);

  /** One state object per channel and block; kept when nothing of note has changed. */
  function judge(w: Watched, detailed: boolean): ChannelState {
    const previous = w.state;
    const base = (state: ChannelState['state'], more: Partial<ChannelState>): ChannelState => ({
      channel: w.channel,
      state,
      sinceMs: previous.state === state && previous.reason === more.reason ? previous.sinceMs : nowMs,
      timeMs: nowMs,
      band: bandAt(bands, w.channel, more.value ?? 0),
      ...more,
    });
    if (typedAir(w)) return base('settled', { value: options.typedAirC!, reason: 'typed' });
    if (!w.seen || w.absent !== undefined) {
      const impossible = w.absent === 'impossible';
      return base(impossible ? 'suspect' : 'absent', w.absent === undefined ? {} : { reason: w.absent });
    }
    if (w.excluded) return base('suspect', { value: w.shown, reason: w.excluded });
    if (!w.tracker.running()) return base('moving', {});
    const bank = w.tracker.bank;
    const { heading, headingSd, now } = bank.summary();
    const band = bandAt(bands, w.channel, heading);
    const outside = bank.probabilityOutside(now, band);
    const settled = outside < (previous.state === 'settled' ? 0.2 : 0.05);
    const far = heading - now;
    const headingFor = { value: heading, low: heading - 1.96 * headingSd, high: heading + 1.96 * headingSd };
    const direction = settled ? 0 : Math.sign(far);
    if (settled) return base('settled', { value: now, band, headingFor, direction });
    const honest = 1.96 * headingSd < Math.max(4 * band, 0.5 * Math.abs(far));
    if (!honest) return base('moving', { value: now, band, headingFor, direction });
    if (!detailed) return base('settling', { value: now, band, headingFor, direction });
    return base('settling', {
      value: now,
      band,
      headingFor,
      direction,
      secondsLeft: secondsLeft(bank, band),
      forecast: forecastPoints(bank, nowMs),
    });
  }

  function inDetail(w: Watched): ChannelState {
    if (!w.detailed) w.state = judge(w, true);
    w.detailed = true;
    return w.state;
  }

  function closeBlock(): SettlingUpdate {
    const startMs = blockStartMs!;
    blockStartMs = undefined;
    let changedAt: number | undefined;
    const meanOf = (channel: SettlingChannel): number | undefined => {
      const w = watched.find((each) => each.channel === channel)!;
      return w.count > 0 ? w.origin + w.sum / w.count : undefined;
    };
    const o2Tracker = watched[0]!.tracker;
    const { heading: o2Heading, headingSd: o2Sd } = o2Tracker.bank.summary();
    const before = air.state();
    const airNow = air.block(meanOf('o2'), meanOf('stackTemperature'), o2Tracker.running() ? o2Heading : 0, o2Sd);
    if (before !== 'none' && airNow === 'none') lastAirMs = nowMs;
    for (const w of watched) {
      w.excluded =
        airNow !== 'none' && w.channel !== 'airTemperature' && (w.channel !== 'stackTemperature' || airNow === 'probe-out')
          ? airNow
          : undefined;
      if (w.count === 0) continue;
      const mean = w.origin + w.sum / w.count;
      const timeMs = w.timeSum / w.count;
      const count = w.count;
      const squares = Math.max(0, w.sumSquares - (w.sum * w.sum) / count);
      const flat = w.sumSquares < 1e-12 * count;
      w.sum = 0;
      w.sumSquares = 0;
      w.timeSum = 0;
      w.count = 0;
      if (w.excluded) {
        w.tracker.pause(nowMs / 1000);
        w.history.reset();
        w.shown = mean;
        continue;
      }
      w.history.add(startMs, nowMs, mean, squares, count);
      const at = w.tracker.push(timeMs / 1000, mean, w.quantum.value(), count, flat);
      if (at === undefined) continue;
      w.lastAlarmMs = nowMs;
      if (w.channel !== 'airTemperature') changedAt = Math.min(changedAt ?? Infinity, at);
    }
    if (changedAt !== undefined) {
      for (const w of watched) if (w.lastAlarmMs !== nowMs && wanted(w)) w.tracker.mayChange(changedAt, false);
    }
    const changed: ChannelState[] = [];
    for (const w of watched) {
      const next = judge(w, false);
      const differs = next.state !== w.state.state || next.reason !== w.state.reason;
      w.state = differs ? judge(w, true) : next;
      w.detailed = differs;
      if (differs) changed.push(w.state);
    }
    const newest = Math.max(...watched.map((w) => w.lastAlarmMs));
    const input: OfferInput[] = [];
    for (const w of watched) {
      if (!wanted(w)) continue;
      const running = w.tracker.running() && w.absent === undefined && !w.excluded;
      const mean = w.history.meanSince(nowMs - LOOK_BACK_MS - 1);
      const { heading } = w.tracker.bank.summary();
      const band = bandAt(bands, w.channel, mean ?? 0);
      const usable =
        running && mean !== undefined && nowMs - (w.history.since(nowMs - LOOK_BACK_MS - 1) ?? nowMs) >= LOOK_BACK_MS - BLOCK_MS;
      input.push({
        channel: w.channel,
        history: w.history,
        mean: mean ?? 0,
        heading,
        band,
        risk: usable ? w.tracker.bank.probabilityOutside(mean, 1.25 * band) : 1,
        surelyLeft: (kept) => running && 1 - w.tracker.bank.probabilityOutside(kept, band) < 0.05,
        pressure: w.tracker.pressure(),
        waiting: newest > w.lastAlarmMs && nowMs - newest < DEAD_TIME_MS,
        lastAlarmMs: w.lastAlarmMs,
      });
    }
    return { changed, readings: offers.block(nowMs, input) };
  }

  function reset(timeMs: number): Reading[] {
    const ended = offers.end(timeMs);
    for (const w of watched) {
      w.tracker.reset();
      w.history.reset();
      w.despike.reset();
      w.count = 0;
      w.sum = 0;
      w.sumSquares = 0;
      w.timeSum = 0;
    }
    air.reset();
    blockStartMs = undefined;
    return ended;
  }

  function take(sample: Sample): void {
    const measuring = sample.state === undefined || sample.state === 'measuring';
    for (const w of watched) {
      const value = sample.values[w.channel];
      if (value === undefined || !measuring) {
        const reason = sample.absent?.[w.channel];
        w.absent = !measuring ? 'not-measuring' : (reason ?? (nowMs - w.lastValueMs > 10_000 ? 'blank' : w.absent));
        continue;
      }
      w.seen = true;
      const [low, high] = quantities[w.channel].possible;
      if (!(value >= low && value <= high)) {
        w.absent = 'impossible';
        continue;
      }
      w.absent = undefined;
      w.lastValueMs = nowMs;
      w.quantum.add(value);
      w.despike.add(nowMs, value, w.quantum.value());
    }
  }

  return {
    push(sample) {
      let update: SettlingUpdate = { changed: [], readings: [] };
      const ended: Reading[] = [];
      silent = false;
      if (lastSampleMs !== undefined) {
        const dt = sample.timeMs - lastSampleMs;
        if (dt > GAP_MS) ended.push(...reset(lastSampleMs));
        else if (dt >= 0) periodMs += (Math.min(dt, 5000) - periodMs) * 0.05;
        if (blockStartMs !== undefined && sample.timeMs - blockStartMs >= BLOCK_MS) update = closeBlock();
      }
      lastSampleMs = sample.timeMs;
      nowMs = Math.max(nowMs, sample.timeMs);
      blockStartMs ??= nowMs;
      take(sample);
      return { changed: update.changed, readings: [...ended, ...update.readings] };
    },
    mark(mark) {
      if (mark.body.kind !== 'adjustment') return { changed: [], readings: [] };
      for (const w of watched) if (w.channel !== 'airTemperature') w.tracker.mayChange(mark.timeMs / 1000, true);
      offers.marked(mark.timeMs);
      return { changed: [], readings: [] };
    },
    gap: (timeMs) => ({ changed: [], readings: reset(timeMs) }),
    tick(timeMs) {
      const late = lastSampleMs !== undefined && timeMs - lastSampleMs > Math.max(3 * periodMs, 2000);
      if (!late || silent) return { changed: [], readings: [] };
      silent = true;
      return {
        changed: watched
          .filter(wanted)
          .map((w) => ({ channel: w.channel, state: 'silent', sinceMs: timeMs, timeMs, band: w.state.band, reason: 'no-lines' })),
        readings: [],
      };
    },
    states: () =>
      watched
        .filter((w) => wanted(w) || typedAir(w))
        .map((w) =>
          silent && !typedAir(w)
            ? { channel: w.channel, state: 'silent', sinceMs: w.state.timeMs, timeMs: nowMs, band: w.state.band, reason: 'no-lines' }
            : inDetail(w),
        ),
    openReading: () => offers.open(),
    takeByHand: (timeMs) =>
      offers.byHand(
        timeMs,
        watched.filter(wanted).map((w) => ({ channel: w.channel, history: w.history, settled: w.state.state === 'settled' })),
      ),
  };
}
