import { strengthOf, type Hint } from './patterns.ts';
import { median, valuesOf, within, type Stream } from './stream.ts';

const NEGATIVE_CO_PPM = -3;
const NEGATIVE_LASTS_MS = 30_000;

/** CO below zero for half a minute: the zero was taken where there was CO. @source own cut, from the 2 ppm zero of OIML R 144-1 */
export function negativeCoHint(stream: Stream): Hint[] {
  const co = stream.series.co ?? [];
  let sinceMs: number | undefined;
  let best: { fromMs: number; toMs: number } | undefined;
  for (const { t, value } of co) {
    if (value > NEGATIVE_CO_PPM) sinceMs = undefined;
    else {
      sinceMs ??= t;
      if (!best || t - sinceMs >= best.toMs - best.fromMs) best = { fromMs: sinceMs, toMs: t };
    }
  }
  if (!best || best.toMs - best.fromMs < NEGATIVE_LASTS_MS) return [];
  const lowest = median(valuesOf(within(co, best.fromMs, best.toMs)));
  return [{ pattern: 'negative-co', strength: strengthOf(lowest, 3), figures: { ppm: lowest }, stretch: best, trialIds: [] }];
}

const IMPOSSIBLE_O2_PERCENT = -0.2;

export function impossibleO2Hint(stream: Stream): Hint[] {
  const o2 = within(stream.series.o2, stream.toMs - 600_000, stream.toMs);
  const below = o2.filter(({ value }) => value < IMPOSSIBLE_O2_PERCENT);
  const above = o2.filter(({ value }) => value > 21.6);
  const worse = below.length >= above.length ? below : above;
  if (worse.length < 10) return [];
  const value = median(valuesOf(worse));
  return [
    {
      pattern: 'impossible-o2',
      strength: 0.9,
      figures: { o2: value },
      stretch: { fromMs: worse[0]!.t, toMs: worse.at(-1)!.t },
      trialIds: [],
    },
  ];
}

const STUCK_MS = 120_000;

/** One value to the last digit for two minutes of flame while another channel moves. */
export function stuckHint(stream: Stream): Hint[] {
  const fromMs = stream.toMs - STUCK_MS;
  const moves = (points: readonly { value: number }[], least: number): boolean =>
    Math.max(...points.map((p) => p.value)) - Math.min(...points.map((p) => p.value)) > least;
  const o2 = within(stream.series.o2, fromMs, stream.toMs);
  const co = within(stream.series.co, fromMs, stream.toMs);
  const stack = within(stream.series.stackTemperature, fromMs, stream.toMs);
  const changed = stream.adjustmentsMs.some((ms) => ms > fromMs && ms < stream.toMs - 60_000) && stack.length > 10 && moves(stack, 4);
  const long = o2.length * stream.periodMs > 0.8 * STUCK_MS && stream.fromMs < fromMs;
  if (!long || moves(o2, 0) || (o2[0]?.value ?? 21) > 18) return [];
  // flue gas at rest can hold one digit for minutes, also while the metal still warms: it is stuck only when something that O2 must follow has moved
  if (!changed && !(co.length > 10 && moves(co, 60))) return [];
  return [
    {
      pattern: 'stuck',
      strength: 0.8,
      figures: { o2: o2[0]!.value, seconds: STUCK_MS / 1000 },
      stretch: { fromMs, toMs: stream.toMs },
      trialIds: [],
    },
  ];
}

/** From a tenth to nine tenths of a leap of O2. Cells in order take 10 to 25 s; half of the field standard's 50 s is kept free. Own choice. */
const SLOW_RISE_S = 40;

/** How long O2 takes from air to flue gas: at light-off, and after a purge. */
export function slowCellHint(stream: Stream): Hint[] {
  const o2 = stream.series.o2 ?? [];
  const rises = stream.episodes.flatMap((episode, index) => {
    const before = stream.episodes[index - 1];
    if (episode.kind !== 'burning' || !before || episode.toMs - episode.fromMs < 120_000) return [];
    const air = median(valuesOf(within(o2, before.toMs - 10_000, before.toMs - 2000)));
    // where O2 stands soon after the leap, before chimney and room have moved it far
    const end = median(valuesOf(within(o2, episode.fromMs + 100_000, episode.fromMs + 130_000)));
    const turned = stream.adjustmentsMs.some((ms) => ms > episode.fromMs && ms < episode.fromMs + 130_000);
    if (!(air - end > 5) || turned) return [];
    const leap = within(o2, before.toMs - 60_000, episode.fromMs + 130_000);
    const start = leap.findLast(({ value }) => value > air - 0.1 * (air - end));
    const done = start && leap.find(({ t, value }) => t > start.t && value < end + 0.1 * (air - end));
    return start && done ? [{ seconds: (done.t - start.t) / 1000, fromMs: start.t, toMs: done.t }] : [];
  });
  const slowest = rises.sort((a, b) => b.seconds - a.seconds)[0];
  if (!slowest || slowest.seconds < SLOW_RISE_S) return [];
  return [
    {
      pattern: 'slow-cell',
      strength: strengthOf(slowest.seconds, SLOW_RISE_S),
      figures: { seconds: slowest.seconds },
      stretch: { fromMs: slowest.fromMs, toMs: slowest.toMs },
      trialIds: [],
    },
  ];
}

export function gapHint(stream: Stream): Hint[] {
  const last = stream.gaps.at(-1);
  if (!last) return [];
  const longest = Math.max(...stream.gaps.map((gap) => gap.toMs - gap.fromMs)) / 1000;
  return [
    {
      pattern: 'gap',
      strength: strengthOf(longest, 15),
      figures: { times: stream.gaps.length, seconds: (last.toMs - last.fromMs) / 1000 },
      stretch: last,
      trialIds: [],
    },
  ];
}
