/** Plausible figures for looking at the window without a host: first-order answers to air settings. No physics is claimed. */
import type { SettlingChannel } from '../../../shared/measurement/channel.ts';
import type { Sample } from '../../../shared/measurement/sample.ts';
import type { ChannelState } from '../../../shared/measurement/state.ts';

export type FakeTurn = { atMs: number; shutter: number; band: number };
type Course = { deadMs: number; tauMs: number; band: number; noise: number; digits: number; endOf: (turn: FakeTurn) => number };

const courses: Record<SettlingChannel, Course> = {
  o2: { deadMs: 5000, tauMs: 9000, band: 0.2, noise: 0.04, digits: 1, endOf: ({ shutter }) => 2.7 + (shutter - 3.5) * 1.75 },
  co: {
    deadMs: 5000,
    tauMs: 16_000,
    band: 10,
    noise: 2,
    digits: 0,
    endOf: ({ shutter }) => (shutter < 4.5 ? 22 + (4 - shutter) * 130 : 13 + (shutter - 4.75) * 8),
  },
  stackTemperature: { deadMs: 3000, tauMs: 150_000, band: 2, noise: 0.15, digits: 1, endOf: ({ shutter }) => 205 + (shutter - 3.5) * 9.6 },
  airTemperature: { deadMs: 0, tauMs: 1000, band: 1, noise: 0.06, digits: 1, endOf: () => 21.2 },
};

/** A repeatable stand-in for noise: same time, same channel, same figure. */
const wobble = (seed: number): number => {
  const x = Math.sin(seed * 12.9898) * 43758.5453;
  return (x - Math.floor(x)) * 2 - 1;
};

export const settingAt = (turns: readonly FakeTurn[], timeMs: number): FakeTurn =>
  turns.findLast(({ atMs }) => atMs <= timeMs) ?? (turns[0] as FakeTurn);

function trueValue(channel: SettlingChannel, turns: readonly FakeTurn[], timeMs: number): number {
  const { deadMs, tauMs, endOf } = courses[channel];
  let value = endOf(turns[0] as FakeTurn);
  for (const [index, turn] of turns.entries()) {
    const start = turn.atMs + (index === 0 ? 0 : deadMs);
    if (timeMs < start) break;
    const until = Math.min(timeMs, (turns[index + 1]?.atMs ?? Infinity) + deadMs);
    value = endOf(turn) + (value - endOf(turn)) * Math.exp(-(until - start) / tauMs);
  }
  return value;
}

export function sampleAt(turns: readonly FakeTurn[], timeMs: number): Sample {
  const values: Sample['values'] = {};
  (Object.keys(courses) as SettlingChannel[]).forEach((channel, index) => {
    const { noise, digits } = courses[channel];
    values[channel] = Number((trueValue(channel, turns, timeMs) + wobble(timeMs / 1000 + index * 7.7) * noise * 1.6).toFixed(digits));
  });
  return { timeMs, values };
}

/** Settled = the change still to come is inside the band, told from the known course. */
export function stateAt(channel: SettlingChannel, turns: readonly FakeTurn[], timeMs: number): ChannelState {
  const { band, tauMs, deadMs, endOf } = courses[channel];
  const turn = settingAt(turns, timeMs);
  const end = endOf(turn);
  const value = trueValue(channel, turns, timeMs);
  const settledAt = settledFrom(channel, turns, turn, timeMs);
  const base = { channel, timeMs, value, band, direction: Math.sign(end - value) };
  if (settledAt !== undefined)
    return { ...base, state: 'settled', sinceMs: settledAt, headingFor: { value: end, low: end - band * 0.5, high: end + band * 0.5 } };
  if (timeMs - turn.atMs < deadMs + 4000) return { ...base, state: 'moving', sinceMs: turn.atMs };
  const left = (tauMs / 1000) * Math.log(Math.abs(end - value) / band);
  const steps = Array.from({ length: 24 }, (_, index) => timeMs + (index + 1) * Math.min(12_000, (left * 1000) / 16));
  return {
    ...base,
    state: 'settling',
    sinceMs: turn.atMs + deadMs + 4000,
    headingFor: { value: end, low: end - band, high: end + band },
    secondsLeft: { value: left, low: left * 0.8, high: left * 1.3 },
    forecast: [timeMs, ...steps]
      .slice(0, 24)
      .map((time) => ({ timeMs: time, value: end + (value - end) * Math.exp(-(time - timeMs) / tauMs) })),
  };
}

/** When this channel came to rest in this turn; undefined when it has not by `timeMs`. */
export function settledFrom(channel: SettlingChannel, turns: readonly FakeTurn[], turn: FakeTurn, timeMs: number): number | undefined {
  const { band, endOf } = courses[channel];
  for (let time = turn.atMs + 9000; time <= timeMs; time += 2000) {
    if (Math.abs(trueValue(channel, turns, time) - endOf(turn)) <= band) return time;
  }
  return turn.atMs === 0 && timeMs >= 0 ? 0 : undefined;
}
