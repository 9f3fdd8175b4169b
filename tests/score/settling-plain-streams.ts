/**
 * A second generator for scoring the settling detector, so that it is not fitted to the first one's ways: one slow constant, exact
 * exponentials, every cold start from room temperature, and its own choice of rates, prints and disturbances. Figures as in settling-streams.ts.
 */
import type { Sample } from '../../shared/measurement/sample.ts';
import { bandOf, type Stream, type StreamSetting, type Truth } from './settling-streams.ts';
import { createRandom } from './stream-random.ts';

const STEP_S = 0.1;
const channels = ['o2', 'co', 'stackTemperature'] as const;
const spikeOf: Truth = { o2: 3, co: 80, stackTemperature: 40 };
const FRESH_AIR = 20.9;

type Plan = { readonly fromS: number; readonly toS: number; readonly heading: Truth; readonly share: number };
type Range = readonly [number, number];

/** What of these streams may be moved: chances, ranges, and factors on what disturbs. */
export type PlainShape = {
  /** s that a setting lasts, and the first one after a cold start */
  readonly lastsS: Range;
  readonly coldS: Range;
  /** a setting is turned away again within a minute */
  readonly hurried: number;
  /** %vol O2 by which a turn goes */
  readonly turn: Range;
  /** K of the stack for one %vol of O2, and what comes to it */
  readonly slopeK: Range;
  readonly scatterK: number;
  readonly cold: number;
  readonly atRest: number;
  /** factors on white noise, on wander and on how many samples are spikes, and how often a flame flutters */
  readonly noise: number;
  readonly wander: number;
  readonly spikes: number;
  readonly flutters: number;
  /** one sample a second; else anything from 0.5 to 10 */
  readonly everySecond: number;
};

export const plainShape: PlainShape = {
  lastsS: [200, 900],
  coldS: [600, 1800],
  hurried: 0.12,
  turn: [0.5, 2.5],
  slopeK: [1, 12],
  scatterK: 4,
  cold: 0.35,
  atRest: 0.5,
  noise: 1,
  wander: 1,
  spikes: 1,
  flutters: 0.5,
  everySecond: 0.5,
};

function makePlan(r: ReturnType<typeof createRandom>, isCold: boolean, shape: PlainShape, count: number, share0: number): Plan[] {
  let o2 = r.between(3.5, 9);
  let stackTemperature = r.between(170, 290);
  let fromS = 0;
  return Array.from({ length: count }, (_, k) => {
    const isShort = k > 0 && k < count - 1 && r.chance(shape.hurried);
    const lastsS = isShort ? r.between(15, 60) : r.between(...(k === 0 && isCold ? shape.coldS : shape.lastsS));
    if (k > 0) {
      const wanted = (r.chance(0.5) ? 1 : -1) * r.between(...shape.turn);
      const turn = o2 + wanted > 2.5 && o2 + wanted < 11 ? wanted : -wanted;
      o2 += turn;
      stackTemperature += turn * r.between(...shape.slopeK) + r.between(-shape.scatterK, shape.scatterK);
    }
    const co = r.between(5, 60) + (o2 < 5 ? 10 * Math.exp(1.2 * (4 - o2)) : 0);
    const share = k > 0 ? share0 * r.between(0.75, 1) : isCold ? Math.min(0.7, 1.15 * share0) : share0;
    const plan = { fromS, toS: fromS + lastsS, heading: { o2, co, stackTemperature }, share };
    fromS = plan.toS;
    return plan;
  });
}

/** The first moment from which all of these channels stay within their band. */
function settledFrom(
  truth: Record<keyof Truth, Float64Array>,
  { fromS, toS, heading }: Plan,
  of: readonly (keyof Truth)[],
): number | undefined {
  const isIn = (at: number): boolean => of.every((c) => Math.abs(truth[c][at]! - heading[c]) <= bandOf[c](heading[c]));
  const end = Math.floor(toS / STEP_S) - 1;
  let at = end;
  while (at >= Math.ceil(fromS / STEP_S) && isIn(at)) at--;
  return at === end ? undefined : (at + 1) * STEP_S;
}

const settingsOf = (r: ReturnType<typeof createRandom>): number => 3 + Math.floor(r.between(0, 3));

