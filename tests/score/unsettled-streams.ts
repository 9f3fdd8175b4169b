/**
 * Streams that do not settle, or only late: steady slopes, slopes that change, slopes after a rest, long tails, surges, stairs and random swings.
 * Written from the phenomena alone, with no look at how the detector judges them. Half of them end in a true rest. What moves is one channel, two, or
 * all three. The noise-free course is what a reading is judged against.
 */
import type { Sample } from '../../shared/measurement/sample.ts';
import { bandOf } from './settling-streams.ts';
import { createRandom } from './stream-random.ts';

export const unsettledKinds = ['ramp', 'two-slopes', 'ramp-after-rest', 'tail', 'surge', 'stairs', 'swings'] as const;
export type UnsettledKind = (typeof unsettledKinds)[number];
type Quantity = keyof typeof bandOf;
export const scoredChannels = ['o2', 'co', 'stackTemperature'] as const;

export type UnsettledStream = {
  readonly seed: number;
  readonly kind: UnsettledKind;
  readonly samples: Sample[];
  /** noise-free course of each channel, one value every `STEP_S` */
  readonly truth: Record<Quantity, Float64Array>;
  readonly movers: readonly Quantity[];
  /** s from which on all channels stay within their band of where they end; undefined when they never do for 60 s */
  readonly restFromS: number | undefined;
  /** the stretches that are a rest of 60 s or more, before the move and after it */
  readonly rests: readonly { readonly fromS: number; readonly toS: number }[];
};

export const STEP_S = 0.5;
type Random = ReturnType<typeof createRandom>;
/** offset from the level over time, in bands, from 0 s to `lengthS`; still from `endS` on */
type Course = { readonly at: (t: number) => number; readonly endS: number };

/** Bands per minute: from what is just no rest to what nobody overlooks. */
const slopeOf = (r: Random): number => (r.chance(0.5) ? 1 : -1) * r.log(1.6, 12);

function courseOf(kind: UnsettledKind, r: Random, beginS: number, endS: number): Course {
  switch (kind) {
    case 'ramp':
    case 'ramp-after-rest': {
      const perS = slopeOf(r) / 60;
      return { at: (t) => perS * (Math.min(Math.max(t, beginS), endS) - beginS), endS };
    }
    case 'two-slopes': {
      const first = slopeOf(r) / 60;
      const second = r.chance(0.5) ? first * r.between(0.3, 0.6) : slopeOf(r) / 60;
      const turnS = beginS + (endS - beginS) * r.between(0.3, 0.7);
      return {
        at: (t) => first * (Math.min(Math.max(t, beginS), turnS) - beginS) + second * (Math.min(Math.max(t, turnS), endS) - turnS),
        endS,
      };
    }
    case 'tail': {
      // long against the lengths that a cell or a hose explains, and still well away from its end
      const seconds = r.log(90, 500);
      const size = (r.chance(0.5) ? 1 : -1) * r.log(5, 25);
      return { at: (t) => size * Math.exp(-Math.max(0, t - beginS) / seconds), endS: Infinity };
    }
    case 'surge': {
      const periodS = r.log(20, 180);
      const size = r.log(2.2, 8);
      const phase = r.between(0, 2 * Math.PI);
      const isRound = r.chance(0.7);
      const wave = (t: number): number => {
        const angle = (2 * Math.PI * (t - beginS)) / periodS + phase;
        return isRound ? Math.sin(angle) : (2 / Math.PI) * Math.asin(Math.sin(angle));
      };
      return { at: (t) => (t < endS ? size * wave(t) : size * wave(endS) * Math.exp(-(t - endS) / 8)), endS };
    }
    case 'stairs': {
      const usualS = r.between(18, 55);
      const sign = r.chance(0.5) ? 1 : -1;
      const isUneven = r.chance(0.3);
      const steps: { atS: number; size: number }[] = [];
      for (let t = beginS + r.between(0, usualS); t < endS; t += usualS * r.between(0.75, 1.25))
        steps.push({ atS: t, size: (isUneven && r.chance(0.3) ? -sign : sign) * r.between(1.6, 4) });
      const lagS = r.between(2, 9);
      return { at: (t) => steps.reduce((sum, s) => sum + (t > s.atS ? s.size * (1 - Math.exp(-(t - s.atS) / lagS)) : 0), 0), endS };
    }
    case 'swings': {
      // a random walk pulled back to its middle, in steps of a second, smoothed as a cell smooths
      const memoryS = r.log(12, 70);
      const sd = r.log(2, 7);
      const lagS = r.between(4, 15);
      const points: number[] = [];
      let raw = sd * r.normal();
      let smooth = raw;
      for (let t = 0; t <= endS; t++) {
        raw = raw * Math.exp(-1 / memoryS) + sd * Math.sqrt(1 - Math.exp(-2 / memoryS)) * r.normal();
        smooth += (raw - smooth) / lagS;
        points.push(smooth);
      }
      const last = points.at(-1) ?? 0;
      return {
        at: (t) => {
          if (t >= endS) return last * Math.exp(-(t - endS) / 8);
          const i = Math.max(0, Math.floor(t));
          return points[i]! + ((points[i + 1] ?? last) - points[i]!) * Math.max(0, t - i);
        },
        endS,
      };
    }
  }
}

