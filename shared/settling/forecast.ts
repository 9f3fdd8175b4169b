import type { Interval } from '../measurement/state.ts';
import type { Bank } from './bank.ts';

const POINTS = 24;
const LONGEST_S = 1800;

/** One member's road: sensor value after `t` seconds, noise left out. */
function roadAt(bank: Bank, j: number, t: number, shift: number): number {
  const o = j * bank.fields;
  const H = bank.state[o]! + shift;
  const A = bank.state[o + 1]! - (bank.metal ? shift : 0);
  const S = bank.state[o + 2]!;
  const f = bank.firstS[j]!;
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

/** Members that matter, with their weight. */
function heaviest(bank: Bank, most: number): number[] {
  const order = Array.from(bank.weight.keys())
    .slice(0, bank.active())
    .sort((i, k) => bank.weight[k]! - bank.weight[i]!);
  return order.slice(0, most);
}

/** Seconds until settled: weighted quantiles over the members, each at its heading and 1.2 sd to either side. */
export function secondsLeft(bank: Bank, band: number): Interval {
  const times: { t: number; w: number }[] = [];
  for (const j of heaviest(bank, 24)) {
    const sd = Math.sqrt(Math.max(bank.state[j * bank.fields + 4]!, 0));
    for (const [shift, part] of [
      [-1.5, 0.15],
      [-0.6, 0.2],
      [0, 0.3],
      [0.6, 0.2],
      [1.5, 0.15],
    ] as const) {
      times.push({ t: memberSeconds(bank, j, band, shift * sd), w: part * bank.weight[j]! });
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
  const members = heaviest(bank, 12);
  const total = members.reduce((sum, j) => sum + bank.weight[j]!, 0);
  const reach =
    members.reduce((sum, j) => sum + bank.weight[j]! * (bank.metal ? 3 * bank.firstS[j]! : 5 * bank.sensorS[j]! + 3 * bank.firstS[j]!), 0) /
    total;
  return Array.from({ length: POINTS }, (_, i) => {
    const t = (reach * i) / (POINTS - 1);
    const value = members.reduce((sum, j) => sum + bank.weight[j]! * roadAt(bank, j, t, 0), 0) / total;
    return { timeMs: Math.round(nowMs + 1000 * t), value };
  });
}
