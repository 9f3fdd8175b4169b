import type { SettlingChannel } from '../measurement/channel.ts';
import { createBank } from './bank.ts';
import { createChangeAlarm } from './change-alarm.ts';
import { grids } from './grids.ts';
import { createNoise } from './noise.ts';

/** What one channel is like before anything is known; inner units. */
type Prior = {
  /** sd of a block mean, and its smallest believable value */
  readonly noise: number;
  readonly least: number;
  /** at the start: how far the heading and the slow part may be away */
  readonly heading: number;
  readonly slow: number;
  /** a change of this channel's own: base, and part of the deviation seen */
  readonly jump: number;
  /** a change seen in another channel: how far this one may move */
  readonly echo: number;
};

const priors: Record<SettlingChannel, Prior> = {
  o2: { noise: 0.05, least: 0.006, heading: 2, slow: 0, jump: 1, echo: 0.3 },
  co: { noise: 2, least: 0.25, heading: 60, slow: 0, jump: 40, echo: 15 },
  stackTemperature: { noise: 0.3, least: 0.03, heading: 15, slow: 40, jump: 15, echo: 8 },
  airTemperature: { noise: 0.1, least: 0.03, heading: 2, slow: 0, jump: 2, echo: 0 },
};

const KEPT = 16;

export type Tracker = ReturnType<typeof createTracker>;

/** Follows one channel block by block: its bank, its noise, its change alarm with back-dating. */
export function createTracker(channel: SettlingChannel) {
  const prior = priors[channel];
  const bank = createBank(grids[channel]);
  const noise = createNoise(prior.noise, 40);
  const alarm = createChangeAlarm({ drift: 0.75, limit: 5, clip: 4 });
  /** the last blocks, for back-dating */
  const times = new Float64Array(KEPT);
  const values = new Float64Array(KEPT);
  const variances = new Float64Array(KEPT);
  let index = -1;
  let first = 0;
  let running = false;

  function blockVariance(): number {
    const sd = noise.sd();
    return Math.max(sd * sd, prior.least * prior.least);
  }

  function begin(timeS: number, value: number, forget: boolean): void {
    bank.start(value, prior.heading, prior.slow, blockVariance(), forget);
    alarm.reset();
    index++;
    first = index;
    running = true;
    times[index % KEPT] = timeS;
    values[index % KEPT] = value;
    variances[index % KEPT] = blockVariance();
    bank.keep(index);
  }

  /** Puts a change before block `from` (bounded by what is kept) and goes through the blocks since again. */
  function rewind(from: number, sd: number, own: boolean): void {
    const start = Math.max(from - 1, first, index - KEPT + 1);
    bank.restore(start);
    bank.widen(sd, own);
    bank.keep(start);
    for (let i = start + 1; i <= index; i++) {
      bank.step(times[i % KEPT]! - times[(i - 1) % KEPT]!, values[i % KEPT]!, variances[i % KEPT]!);
      bank.keep(i);
    }
  }

  return {
    channel,
    bank,
    running: () => running,
    noiseSd: () => Math.sqrt(blockVariance()),
    quantum: noise.quantum,
    pressure: alarm.pressure,
    /** Takes one block mean. @returns the time (s) at which a change began, when this block raises an alarm */
    push(timeS: number, value: number, resolution: number): number | undefined {
      noise.add(value);
      if (!running) {
        begin(timeS, value, false);
        return undefined;
      }
      const r = Math.max(blockVariance(), (resolution * resolution) / 12);
      const dt = timeS - times[index % KEPT]!;
      const { mean, variance } = bank.step(dt, value, r);
      const z = (value - mean) / Math.sqrt(variance);
      index++;
      times[index % KEPT] = timeS;
      values[index % KEPT] = value;
      variances[index % KEPT] = r;
      bank.keep(index);
      const back = alarm.push(z);
      if (back === 0) return undefined;
      alarm.reset();
      const from = index - back + 1;
      const at = times[Math.max(from, first, index - KEPT + 1) % KEPT]!;
      rewind(from, prior.jump + 1.5 * Math.abs(value - mean), true);
      return at;
    },
    /** Another channel has changed at `timeS`, or a mark says so: this one may be about to. */
    mayChange(timeS: number, own: boolean): void {
      if (!running) return;
      let from = index + 1;
      while (from > Math.max(first + 1, index - KEPT + 2) && times[(from - 1) % KEPT]! >= timeS) from--;
      rewind(from, own ? prior.jump : prior.echo, false);
    },
    reset(): void {
      running = false;
      noise.reset();
      alarm.reset();
    },
  };
}
