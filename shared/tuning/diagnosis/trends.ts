import { strengthOf, type Hint } from './patterns.ts';
import { median, steadyStretches, trendOf, valuesOf, within, type Stream } from './stream.ts';

const MINUTE = 60_000;
/** after a turn of the shutter the cells and the gas need this; the metal needs longer and is not looked at here */
const SETTLES_MS = 90_000;
const AFTER_LIGHT_MS = 300_000;

const lastStretch = (stream: Stream, leastMs: number, mostMs: number) => {
  const stretch = steadyStretches(stream, SETTLES_MS, AFTER_LIGHT_MS).findLast(({ fromMs, toMs }) => toMs - fromMs >= leastMs);
  return stretch && { fromMs: Math.max(stretch.fromMs, stretch.toMs - mostMs), toMs: stretch.toMs };
};

/** @source linear rise of 1 to 10 ppm/min with O2 flat: procedure of the trade, common practice */
const CREEP_PPM_PER_MINUTE = 1;
const CREEP_RISE_PPM = 12;

export function creepingCoHint(stream: Stream): Hint[] {
  const stretch = lastStretch(stream, 4 * MINUTE, 8 * MINUTE);
  if (!stretch) return [];
  const co = trendOf(within(stream.series.co, stretch.fromMs, stretch.toMs));
  const o2 = trendOf(within(stream.series.o2, stretch.fromMs, stretch.toMs));
  if (!co || !o2 || Math.abs(o2.end - o2.start) > 0.3) return [];
  const minutes = (stretch.toMs - stretch.fromMs) / MINUTE;
  if (co.perMinute - co.half < CREEP_PPM_PER_MINUTE || co.perMinute * minutes < CREEP_RISE_PPM) return [];
  return [
    {
      pattern: 'creeping-co',
      strength: strengthOf(co.perMinute, 1.5),
      figures: { ppmPerMinute: co.perMinute, half: co.half, minutes, fromPpm: co.start, toPpm: co.end },
      stretch,
      trialIds: [],
    },
  ];
}

const STEP_WINDOW_MS = 60_000;
/** A regulator hides most of what is lost above its set point, so a small step counts when it is clear of the wander. Own choice. */
const DRAFT_STEP_PA = 1.8;
const CLEAR_OF_WANDER = 4;
/** what the suction may drift before and after, share of the step: more is a fall, not a step */
const DRIFT_SHARE = 0.35;
/** a step holds most of what is lost over the minutes around it */
const STEP_OF_WIDE = 0.6;

/** Suction lost within a minute: a fan, a door, a damper. Undone later or not. */
export function draftStepHint(stream: Stream): Hint[] {
  const draft = stream.series.draft ?? [];
  const part = (t: number, fromS: number, toS: number): number[] => valuesOf(within(draft, t + fromS * 1000, t + toS * 1000));
  let best: { t: number; lost: number; from: number; to: number } | undefined;
  for (let t = stream.fromMs + 2 * STEP_WINDOW_MS; t + 2.5 * STEP_WINDOW_MS <= stream.toMs; t += 10_000) {
    if (!burningAt(stream, t - 2 * STEP_WINDOW_MS, t + 2.5 * STEP_WINDOW_MS, 240_000)) continue;
    if (stream.adjustmentsMs.some((ms) => Math.abs(ms - t) < 2 * STEP_WINDOW_MS)) continue;
    const [earlier, before, after, later] = [part(t, -120, -60), part(t, -60, -5), part(t, 30, 90), part(t, 90, 150)];
    if (Math.min(earlier.length, before.length, after.length, later.length) < 10) continue;
    const [from, to] = [median(before), median(after)];
    const lost = to - from;
    const wander = Math.hypot(spread(before), spread(after)) / Math.SQRT2;
    const drift = Math.max(Math.abs(from - median(earlier)), Math.abs(median(later) - to));
    if (lost < DRAFT_STEP_PA || lost < CLEAR_OF_WANDER * wander || drift > DRIFT_SHARE * lost) continue;
    const wide = [part(t, -240, -120), part(t, 120, 240)] as const;
    const wideLost = wide[0].length > 10 && wide[1].length > 10 ? median(wide[1]) - median(wide[0]) : lost;
    if (lost < STEP_OF_WIDE * wideLost) continue;
    if (!best || lost > best.lost) best = { t, lost, from, to };
  }
  if (!best) return [];
  const o2 = [
    within(stream.series.o2, best.t - STEP_WINDOW_MS, best.t - 5000),
    within(stream.series.o2, best.t + 0.5 * STEP_WINDOW_MS, best.t + 1.5 * STEP_WINDOW_MS),
  ] as const;
  return [
    {
      pattern: 'draft-step',
      strength: strengthOf(best.lost, DRAFT_STEP_PA),
      figures: { fromPa: best.from, toPa: best.to, fromO2: median(valuesOf(o2[0])), toO2: median(valuesOf(o2[1])) },
      stretch: { fromMs: best.t - STEP_WINDOW_MS, toMs: best.t + 1.5 * STEP_WINDOW_MS },
      trialIds: [],
    },
  ];
}

