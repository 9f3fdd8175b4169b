/**
 * Streams for scoring the settling detector: a burner with an instrument, drawn at random per seed from the phenomena that
 * such streams show. Written apart from the simulated burner on purpose. Figures are common practice: sampling line 2-10 s,
 * O2 cell 5-15 s, CO cell 10-30 s, thermocouple 3-10 s, metal and water 60-420 s carrying 30-65 % of a change.
 */
import type { Mark } from '../../shared/measurement/mark.ts';
import type { Sample } from '../../shared/measurement/sample.ts';
import { createRandom } from './stream-random.ts';

export type Truth = { o2: number; co: number; stackTemperature: number };
export type StreamSetting = {
  readonly fromS: number;
  readonly toS: number;
  readonly heading: Truth;
  /** noise-free output within a band of the heading on all three channels from here on; undefined when that never came */
  readonly settledS: number | undefined;
  /** the same for O2 and CO alone */
  readonly gasSettledS: number | undefined;
  /** the same for the stack temperature alone */
  readonly stackSettledS: number | undefined;
};
export type Stream = {
  readonly seed: number;
  readonly samples: Sample[];
  readonly marks: Mark[];
  readonly settings: StreamSetting[];
  readonly slowS: number;
  readonly what: Record<string, number | string>;
};

export const bandOf = { o2: (_: number) => 0.2, co: (v: number) => Math.max(10, 0.1 * v), stackTemperature: (_: number) => 2 };

const STEP_S = 0.1;

