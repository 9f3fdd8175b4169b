/** Rules of thumb that the detector is measured against: a plain spread and the R-statistic. */
import type { Sample } from '../../shared/measurement/sample.ts';
import { bandOf, type Truth } from './settling-streams.ts';

export type Taken = { readonly takenS: number; readonly means: Partial<Truth> };
const channels = ['o2', 'co', 'stackTemperature'] as const;

function meansOfLast10s(samples: readonly Sample[], i: number): Truth {
  const sum = { o2: 0, co: 0, stackTemperature: 0 };
  let n = 0;
  for (let k = i; k >= 0 && samples[i]!.timeMs - samples[k]!.timeMs <= 10_000; k--) {
    for (const c of channels) sum[c] += samples[k]!.values[c]!;
    n++;
  }
  return { o2: sum.o2 / n, co: sum.co / n, stackTemperature: sum.stackTemperature / n };
}

function readingsWhen(samples: readonly Sample[], isSteady: (i: number) => boolean): Taken[] {
  const taken: Taken[] = [];
  let was = false;
  for (let i = 0; i < samples.length; i++) {
    const is = isSteady(i);
    if (is && !was) taken.push({ takenS: samples[i]!.timeMs / 1000, means: meansOfLast10s(samples, i) });
    was = is;
  }
  return taken;
}

/** Every channel's spread over the last 30 s at most two bands. */
export function maxMinRule(samples: readonly Sample[]): Taken[] {
  let from = 0;
  return readingsWhen(samples, (i) => {
    const now = samples[i]!;
    while (now.timeMs - samples[from]!.timeMs > 30_000) from++;
    if (now.timeMs - samples[0]!.timeMs < 30_000) return false;
    return channels.every((c) => {
      let low = Infinity;
      let high = -Infinity;
      for (let k = from; k <= i; k++) {
        low = Math.min(low, samples[k]!.values[c]!);
        high = Math.max(high, samples[k]!.values[c]!);
      }
      return high - low <= 2 * bandOf[c](now.values[c]!);
    });
  });
}

/** Step of the printout: the smallest difference between neighbours. */
function stepOf(samples: readonly Sample[], channel: (typeof channels)[number]): number {
  let step = Infinity;
  for (let i = 1; i < samples.length; i++) {
    const d = Math.abs(samples[i]!.values[channel]! - samples[i - 1]!.values[channel]!);
    if (d > 1e-6 && d < step) step = d;
  }
  return Number.isFinite(step) ? step : 0;
}

/**
 * R-statistic with filter constants 0.2/0.1/0.1, limit 1.6, held for 15 s. Under the variance of differences lies that of two
 * rounding errors (step^2 / 6): a printout coarser than the noise makes it exactly zero, and the statistic would be undefined.
 * @source Cao & Rhinehart, J. Process Control 5(6), 1995, 363-374
 */
export function rStatisticRule(samples: readonly Sample[]): Taken[] {
  const least = channels.map((c) => Math.max(stepOf(samples, c) ** 2 / 6, 1e-12));
  const state = channels.map(() => ({ filtered: Number.NaN, v: 0, d: 0, before: 0 }));
  let sinceMs: number | undefined;
  return readingsWhen(samples, (i) => {
    const now = samples[i]!;
    let steady = true;
    channels.forEach((c, k) => {
      const s = state[k]!;
      const x = now.values[c]!;
      if (Number.isNaN(s.filtered)) Object.assign(s, { filtered: x, before: x });
      s.v = 0.1 * (x - s.filtered) ** 2 + 0.9 * s.v;
      s.filtered = 0.2 * x + 0.8 * s.filtered;
      s.d = 0.1 * (x - s.before) ** 2 + 0.9 * s.d;
      s.before = x;
      if (i < 10 || ((2 - 0.2) * s.v) / Math.max(s.d, least[k]!) > 1.6) steady = false;
    });
    if (!steady) {
      sinceMs = undefined;
      return false;
    }
    sinceMs ??= now.timeMs;
    return now.timeMs - sinceMs >= 15_000;
  });
}
