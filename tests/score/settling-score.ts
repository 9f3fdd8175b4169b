import { createSettling } from '../../shared/settling/settling.ts';
import { type SettlingOptions } from '../../shared/settling/detector.ts';
import { maxMinRule, rStatisticRule, type Taken } from './settling-rules.ts';
import { bandOf, makeStream, type Stream, type StreamSetting, type Truth } from './settling-streams.ts';

/** Fixed before any tuning; tuning uses other seeds. */
const EVALUATION_FIRST = 900_000;
const EVALUATION_COUNT = 200;

export type Outcome = {
  settings: number;
  read: number;
  falseFirst: number;
  repeats: number;
  longEnough: number;
  rightly: number;
  delays: number[];
  causes: Record<string, number>;
  notes: string[];
};
export type ForecastOutcome = { errors: number[]; covered: number; count: number };

export const newOutcome = (): Outcome => ({
  settings: 0,
  read: 0,
  falseFirst: 0,
  repeats: 0,
  longEnough: 0,
  rightly: 0,
  delays: [],
  causes: {},
  notes: [],
});

const allChannels = ['o2', 'co', 'stackTemperature'] as const;
const gasChannels = ['o2', 'co'] as const;

/** Scores the readings of one stream against its truth. */
export function scoreReadings(
  into: Outcome,
  stream: Stream,
  taken: readonly Taken[],
  scope: 'gas' | 'full',
  which: (k: number) => boolean = () => true,
): void {
  const channels = scope === 'gas' ? gasChannels : allChannels;
  const wrong = (setting: StreamSetting, means: Partial<Truth>): (typeof allChannels)[number] | undefined =>
    channels.find((c) => !(Math.abs((means[c] ?? NaN) - setting.heading[c]) <= 1.25 * bandOf[c](setting.heading[c])));
  stream.settings.forEach((setting, k) => {
    if (!which(k)) return;
    const own = taken.filter((r) => r.takenS >= setting.fromS && r.takenS < setting.toS);
    const settledS = scope === 'gas' ? setting.gasSettledS : setting.settledS;
    into.settings++;
    const first = own[0];
    if (first) {
      into.read++;
      into.repeats += own.length - 1;
      const cause = wrong(setting, first.means);
      if (cause) {
        into.falseFirst++;
        into.causes[cause] = (into.causes[cause] ?? 0) + 1;
        into.notes.push(
          `false seed ${stream.seed} setting ${k} at +${(first.takenS - setting.fromS).toFixed(0)} s (settled +${settledS === undefined ? '-' : (settledS - setting.fromS).toFixed(0)}) ${cause} ${first.means[cause]?.toFixed(2)} heading ${setting.heading[cause].toFixed(2)}`,
        );
      }
      if (own.length > 1)
        into.notes.push(`repeat seed ${stream.seed} setting ${k} ${own.map((o) => (o.takenS - setting.fromS).toFixed(0)).join(',')}`);
    }
    if (settledS === undefined) return;
    const left = setting.toS - settledS;
    const right = own.find((r) => wrong(setting, r.means) === undefined);
    if (left >= 60) {
      into.longEnough++;
      if (right) into.rightly++;
      else
        into.notes.push(
          `missed seed ${stream.seed} setting ${k} of ${setting.fromS.toFixed(0)}..${setting.toS.toFixed(0)} settled ${settledS.toFixed(0)} left ${left.toFixed(0)} o2 ${setting.heading.o2.toFixed(2)} stack ${setting.heading.stackTemperature.toFixed(1)}`,
        );
    }
    if (right && right.takenS - settledS > 110)
      into.notes.push(
        `late seed ${stream.seed} setting ${k} of ${setting.fromS.toFixed(0)}..${setting.toS.toFixed(0)} settled ${settledS.toFixed(0)} read ${right.takenS.toFixed(0)}`,
      );
    if (right) into.delays.push(Math.max(0, right.takenS - settledS));
    else if (left >= 60) into.delays.push(left);
  });
}

export type Run = { full: Taken[]; gas: Taken[]; byHeading: { atS: number; value: number; low: number; high: number; truth: number }[] };