/** Robust standard deviation from the middle half. */
const spread = (values: readonly number[]): number => {
  const middle = median(values);
  return median(values.map((value) => Math.abs(value - middle))) * 1.483;
};

const burningAt = (stream: Stream, fromMs: number, toMs: number, afterLightMs: number): boolean =>
  stream.episodes.some(
    (episode) =>
      episode.kind === 'burning' &&
      episode.toMs >= toMs &&
      (episode.fromMs <= stream.fromMs + stream.periodMs ? episode.fromMs : episode.fromMs + afterLightMs) <= fromMs,
  );

const DRAFT_FALL_PA = 2.5;

/** Suction that goes away over minutes, faster than the wander of a chimney. */
export function draftFallingHint(stream: Stream): Hint[] {
  const stretch = lastStretch(stream, 5 * MINUTE, 20 * MINUTE);
  if (!stretch) return [];
  const draft = trendOf(within(stream.series.draft, stretch.fromMs, stretch.toMs), 15_000);
  const minutes = (stretch.toMs - stretch.fromMs) / MINUTE;
  if (!draft || draft.perMinute - draft.half <= 0 || draft.perMinute * minutes < DRAFT_FALL_PA) return [];
  return [
    {
      pattern: 'draft-falling',
      strength: strengthOf(draft.perMinute * minutes, DRAFT_FALL_PA),
      figures: { fromPa: draft.start, toPa: draft.end, minutes },
      stretch,
      trialIds: [],
    },
  ];
}

/** @source -0.2 %/10 min over 20 min and more: procedure of the trade; the whole fall is asked to be clear of draft wander: own choice */
const O2_FALL_PERCENT = 0.4;

export function o2FallingHint(stream: Stream): Hint[] {
  const stretch = lastStretch(stream, 6 * MINUTE, 20 * MINUTE);
  if (!stretch) return [];
  const o2 = trendOf(within(stream.series.o2, stretch.fromMs, stretch.toMs), 20_000);
  const minutes = (stretch.toMs - stretch.fromMs) / MINUTE;
  if (!o2 || o2.perMinute + o2.half >= 0 || -o2.perMinute * minutes < O2_FALL_PERCENT) return [];
  return [
    {
      pattern: 'o2-falling',
      strength: strengthOf(o2.perMinute * minutes, O2_FALL_PERCENT) * 0.9,
      figures: { fromO2: o2.start, toO2: o2.end, minutes },
      stretch,
      trialIds: [],
    },
  ];
}

/** A stack that still climbs this long after light-off follows something heavier than steel. Own choice. */
const WARM_UP_MS = 7 * MINUTE;
const STILL_CLIMBING_K_PER_MINUTE = 1.5;

export function slowWarmUpHint(stream: Stream): Hint[] {
  const lit = stream.episodes.findLast((episode) => episode.kind === 'burning' && episode.fromMs > stream.fromMs + stream.periodMs);
  if (!lit || lit.toMs - lit.fromMs < WARM_UP_MS + 2 * MINUTE) return [];
  const stretch = { fromMs: lit.fromMs + WARM_UP_MS, toMs: Math.min(lit.toMs, lit.fromMs + WARM_UP_MS + 3 * MINUTE) };
  if (stream.adjustmentsMs.some((ms) => ms > lit.fromMs && ms < stretch.toMs)) return [];
  const stack = trendOf(within(stream.series.stackTemperature, stretch.fromMs, stretch.toMs));
  if (!stack || stack.perMinute - stack.half < STILL_CLIMBING_K_PER_MINUTE) return [];
  return [
    {
      pattern: 'slow-warm-up',
      strength: strengthOf(stack.perMinute, STILL_CLIMBING_K_PER_MINUTE) * 0.7,
      figures: { kPerMinute: stack.perMinute, minutes: (stretch.toMs - lit.fromMs) / MINUTE },
      stretch,
      trialIds: [],
    },
  ];
}
