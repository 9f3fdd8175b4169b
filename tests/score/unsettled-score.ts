/**
 * Scores readings on streams that do not settle. A reading (its means when it was taken) is false when, on any channel, the noise-free course is
 * further than 1.25 bands from it at any time within the next 60 s, or, where the stream ends in a rest and only its tail was left, from that rest.
 */
import { createSettling } from '../../shared/settling/settling.ts';
import type { Taken } from './settling-rules.ts';
import { bandOf } from './settling-streams.ts';
import { makeUnsettled, scoredChannels, STEP_S, unsettledKinds, type UnsettledKind, type UnsettledStream } from './unsettled-streams.ts';

/** Fixed before any tuning; tuning uses other seeds. */
const UNSETTLED_FIRST = 700_000;
const UNSETTLED_COUNT = 210;
const AHEAD_S = 60;

type Outcome = {
  runs: number;
  falseRuns: number;
  falseReadings: number;
  hours: number;
  rests: number;
  restsRead: number;
  delays: number[];
};
const newOutcome = (): Outcome => ({ runs: 0, falseRuns: 0, falseReadings: 0, hours: 0, rests: 0, restsRead: 0, delays: [] });

/** @returns the channel that makes the reading false */
function falseChannel(stream: UnsettledStream, { takenS, means }: Taken): string | undefined {
  return scoredChannels.find((channel) => {
    const course = stream.truth[channel];
    const mean = means[channel] ?? NaN;
    const last = Math.min(course.length - 1, Math.ceil((takenS + AHEAD_S) / STEP_S));
    for (let i = Math.floor(takenS / STEP_S); i <= last; i++)
      if (!(Math.abs(course[i]! - mean) <= 1.25 * bandOf[channel](course[i]!))) return true;
    return false;
  });
}

/** A plain window: every channel's spread of the last 60 s at most two bands. */
function windowRule({ samples }: UnsettledStream): Taken[] {
  const taken: Taken[] = [];
  let was = false;
  let from = 0;
  samples.forEach((now, i) => {
    while (now.timeMs - samples[from]!.timeMs > 60_000) from++;
    const window = samples.slice(from, i + 1);
    const isSteady =
      now.timeMs - samples[0]!.timeMs >= 60_000 &&
      scoredChannels.every((channel) => {
        let low = Infinity;
        let high = -Infinity;
        for (const { values } of window) {
          low = Math.min(low, values[channel]!);
          high = Math.max(high, values[channel]!);
        }
        return high - low <= 2 * bandOf[channel](values(now, channel));
      });
    if (isSteady && !was) {
      const late = window.filter(({ timeMs }) => now.timeMs - timeMs <= 10_000);
      const mean = (channel: (typeof scoredChannels)[number]): number =>
        late.reduce((sum, one) => sum + values(one, channel), 0) / late.length;
      taken.push({ takenS: now.timeMs / 1000, means: { o2: mean('o2'), co: mean('co'), stackTemperature: mean('stackTemperature') } });
    }
    was = isSteady;
  });
  return taken;
}
const values = (sample: UnsettledStream['samples'][number], channel: (typeof scoredChannels)[number]): number => sample.values[channel]!;

function ownReadings({ samples }: UnsettledStream): Taken[] {
  const settling = createSettling();
  const seen = new Set<string>();
  const taken: Taken[] = [];
  for (const sample of samples) {
    for (const { id, scope, takenMs, first } of settling.push(sample).readings) {
      if (scope !== 'full' || seen.has(id)) continue;
      seen.add(id);
      taken.push({ takenS: takenMs / 1000, means: { o2: first!.o2!, co: first!.co!, stackTemperature: first!.stackTemperature! } });
    }
  }
  return taken;
}

export function scoreUnsettled(
  first = UNSETTLED_FIRST,
  count = UNSETTLED_COUNT,
  { verbose = false, baseline = true, only = undefined as UnsettledKind | undefined } = {},
): void {
  const rules: Record<string, (stream: UnsettledStream) => Taken[]> = {
    ours: ownReadings,
    ...(baseline && { 'window, 60 s': windowRule }),
  };
  const outcomes: Record<string, Outcome> = {};
  for (let seed = first; seed < first + count; seed++) {
    const stream = makeUnsettled(seed);
    if (only !== undefined && stream.kind !== only) continue;
    for (const [name, rule] of Object.entries(rules)) {
      const taken = rule(stream);
      for (const into of [(outcomes[name] ??= newOutcome()), (outcomes[`${name}: ${stream.kind}`] ??= newOutcome())]) {
        into.runs++;
        into.hours += stream.samples.at(-1)!.timeMs / 3_600_000;
        const wrong = taken.filter((one) => falseChannel(stream, one) !== undefined);
        into.falseReadings += wrong.length;
        if (wrong.length > 0) into.falseRuns++;
        for (const { fromS, toS } of stream.rests) {
          into.rests++;
          const right = taken.find((one) => one.takenS >= fromS && one.takenS <= toS && falseChannel(stream, one) === undefined);
          if (right !== undefined) {
            into.restsRead++;
            into.delays.push(right.takenS - fromS);
          }
        }
      }
      if (verbose && name === 'ours') {
        for (const one of taken) {
          const channel = falseChannel(stream, one);
          if (channel !== undefined)
            console.log(`false ${stream.kind} seed ${seed} (${stream.movers.join(',')}) at ${one.takenS.toFixed(0)} s by ${channel}`);
        }
        for (const { fromS, toS } of stream.rests)
          if (!taken.some((one) => one.takenS >= fromS && one.takenS <= toS && falseChannel(stream, one) === undefined))
            console.log(`missed ${stream.kind} seed ${seed} (${stream.movers.join(',')}) rest ${fromS.toFixed(0)}..${toS.toFixed(0)}`);
      }
    }
  }
  console.log(`unsettled streams, seeds ${first}-${first + count - 1}`);
  console.log(`${''.padEnd(28)}runs  false %  false/h  rests  read %  median s`);
  const names = Object.keys(rules).flatMap((name) => [name, ...unsettledKinds.map((kind) => `${name}: ${kind}`)]);
  for (const name of names) {
    const o = outcomes[name];
    if (o === undefined) continue;
    const delays = o.delays.sort((a, b) => a - b);
    console.log(
      `${name.padEnd(28)}${String(o.runs).padStart(4)}${((100 * o.falseRuns) / o.runs).toFixed(1).padStart(9)}${(o.falseReadings / o.hours).toFixed(2).padStart(9)}${String(o.rests).padStart(7)}${((100 * o.restsRead) / Math.max(1, o.rests)).toFixed(1).padStart(8)}${(delays[Math.floor(delays.length / 2)] ?? NaN).toFixed(0).padStart(10)}`,
    );
  }
}
