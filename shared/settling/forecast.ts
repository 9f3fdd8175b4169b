import type { Interval } from '../measurement/state.ts';
import { L } from './bank/bank-members.ts';
import type { Bank } from './bank/bank.ts';

const POINTS = 24;
const LONGEST_S = 1800;
/** The true constant lies somewhere between two of the grid, and there are more than two of them: about 12 % either way. */
const GRID_FACTORS = [
  [0.85, 0.2],
  [1, 0.6],
  [1.15, 0.2],
] as const;
/** No heading is known better than this part of the band, whatever one member believes: the draft wanders, the plant has more constants. */
const HEADING_SD_BANDS = 0.15;

/** One member's road: sensor value after `t` seconds, noise left out. */
function roadAt(bank: Bank, j: number, t: number, shift: number): number {
  const o = j * bank.fields;
  const H = bank.state[o]! + shift;
  const A = bank.state[o + 1]! - (bank.metal ? shift : 0);
  const S = bank.state[o + 2]!;
  const f = bank.firstS[j]! * Math.exp(bank.state[o + L]!);
  const s = bank.sensorS[j]!;
  const a = f > 0 ? Math.exp(-t / f) : 0;
  const e = Math.exp(-t / s);
  const away = bank.metal ? A : A - H;
  const d = f === 0 ? 0 : Math.abs(f - s) < 1e-6 * s ? (t / s) * e : (f / (f - s)) * (a - e);
  return H + d * away + (S - H) * e;
}

/** Seconds until one member stays within the band; bisection, since the last part of the road is monotone. */
function memberSeconds(bank: Bank, j: number, band: number, shift: number): number {
  const H = bank.state[j * bank.fields]! + shift;
  const inside = (t: number): boolean => Math.abs(roadAt(bank, j, t, shift) - H) <= band;
  let high = 4;
  while (high < LONGEST_S && !(inside(high) && inside(high * 1.5))) high *= 2;
  let low = high === 4 ? 0 : high / 2;
  for (let i = 0; i < 12; i++) {
    const middle = (low + high) / 2;
    if (inside(middle)) high = middle;
    else low = middle;
  }
  return high;
}

/**
 * A fair choice of members: at equal steps of the summed weight, in grid order (slow constant first), so that every constant that still
 * counts is there. Each stands for the same weight.
 */
function fairChoice(bank: Bank, most: number): number[] {
  const chosen: number[] = [];
  let sum = 0;
  for (let j = 0; j < bank.active(); j++) {
    sum += bank.weight[j]!;
    while (chosen.length < most && sum > (chosen.length + 0.5) / most) chosen.push(j);
  }
  return chosen;
}

/** Seconds until settled: weighted quantiles over the members, each at its heading and at steps to either side. */
export function secondsLeft(bank: Bank, band: number): Interval {
  const times: { t: number; w: number }[] = [];
  for (const j of fairChoice(bank, 40)) {
    const sd = Math.hypot(Math.sqrt(Math.max(bank.state[j * bank.fields + 4]!, 0)), HEADING_SD_BANDS * band);
    for (const [shift, part] of [
      [-2, 0.1],
      [-0.8, 0.25],
      [0, 0.3],
      [0.8, 0.25],
      [2, 0.1],
    ] as const) {
      const t = memberSeconds(bank, j, band, shift * sd);
      for (const [factor, share] of GRID_FACTORS) times.push({ t: t * factor, w: part * share });
    }
  }
  times.sort((x, y) => x.t - y.t);
  const total = times.reduce((sum, x) => sum + x.w, 0);
  const quantile = (q: number): number => {
    let sum = 0;
    for (const x of times) {
      sum += x.w;
      if (sum >= q * total) return x.t;
    }
    return times.at(-1)!.t;
  };
  return { value: quantile(0.5), low: quantile(0.025), high: quantile(0.975) };
}

/** The road to the heading, mixture mean, up to 24 points over about the time that it still takes. */
export function forecastPoints(bank: Bank, nowMs: number): { timeMs: number; value: number }[] {
  const members = fairChoice(bank, 16);
  const mean = (of: (j: number) => number): number => members.reduce((sum, j) => sum + of(j), 0) / Math.max(1, members.length);
  const reach = mean((j) => (bank.metal ? 3 * bank.firstS[j]! : 5 * bank.sensorS[j]! + 3 * bank.firstS[j]!));
  return Array.from({ length: POINTS }, (_, i) => {
    const t = (reach * i) / (POINTS - 1);
    const value = mean((j) => roadAt(bank, j, t, 0));
    return { timeMs: Math.round(nowMs + 1000 * t), value };
  });
}
