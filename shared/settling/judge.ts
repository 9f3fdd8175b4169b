import type { ChannelState, StateName, StateReason } from '../measurement/state.ts';
import { bandAt, type Bands } from '../measurement/limits.ts';
import { forecastPoints, secondsLeft } from './forecast.ts';
import type { Surge } from './watch/restless.ts';
import type { Watched } from './watch/watched.ts';
import type { Verdict } from './verdict.ts';

/** P(still to come > band) above which a channel stops being settled. */
const STOPS = 0.2;
/** Probability of a slope of more than a band a minute above which a channel drifts, and below which it no longer does. */
const DRIFTS = 0.8;
const STAYS_DRIFTING = 0.5;
/** A forecast is shown when its half-width is below so many bands or so much of the way still to go; wider, once it is shown. */
const HONEST_BANDS = 4;
const HONEST_PART = 0.5;
const STICKS = 1.5;

export type JudgeOptions = {
  readonly bands: Bands;
  readonly nowMs: number;
  /** with its figures and the forecast, which cost more than all the rest; without them it is known which state it is and since when */
  readonly detailed: boolean;
  readonly verdict: Verdict;
  readonly swingOf: (w: Watched, band: number) => Surge | undefined;
};

/** Where one channel stands after the last block. */
export function judge(w: Watched, { bands, nowMs, detailed, verdict, swingOf }: JudgeOptions): ChannelState {
  const previous = w.state;
  const is = (state: StateName, band: number, reason?: StateReason): ChannelState => {
    const sinceMs = previous.state === state && previous.reason === reason ? previous.sinceMs : nowMs;
    const { channel } = w;
    return reason === undefined
      ? { channel, state, sinceMs, timeMs: nowMs, band }
      : { channel, state, sinceMs, timeMs: nowMs, band, reason };
  };
  const shown = (): { value?: number } => {
    const value = w.measured();
    return value === undefined ? {} : { value };
  };
  const asMeasured = (state: StateName, reason?: StateReason): ChannelState => {
    const measured = shown();
    return { ...is(state, bandAt(bands, w.channel, measured.value ?? 0), reason), ...measured };
  };
  if (w.blocked) return is('absent', bandAt(bands, w.channel, 0), w.blocked);
  if (w.absent === 'impossible') return asMeasured('suspect', w.absent);
  if (!w.seen || w.absent !== undefined) return is('absent', bandAt(bands, w.channel, 0), w.absent);
  if (w.excluded) return asMeasured('suspect', w.excluded);
  if (!w.tracker.running()) return asMeasured('moving');
  const bank = w.tracker.bank;
  const { heading, headingSd, now } = bank.summary();
  const band = bandAt(bands, w.channel, heading);
  const far = heading - now;
  const half = 1.96 * headingSd;
  const known = (state: StateName): ChannelState => {
    if (!detailed) return is(state, band);
    const headingFor = { value: heading, low: heading - half, high: heading + half };
    return { ...is(state, band), ...shown(), estimate: now, headingFor, direction: state === 'settled' ? 0 : Math.sign(far) };
  };
  if (verdict === 'settled' || (verdict === 'stay' && previous.state === 'settled' && !bank.isOutside(now, band, STOPS)))
    return known('settled');
  const swing = swingOf(w, band);
  if (swing) {
    if (!detailed) return is('surging', band);
    const { low, high, periodS } = swing;
    return { ...is('surging', band), ...shown(), swing: { low, high, ...(periodS !== undefined && { periodS }) } };
  }
  const drifts = previous.state === 'drifting' ? STAYS_DRIFTING : DRIFTS;
  const { probability, perS } = bank.slope(band, drifts);
  if (probability > drifts) {
    if (!detailed) return is('drifting', band);
    return { ...is('drifting', band), ...shown(), estimate: now, direction: Math.sign(perS), perMinute: 60 * perS };
  }
  const limit = Math.max(HONEST_BANDS * band, HONEST_PART * Math.abs(far)) * (previous.state === 'settling' ? STICKS : 1);
  if (half > limit) return known('moving');
  if (!detailed) return is('settling', band);
  return { ...known('settling'), secondsLeft: secondsLeft(bank, band), forecast: forecastPoints(bank, nowMs) };
}