export function makeUnsettled(seed: number): UnsettledStream {
  const r = createRandom(seed + 31_000_000);
  for (let i = 0; i < 3; i++) r.next();
  const kind = unsettledKinds[seed % unsettledKinds.length]!;
  const endsInRest = Math.floor(seed / unsettledKinds.length) % 2 === 0;
  const beginS = kind === 'ramp-after-rest' ? r.between(100, 260) : 0;
  const movesS = r.between(240, 700);
  const endS = endsInRest ? beginS + movesS : Infinity;
  const lengthS = beginS + movesS + (endsInRest ? r.between(180, 420) : 0);
  const movers: Quantity[] =
    kind === 'swings'
      ? r.chance(0.7)
        ? ['co']
        : ['co', 'o2']
      : r.pick<Quantity[]>([['o2'], ['o2'], ['co'], ['stackTemperature'], ['o2', 'co'], ['o2', 'co', 'stackTemperature']]);
  const level = { o2: r.between(3, 9), co: r.between(20, 250), stackTemperature: r.between(160, 300) };
  const wanted = Math.min(endS, lengthS);
  const courses = new Map(movers.map((mover) => [mover, courseOf(kind, r, beginS, wanted)] as const));
  // nothing leaves what is possible: a course that would is made smaller
  const steps = Math.ceil(lengthS / STEP_S) + 1;
  const truth = { o2: new Float64Array(steps), co: new Float64Array(steps), stackTemperature: new Float64Array(steps) };
  const possible: Record<Quantity, [number, number]> = { o2: [0.3, 15], co: [2, 3900], stackTemperature: [60, 520] };
  for (const channel of scoredChannels) {
    const course = courses.get(channel);
    const band = bandOf[channel](level[channel]);
    for (let i = 0; i < steps; i++) truth[channel][i] = level[channel] + (course === undefined ? 0 : band * course.at(i * STEP_S));
    const [low, high] = possible[channel];
    let lowest = Infinity;
    let highest = -Infinity;
    for (const value of truth[channel]) {
      lowest = Math.min(lowest, value);
      highest = Math.max(highest, value);
    }
    // moved up or down first; squeezed only when it does not fit at all
    const room = (high - low) / (highest - lowest);
    const squeeze = highest > lowest && room < 1 ? room : 1;
    const middle = (lowest + highest) / 2;
    const half = (squeeze * (highest - lowest)) / 2;
    const to = Math.min(Math.max(middle, low + half), high - half);
    for (let i = 0; i < steps; i++) truth[channel][i] = to + squeeze * (truth[channel][i]! - middle);
  }

  const rateHz = r.pick([0.5, 1, 1, 1, 2, 5]);
  const quantum = { o2: r.pick([0.1, 0.1, 0.01]), co: r.pick([1, 1, 5]), stackTemperature: r.pick([0.1, 1]), airTemperature: 0.1 };
  const noise = { o2: r.log(0.01, 0.07), co: r.log(0.5, 4), stackTemperature: r.log(0.1, 0.6) };
  const flutter = r.chance(0.5) ? r.between(0, 0.1) : 0;
  const flutterHz = r.between(0.15, 0.6);
  const loss = r.chance(0.5) ? 0.02 : 0;
  const airC = r.between(12, 28);
  const samples: Sample[] = [];
  for (let t = r.between(0, 1); t < lengthS - 1; t += (1 / rateHz) * r.between(0.95, 1.05)) {
    if (r.chance(loss)) continue;
    const values: Sample['values'] = { airTemperature: Math.round(10 * (airC + 0.03 * r.normal())) / 10 };
    const i = Math.floor(t / STEP_S);
    const part = t / STEP_S - i;
    for (const channel of scoredChannels) {
      const exact = truth[channel][i]! + part * ((truth[channel][i + 1] ?? truth[channel][i]!) - truth[channel][i]!);
      const more = channel === 'o2' ? flutter * Math.sin(2 * Math.PI * flutterHz * t) : 0;
      const value = exact + noise[channel] * r.normal() + more;
      values[channel] = Math.round((channel === 'stackTemperature' ? value : Math.max(0, value)) / quantum[channel]) * quantum[channel];
    }
    samples.push({ timeMs: Math.round(1000 * t), values });
  }
  return { seed, kind, samples, truth, movers, ...restsOf(truth, lengthS) };
}

