import type { ChannelState } from '../measurement/state.ts';
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
  /** with the forecast, which costs more than all the rest */
  readonly detailed: boolean;
  readonly verdict: Verdict;
  readonly swingOf: (w: Watched, band: number) => Surge | undefined;
};

/** Where one channel stands after the last block. */
export function judge(w: Watched, { bands, nowMs, detailed, verdict, swingOf }: JudgeOptions): ChannelState {
  const previous = w.state;
  const base = (state: ChannelState['state'], more: Partial<ChannelState>): ChannelState => ({
    channel: w.channel,
    state,
    sinceMs: previous.state === state && previous.reason === more.reason ? previous.sinceMs : nowMs,
    timeMs: nowMs,
    band: bandAt(bands, w.channel, more.value ?? 0),
    ...more,
  });
  const measured = w.measured();
  const shown = measured === undefined ? {} : { value: measured };
  if (w.blocked) return base('absent', { reason: w.blocked });
  if (w.absent === 'impossible') return base('suspect', { ...shown, reason: w.absent });
  if (!w.seen || w.absent !== undefined) return base('absent', w.absent === undefined ? {} : { reason: w.absent });
  if (w.excluded) return base('suspect', { ...shown, reason: w.excluded });
  if (!w.tracker.running()) return base('moving', shown);
  const bank = w.tracker.bank;
  const { heading, headingSd, now } = bank.summary();
  const band = bandAt(bands, w.channel, heading);
  const settled = verdict === 'settled' || (verdict === 'stay' && previous.state === 'settled' && !bank.isOutside(now, band, STOPS));
  const far = heading - now;
  const half = 1.96 * headingSd;
  const known = {
    ...shown,
    estimate: now,
    band,
    headingFor: { value: heading, low: heading - half, high: heading + half },
    direction: settled ? 0 : Math.sign(far),
  };
  if (settled) return base('settled', known);
  const swing = swingOf(w, band);
  if (swing) {
    const { low, high, periodS } = swing;
    return base('surging', { ...shown, band, swing: { low, high, ...(periodS !== undefined && { periodS }) } });
  }
  const drifts = previous.state === 'drifting' ? STAYS_DRIFTING : DRIFTS;
  const slope = bank.slope(band, drifts);
  if (slope.probability > drifts)
    return base('drifting', { ...shown, estimate: now, band, direction: Math.sign(slope.perS), perMinute: 60 * slope.perS });
  const limit = Math.max(HONEST_BANDS * band, HONEST_PART * Math.abs(far)) * (previous.state === 'settling' ? STICKS : 1);
  if (half > limit) return base('moving', known);
  if (!detailed) return base('settling', known);
  return base('settling', { ...known, secondsLeft: secondsLeft(bank, band), forecast: forecastPoints(bank, nowMs) });
}