/** @param visit 0, or a later visit: the same plant and instrument with a course of its own */
export function makeStream(seed: number, visit = 0): Stream {
  let r = createRandom(seed);
  const rateHz = r.pick([0.5, 1, 1, 1, 1, 1, 2, 5, 10]);
  const jitter = r.chance(0.4) ? 0 : r.between(0.05, 0.4);
  const wholeSeconds = r.chance(0.15);
  const loss = r.chance(0.4) ? 0 : r.between(0, 0.03);
  const quantum = {
    o2: r.pick([0.1, 0.1, 0.1, 0.01]),
    co: r.pick([1, 1, 2, 5, 0.1]),
    stackTemperature: r.pick([0.1, 0.1, 0.5, 1]),
    airTemperature: r.pick([0.1, 0.1, 1]),
  };
  const deadO2 = r.between(2, 10);
  const deadCo = r.chance(0.5) ? deadO2 : Math.max(2, Math.min(10, deadO2 + r.between(-2, 3)));
  const sensor = { o2: r.between(5, 15), co: r.between(10, 30), stackTemperature: r.between(3, 10) };
  const second = r.chance(0.6) ? 0 : r.between(0.15, 0.5);
  const slowS = r.log(60, 420);
  const share0 = r.between(0.3, 0.65);
  const perChange = r.chance(0.5);
  const flutterO2 = r.chance(0.15) ? 0 : r.between(0.01, 0.15);
  const flutterHz = r.between(0.15, 0.6);
  const white = { o2: r.log(0.015, 0.07), co: r.log(0.8, 4), stackTemperature: r.log(0.15, 0.8), airTemperature: r.log(0.01, 0.1) };
  const wanderS = r.between(25, 60);
  const wander = { o2: r.between(0, 0.04), co: r.between(0, 2), stackTemperature: r.chance(0.4) ? 0 : r.between(0, 0.3) };
  const flutter = { o2: flutterO2, co: r.between(0, 40) * flutterO2, stackTemperature: r.between(0, 3) * flutterO2 };
  const spikes = r.chance(0.35) ? 0 : r.log(0.001, 0.01);
  const startKinds = ['rest', 'rest', 'moving', 'moving', 'cold'] as const;
  let startKind = r.pick(startKinds);
  const airC = r.between(8, 30);
  const airDrift = r.chance(0.5) ? 0 : r.between(-1.5, 3);
  const hasAir = r.chance(0.85);

  if (visit > 0) {
    r = createRandom(seed + 500_000_000 * visit);
    startKind = r.pick(startKinds);
  }
  // plan of settings
  const count = 3 + Math.floor(r.next() * 3);
  const baseC = r.between(160, 320);
  const slopeC = r.between(3, 14);
  const coFloor = r.log(4, 60);
  const coKnee = r.between(2.5, 4.5);
  const coWidth = r.between(0.35, 0.9);
  const coHigh = r.chance(0.3) ? r.between(0.5, 5) : 0;
  const coAt = (o2: number): number => Math.min(1500, coFloor + 20 * Math.exp((coKnee - o2) / coWidth) + coHigh * Math.max(0, o2 - 7) ** 2);
  const plan: { fromS: number; toS: number; heading: Truth; share: number; rampS: number; purge: [number, number] | undefined }[] = [];
  let o2 = r.between(3, 8.5);
  let at = 0;
  let previousC = startKind === 'cold' ? airC : baseC;
  for (let i = 0; i < count; i++) {
    if (i > 0) {
      const size = r.log(0.4, 2.5);
      let next = o2 + (r.chance(0.5) ? size : -size);
      if (next < 1.6 || next > 11) next = 2 * o2 - next;
      o2 = next;
    }
    const early = i < count - 1 && r.chance(0.15);
    const lasts = early ? r.between(20, 90) : r.log(120, 900);
    const stackC = baseC + slopeC * (o2 - 5) + (i > 0 ? 2 * r.normal() : 0);
    const change = Math.abs(stackC - previousC);
    const cold = i === 0 && startKind === 'cold';
    const share = cold
      ? r.between(0.5, 0.7)
      : perChange
        ? Math.min(0.65, Math.max(0.2, share0 * (0.7 + 0.3 * Math.min(1, change / 15)) * r.between(0.85, 1.15)))
        : share0;
    const purgeAt = at + r.between(60, Math.max(61, lasts - 60));
    plan.push({
      fromS: at,
      toS: at + lasts,
      heading: { o2, co: coAt(o2), stackTemperature: stackC },
      share,
      rampS: r.chance(0.6) ? 0 : r.between(1, 6),
      purge: !early && r.chance(0.15) && lasts > 150 ? [purgeAt, purgeAt + r.between(20, 45)] : undefined,
    });
    at += lasts;
    previousC = stackC;
  }
  const endS = at;

  // noise-free course on a fine grid
  const n = Math.ceil(endS / STEP_S) + 1;
  const truth = { o2: new Float64Array(n), co: new Float64Array(n), stackTemperature: new Float64Array(n) };
  const shown = { o2: new Float64Array(n), co: new Float64Array(n), stackTemperature: truth.stackTemperature };
  const source = { o2: new Float64Array(n), co: new Float64Array(n) };
  const lightS = startKind === 'cold' && r.chance(0.7) ? r.between(3, 30) : 0;
  const first = plan[0]!;
  let slow =
    startKind === 'rest'
      ? 0
      : startKind === 'moving'
        ? (r.chance(0.75) ? -1 : 1) * r.between(4, 60)
        : -first.share * (first.heading.stackTemperature - airC);
  const lag1 = { o2: 0, co: 0, stackTemperature: 0 };
  const lag2 = { o2: 0, co: 0, stackTemperature: 0 };
  const lagShown1 = { o2: 0, co: 0 };
  const lagShown2 = { o2: 0, co: 0 };
  const cold = startKind === 'cold';
  lag1.o2 = lag2.o2 = cold ? 20.9 : first.heading.o2;
  lag1.co = lag2.co = cold ? 0 : first.heading.co;
  lag1.stackTemperature = lag2.stackTemperature = cold ? airC : first.heading.stackTemperature + slow;
  Object.assign(lagShown1, lag1);
  Object.assign(lagShown2, lag2);
  const follow = (tau: number): number => (tau > 0 ? 1 - Math.exp(-STEP_S / tau) : 1);
  const g = { o2: follow(sensor.o2), co: follow(sensor.co), stackTemperature: follow(sensor.stackTemperature) };
  const g2 = { o2: follow(second * sensor.o2), co: follow(second * sensor.co), stackTemperature: follow(second * sensor.stackTemperature) };
  let setting = 0;
  for (let i = 0; i < n; i++) {
    const t = i * STEP_S;
    while (setting + 1 < plan.length && t >= plan[setting + 1]!.fromS) {
      setting++;
      const p = plan[setting]!;
      // the metal is continuous: its share of the change is still to come
      slow -= p.share * (p.heading.stackTemperature - plan[setting - 1]!.heading.stackTemperature);
    }
    const p = plan[setting]!;
    const before = plan[Math.max(0, setting - 1)]!;
    const lit = t >= lightS;
    const turned = p.rampS > 0 && setting > 0 ? Math.min(1, (t - p.fromS) / p.rampS) : 1;
    const mix = (a: number, b: number): number => a + turned * (b - a);
    source.o2[i] = lit ? mix(before.heading.o2, p.heading.o2) : 20.9;
    source.co[i] = lit ? mix(before.heading.co, p.heading.co) : 0;
    let gasNowC = airC;
    if (lit) {
      slow *= Math.exp(-STEP_S / slowS);
      const quick = (1 - turned) * (1 - p.share) * (p.heading.stackTemperature - before.heading.stackTemperature);
      gasNowC = p.heading.stackTemperature + slow - quick;
    }
    lag1.stackTemperature += g2.stackTemperature * (gasNowC - lag1.stackTemperature);
    lag2.stackTemperature += g.stackTemperature * (lag1.stackTemperature - lag2.stackTemperature);
    truth.stackTemperature[i] = lag2.stackTemperature;
    const purging = p.purge !== undefined && t >= p.purge[0] && t < p.purge[1];
    for (const [channel, dead, fresh] of [
      ['o2', deadO2, 20.9],
      ['co', deadCo, 0],
    ] as const) {
      const from = i - Math.round(dead / STEP_S);
      const input = from >= 0 ? source[channel][from]! : cold ? fresh : first.heading[channel];
      lag1[channel] += g2[channel] * (input - lag1[channel]);
      lag2[channel] += g[channel] * (lag1[channel] - lag2[channel]);
      truth[channel][i] = lag2[channel];
      lagShown1[channel] += g2[channel] * ((purging ? fresh : input) - lagShown1[channel]);
      lagShown2[channel] += g[channel] * (lagShown1[channel] - lagShown2[channel]);
      shown[channel][i] = lagShown2[channel];
    }
  }

  const settings = plan.map((p): StreamSetting => {
    const settledOver = (channels: readonly (keyof Truth)[]): number | undefined => {
      let i = Math.min(n - 1, Math.floor(p.toS / STEP_S) - 1);
      const start = Math.ceil(p.fromS / STEP_S);
      const within = (k: number): boolean => channels.every((c) => Math.abs(truth[c][k]! - p.heading[c]) <= bandOf[c](p.heading[c]));
      if (!within(i)) return undefined;
      while (i > start && within(i - 1)) i--;
      return i * STEP_S;
    };
    return {
      fromS: p.fromS,
      toS: p.toS,
      heading: p.heading,
      settledS: settledOver(['o2', 'co', 'stackTemperature']),
      gasSettledS: settledOver(['o2', 'co']),
      stackSettledS: settledOver(['stackTemperature']),
    };
  });

  // what the instrument sends
  const samples: Sample[] = [];
  const wanderNow = { o2: 0, co: 0, stackTemperature: 0 };
  let common = r.normal();
  const own = { o2: r.normal(), co: r.normal(), stackTemperature: r.normal() };
  const together = r.between(0, 1);
  let phase = r.between(0, 6);
  let hz = flutterHz;
  let lostUntil = -1;
  let lastT = 0;
  let t = r.between(0, 1 / rateHz);
  while (t < endS - STEP_S) {
    const dt = t - lastT;
    lastT = t;
    const keep = Math.exp(-dt / wanderS);
    const stir = Math.sqrt(1 - keep * keep);
    common = keep * common + stir * r.normal();
    hz = Math.min(0.6, Math.max(0.15, hz + 0.02 * Math.sqrt(dt) * r.normal()));
    phase += 2 * Math.PI * hz * dt;
    const i = Math.floor(t / STEP_S);
    const values: Sample['values'] = {};
    for (const channel of ['o2', 'co', 'stackTemperature'] as const) {
      own[channel] = keep * own[channel] + stir * r.normal();
      wanderNow[channel] = wander[channel] * (Math.sqrt(together) * common + Math.sqrt(1 - together) * own[channel]);
      const exact = shown[channel][i]!;
      const quiet = channel !== 'stackTemperature' && shown.o2[i]! > 20 ? 0.2 : 1;
      const relative = channel === 'co' ? 1 + exact / 150 : 1;
      let v =
        exact +
        quiet *
          relative *
          (wanderNow[channel] + flutter[channel] * Math.sin(phase + (channel === 'co' ? 1.5 : 0)) + white[channel] * r.normal());
      if (r.chance(spikes))
        v += (r.chance(0.5) ? 1 : -1) * { o2: r.between(0.5, 6), co: r.between(20, 400), stackTemperature: r.between(5, 80) }[channel];
      if (channel === 'co') v = Math.max(0, v);
      values[channel] = Math.round(v / quantum[channel]) * quantum[channel];
    }
    if (hasAir)
      values.airTemperature =
        Math.round((airC + (airDrift * t) / endS + white.airTemperature * r.normal()) / quantum.airTemperature) * quantum.airTemperature;
    if (r.chance(0.0005)) lostUntil = t + r.between(2, 9);
    if (!r.chance(loss) && t > lostUntil) samples.push({ timeMs: wholeSeconds ? Math.floor(t) * 1000 : Math.round(1000 * t), values });
    t += (1 / rateHz) * (1 + jitter * (2 * r.next() - 1));
  }
  const marks = plan.slice(1).map((p, k): Mark => ({
    id: `m${k + 1}`,
    timeMs: Math.max(0, Math.round(1000 * (p.fromS + r.between(-1, 3)))),
    body: { kind: 'adjustment', setting: { stage: '1', positions: [{ name: 'shutter', value: k + 1 }] } },
  }));
  return {
    seed,
    samples,
    marks,
    settings,
    slowS,
    what: {
      rateHz,
      slowS: Math.round(slowS),
      share: share0,
      startKind,
      second,
      flutterO2,
      deadO2,
      deadCo,
      sensorO2: sensor.o2,
      sensorCo: sensor.co,
      qO2: quantum.o2,
      qCo: quantum.co,
      qStack: quantum.stackTemperature,
      wanderStack: wander.stackTemperature,
      wanderO2: wander.o2,
      perChange: String(perChange),
    },
  };
}
