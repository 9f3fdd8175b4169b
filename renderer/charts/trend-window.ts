/** Which stretch of time the trend shows. Pure: (window, deed) -> window. Times are run time in ms. */

export type TrendWindow = { kind: 'following'; backMs: number; aheadMs: number } | { kind: 'fixed'; fromMs: number; toMs: number };

const MINUTE = 60_000;
/** At rest: 12 min back and 4 min ahead (a little more, so that the last tick is whole). */
const REST_BACK = 12 * MINUTE;
const AHEAD_SHARE = 0.4;
const NARROWEST = 20_000;
const WIDEST = 48 * 60 * MINUTE;

/** A young run is shown closer, in steps, so that the first minutes are not a thin stripe. */
export function windowAtRest(runMs: number): TrendWindow {
  const backMs = runMs < 4 * MINUTE ? 4 * MINUTE : runMs < 8 * MINUTE ? 8 * MINUTE : REST_BACK;
  return { kind: 'following', backMs, aheadMs: backMs * AHEAD_SHARE };
}

export function spanOf(window: TrendWindow, nowMs: number): { fromMs: number; toMs: number } {
  return window.kind === 'fixed'
    ? { fromMs: window.fromMs, toMs: window.toMs }
    : { fromMs: nowMs - window.backMs, toMs: nowMs + window.aheadMs };
}

/** `share` of the width, positive looks later. */
export function panned(window: TrendWindow, nowMs: number, share: number): TrendWindow {
  const { fromMs, toMs } = spanOf(window, nowMs);
  const by = (toMs - fromMs) * share;
  return { kind: 'fixed', fromMs: fromMs + by, toMs: toMs + by };
}

/** `factor` above 1 looks wider; `aroundMs` keeps its place. Zooming while following keeps following. */
export function zoomed(window: TrendWindow, nowMs: number, factor: number, aroundMs?: number): TrendWindow {
  const { fromMs, toMs } = spanOf(window, nowMs);
  const width = Math.min(WIDEST, Math.max(NARROWEST, (toMs - fromMs) * factor));
  const scale = width / (toMs - fromMs);
  if (window.kind === 'following' && aroundMs === undefined)
    return { kind: 'following', backMs: window.backMs * scale, aheadMs: window.aheadMs * scale };
  const around = aroundMs ?? (fromMs + toMs) / 2;
  const from = around - (around - fromMs) * scale;
  return { kind: 'fixed', fromMs: from, toMs: from + width };
}

/** Steps to the mark before the middle; from the oldest it comes back to the newest. */
export function towardsMark(window: TrendWindow, nowMs: number, markTimesMs: readonly number[]): TrendWindow {
  if (markTimesMs.length === 0) return window;
  const { fromMs, toMs } = spanOf(window, nowMs);
  const middle = window.kind === 'fixed' ? (fromMs + toMs) / 2 : Infinity;
  const sorted = [...markTimesMs].sort((a, b) => b - a);
  const next = sorted.find((time) => time < middle - 1) ?? sorted[0] ?? middle;
  const half = (toMs - fromMs) / 2;
  return { kind: 'fixed', fromMs: next - half, toMs: next + half };
}

export type TimeTick = { timeMs: number; text: string };
const steps = [
  5_000,
  10_000,
  30_000,
  MINUTE,
  2 * MINUTE,
  5 * MINUTE,
  10 * MINUTE,
  30 * MINUTE,
  60 * MINUTE,
  180 * MINUTE,
  360 * MINUTE,
  720 * MINUTE,
  1440 * MINUTE,
];

/** About `most` ticks on round times before and after `originMs` (now while following, else the run's wall clock). */
export function timeTicks(
  span: { fromMs: number; toMs: number },
  originMs: number,
  most: number,
  textOf: (offsetMs: number) => string,
): TimeTick[] {
  const width = span.toMs - span.fromMs;
  const step = steps.find((one) => width / one <= most) ?? WIDEST;
  const ticks: TimeTick[] = [];
  for (let index = Math.ceil((span.fromMs - originMs) / step); originMs + index * step <= span.toMs; index++) {
    ticks.push({ timeMs: originMs + index * step, text: textOf(index * step) });
  }
  return ticks;
}

/** While following: round times back, now, and one round time ahead, however short the stretch ahead is. */
export function followingTicks(
  span: { fromMs: number; toMs: number },
  nowMs: number,
  most: number,
  textOf: (offsetMs: number) => string,
): TimeTick[] {
  const behind = timeTicks({ fromMs: span.fromMs, toMs: nowMs }, nowMs, Math.max(2, most - 1), textOf);
  const room = (span.toMs - nowMs) * 0.9;
  const unit = room >= MINUTE ? MINUTE : 10_000;
  const aheadMs = Math.floor(room / unit) * unit;
  return aheadMs <= 0 ? behind : [...behind, { timeMs: nowMs + aheadMs, text: textOf(aheadMs) }];
}