/** One stream through the detector. */
export function runDetector(stream: Stream, marked: boolean, options: SettlingOptions = {}): Run {
  const settling = createSettling(options);
  const run: Run = { full: [], gas: [], byHeading: [] };
  const seen = new Set<string>();
  const asks = stream.settings
    .slice(1)
    .map((s) => ({ atS: s.fromS + 0.5 * stream.slowS, setting: s }))
    .filter((a) => a.atS < a.setting.toS);
  let mark = 0;
  for (const sample of stream.samples) {
    const readings = [];
    // a person presses the key some time after the change has begun: it arrives late
    while (marked && mark < stream.marks.length && stream.marks[mark]!.timeMs + 1500 <= sample.timeMs)
      readings.push(...settling.mark(stream.marks[mark++]!).readings);
    readings.push(...settling.push(sample).readings);
    for (const reading of readings) {
      if (seen.has(reading.id)) continue;
      seen.add(reading.id);
      const first = reading.first ?? {};
      const taken: Taken = {
        takenS: reading.takenMs / 1000,
        means: { o2: first.o2!, co: first.co!, stackTemperature: first.stackTemperature! },
      };
      run[reading.scope].push(taken);
    }
    while (asks.length > 0 && sample.timeMs / 1000 >= asks[0]!.atS) {
      const ask = asks.shift()!;
      const heading = settling.states().find((s) => s.channel === 'stackTemperature')?.headingFor;
      if (heading) run.byHeading.push({ atS: ask.atS, ...heading, truth: ask.setting.heading.stackTemperature });
    }
  }
  return run;
}

export const quantile = (list: readonly number[], q: number): number => {
  const sorted = [...list].sort((a, b) => a - b);
  return sorted.length === 0 ? NaN : sorted[Math.min(sorted.length - 1, Math.floor(q * sorted.length))]!;
};

export function row(name: string, o: Outcome): string {
  const f = (x: number, digits = 1): string => x.toFixed(digits).padStart(7);
  return `${name.padEnd(26)}${f((100 * o.falseFirst) / o.read)}${f((100 * o.rightly) / o.longEnough)}${f(quantile(o.delays, 0.5), 0)}${f(quantile(o.delays, 0.9), 0)}${f(o.repeats / o.settings, 2)}   ${o.read}/${o.settings} ${JSON.stringify(o.causes)}`;
}

export function scoreSettling(
  first = EVALUATION_FIRST,
  count = EVALUATION_COUNT,
  { rules = true, verbose = false, only = '', make = makeStream } = {},
): void {
  const results = {
    spread: newOutcome(),
    r: newOutcome(),
    own: newOutcome(),
    ownLater: newOutcome(),
    ownFirst: newOutcome(),
    ownGas: newOutcome(),
    marked: newOutcome(),
    markedGas: newOutcome(),
  };
  const forecast: ForecastOutcome = { errors: [], covered: 0, count: 0 };
  const noteForecast = (run: Run): void => {
    for (const h of run.byHeading) {
      forecast.count++;
      forecast.errors.push(Math.abs(h.value - h.truth) / 2);
      if (h.truth >= h.low && h.truth <= h.high) forecast.covered++;
    }
  };
  for (let seed = first; seed < first + count; seed++) {
    const stream = make(seed);
    if (rules) {
      scoreReadings(results.spread, stream, maxMinRule(stream.samples), 'full');
      scoreReadings(results.r, stream, rStatisticRule(stream.samples), 'full');
    }
    const plain = runDetector(stream, false);
    scoreReadings(results.own, stream, plain.full, 'full');
    scoreReadings(results.ownFirst, stream, plain.full, 'full', (k) => k === 0);
    scoreReadings(results.ownLater, stream, plain.full, 'full', (k) => k > 0);
    scoreReadings(results.ownGas, stream, plain.gas, 'gas');
    noteForecast(plain);
    if (only !== 'plain') {
      const marked = runDetector(stream, true);
      scoreReadings(results.marked, stream, marked.full, 'full', (k) => k > 0);
      scoreReadings(results.markedGas, stream, marked.gas, 'gas', (k) => k > 0);
    }
  }
  console.log(`seeds ${first}-${first + count - 1}`);
  console.log(`${''.padEnd(26)}false % right %  median   90 % repeats`);
  if (rules) {
    console.log(row("rule 'max-min 30 s'", results.spread));
    console.log(row('R-statistic', results.r));
  }
  console.log(row('ours, full readings', results.own));
  console.log(row('  first setting of a run', results.ownFirst));
  console.log(row('  later settings', results.ownLater));
  console.log(row('ours, gas readings', results.ownGas));
  if (only !== 'plain') {
    console.log(row('ours, marked, full', results.marked));
    console.log(row('ours, marked, gas', results.markedGas));
  }
  console.log(
    `heading half a slow constant after a change: median error ${quantile(forecast.errors, 0.5).toFixed(2)} B, p90 ${quantile(forecast.errors, 0.9).toFixed(2)} B, 95 % interval covers ${((100 * forecast.covered) / forecast.count).toFixed(1)} % of ${forecast.count}`,
  );
  if (verbose) for (const note of [...results.own.notes, ...results.ownGas.notes.map((n) => `gas ${n}`)]) console.log(note);
}