/** Stretches in which no channel leaves its band around its mean of the stretch: looked for before the move and at the end. */
function restsOf(truth: UnsettledStream['truth'], lengthS: number): Pick<UnsettledStream, 'restFromS' | 'rests'> {
  const last = Math.floor(lengthS / STEP_S) - 1;
  const stays = (from: number, to: number): boolean =>
    scoredChannels.every((channel) => {
      const end = truth[channel][to]!;
      const band = bandOf[channel](end);
      for (let i = from; i <= to; i++) if (Math.abs(truth[channel][i]! - end) > band) return false;
      return true;
    });
  /** the first moment from which everything stays within a band of the value at `to` */
  const firstOf = (to: number): number => {
    let at = to;
    const bands = scoredChannels.map((channel) => [channel, truth[channel][to]!, bandOf[channel](truth[channel][to]!)] as const);
    while (at > 0 && bands.every(([channel, end, band]) => Math.abs(truth[channel][at - 1]! - end) <= band)) at--;
    return at;
  };
  /** exactly still: a slow slope stays within a band for a minute, too, and is no rest */
  const isStill = (to: number): boolean =>
    scoredChannels.every((channel) => {
      const before = truth[channel][Math.max(0, to - Math.round(30 / STEP_S))]!;
      return Math.abs(truth[channel][to]! - before) < 0.05 * bandOf[channel](before);
    });
  const rests: { fromS: number; toS: number }[] = [];
  const endFrom = firstOf(last);
  const isEndStill = isStill(last);
  if (isEndStill && (last - endFrom) * STEP_S >= 60) rests.push({ fromS: endFrom * STEP_S, toS: last * STEP_S });
  // a rest at the beginning: still until the move
  let begins = 0;
  while (begins < last && scoredChannels.every((channel) => truth[channel][begins + 1] === truth[channel][0])) begins++;
  if (begins * STEP_S >= 60 && begins < endFrom && stays(0, begins)) rests.unshift({ fromS: 0, toS: begins * STEP_S });
  return { rests, restFromS: isEndStill && (last - endFrom) * STEP_S >= 60 ? endFrom * STEP_S : undefined };
}