/** @param visit 0, or a later visit: the same plant and instrument with a course and a start of its own */
export function makePlainStream(seed: number, visit = 0, shape = plainShape): Stream {
  let r = createRandom(seed + 77_000_000);
  const rateHz = r.chance(shape.everySecond) ? 1 : r.log(0.5, 10);
  const deadS = r.between(2, 10);
  const sensorS: Truth = { o2: r.between(5, 15), co: r.between(10, 30), stackTemperature: r.between(3, 10) };
  const slowS = r.between(60, 420);
  let isCold = r.chance(shape.cold);
  let isAtRest = r.chance(shape.atRest);
  const airC = r.between(12, 28);
  const settingCount = settingsOf(r);
  const share0 = r.between(0.3, 0.65);
  let plan = makePlan(r, isCold, shape, settingCount, share0);
  const flutterO2 = r.chance(shape.flutters) ? r.between(0, 0.15) : 0;
  const flutterHz = r.between(0.15, 0.6);
  const wander: Truth = { o2: r.between(0, 0.05), co: r.between(0, 2.5), stackTemperature: r.between(0, 0.5) };
  const quantum: Truth = { o2: r.pick([0.1, 0.1, 0.1, 0.01]), co: r.pick([1, 1, 5]), stackTemperature: r.pick([0.1, 1, 1, 0.1]) };
  const noise: Truth = { o2: r.between(0.005, 0.06), co: r.between(0.3, 3), stackTemperature: r.between(0.05, 0.5) };
  const spikes = shape.spikes * r.pick([0, 0, 0.001, 0.004]);
  const loss = r.pick([0, 0, 0.01, 0.03]);
  const jitter = r.pick([0, 0.1, 0.3]);
  if (visit > 0) {
    r = createRandom(seed + 77_000_000 + 500_000_000 * visit);
    isCold = r.chance(shape.cold);
    isAtRest = r.chance(shape.atRest);
    plan = makePlan(r, isCold, shape, settingsOf(r), share0);
  }
  const purged = r.chance(0.25) ? plan.filter(({ fromS, toS }) => toS - fromS > 250).at(-1) : undefined;
  const purgeS = purged === undefined ? Infinity : r.between(purged.fromS + 100, purged.toS - 100);
  const purgeEndS = purgeS + r.between(20, 45);

  const first = plan[0]!.heading;
  const shown: Truth = isCold
    ? { o2: FRESH_AIR, co: 0, stackTemperature: airC + 5 }
    : isAtRest
      ? { ...first }
      : { o2: first.o2 + r.between(-2, 2), co: first.co + r.between(0, 30), stackTemperature: first.stackTemperature + r.between(-30, 10) };
  /** what the metal still has to give; from cold only its share, the rest comes with the gas */
  let owed = (first.stackTemperature - shown.stackTemperature) * (isCold ? plan[0]!.share : 1);
  const endS = plan.at(-1)!.toS;
  const count = Math.floor(endS / STEP_S);
  const truth = { o2: new Float64Array(count), co: new Float64Array(count), stackTemperature: new Float64Array(count) };
  const line = Array.from({ length: Math.round(deadS / STEP_S) }, () => ({ o2: shown.o2, co: shown.co }));
  const wanderNow: Truth = { o2: 0, co: 0, stackTemperature: 0 };
  const part = (seconds: number): number => 1 - Math.exp(-STEP_S / seconds);
  const samples: Sample[] = [];
  let k = 0;
  let phase = 0;
  let nextS = 0;
  for (let at = 0; at < count; at++) {
    const timeS = at * STEP_S;
    while (k + 1 < plan.length && timeS >= plan[k + 1]!.fromS) {
      k++;
      owed += (plan[k]!.heading.stackTemperature - plan[k - 1]!.heading.stackTemperature) * plan[k]!.share;
    }
    const { heading } = plan[k]!;
    const isPurge = timeS >= purgeS && timeS < purgeEndS;
    line.push(isPurge ? { o2: FRESH_AIR, co: 0 } : { o2: heading.o2, co: heading.co });
    const gas = line.shift()!;
    owed *= 1 - part(slowS);
    shown.o2 += part(sensorS.o2) * (gas.o2 - shown.o2);
    shown.co += part(sensorS.co) * (gas.co - shown.co);
    shown.stackTemperature += part(sensorS.stackTemperature) * (heading.stackTemperature - owed - shown.stackTemperature);
    phase += 2 * Math.PI * flutterHz * STEP_S * (1 + 0.1 * r.normal());
    const keep = Math.exp(-STEP_S / 40);
    for (const c of channels) {
      truth[c][at] = shown[c];
      wanderNow[c] = keep * wanderNow[c] + Math.sqrt(1 - keep * keep) * shape.wander * wander[c] * r.normal();
    }
    if (timeS < nextS) continue;
    nextS += (1 + jitter * r.between(-1, 1)) / rateHz;
    if (r.chance(loss)) continue;
    const flutter = flutterO2 * Math.sin(phase);
    const values: Sample['values'] = { airTemperature: Math.round(10 * (airC + 0.3 * Math.sin(timeS / 300))) / 10 };
    const spiked = r.chance(spikes) ? r.pick(channels) : undefined;
    for (const c of channels) {
      let value = shown[c] + wanderNow[c] + shape.noise * noise[c] * r.normal() + (c === 'o2' ? flutter : 0);
      if (c === spiked) value += (r.chance(0.5) ? 1 : -1) * spikeOf[c];
      values[c] = Math.round((c === 'stackTemperature' ? value : Math.max(0, value)) / quantum[c]) * quantum[c];
    }
    samples.push({ timeMs: Math.round(1000 * timeS), values });
  }
  const settings = plan.map((one): StreamSetting => ({
    fromS: one.fromS,
    toS: one.toS,
    heading: one.heading,
    settledS: settledFrom(truth, one, channels),
    gasSettledS: settledFrom(truth, one, ['o2', 'co']),
    stackSettledS: settledFrom(truth, one, ['stackTemperature']),
  }));
  const marks = plan.slice(1).map(({ fromS }, at) => ({
    id: `m${at + 1}`,
    timeMs: Math.max(0, Math.round(1000 * (fromS + r.between(-1, 3)))),
    body: { kind: 'adjustment' as const, setting: { stage: '1', positions: [{ name: 'shutter', value: at + 1 }] } },
  }));
  return { seed, samples, marks, settings, slowS, what: { rateHz, deadS, slowS, isCold: String(isCold), isAtRest: String(isAtRest) } };
}
