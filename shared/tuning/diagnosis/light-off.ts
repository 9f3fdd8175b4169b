/**
 * How it lights. Oil that came before the flame stood burns at once when it does: CO leaps and is gone within a minute, and the area under that
 * leap grows with the oil that waited. One start says little; several, cold and warm, alike or not, tell what the spark does.
 */
import { strengthOf, type Hint, type PatternKey } from './patterns.ts';
import { freshKind } from './fresh-air.ts';
import { median, valuesOf, within, type Point, type Stream } from './stream.ts';

export type LightOff = {
  readonly atMs: number;
  readonly fromCold: boolean;
  /** under the leap of CO, above what the flame settles at, ppm s */
  readonly areaPpmS: number;
  readonly peakPpm: number;
};

/** A chamber that has been off for longer is cold. Own choice. */
const COLD_AFTER_MS = 600_000;
const BEFORE_MS = 10_000;
const LEAP_MS = 75_000;
const LEVEL_MS = 105_000;
/** A leap is gone within a minute; a cold flame that smokes goes on. */
const GONE_MS = [45_000, 60_000] as const;
const GONE_SHARE = 0.2;
/** More than this is oil that waited; a start from cold smokes and leaps by itself. Own choice, clear of the healthy starts of the simulated burner. */
const LATE_WARM_PPM_S = 9000;
const LATE_COLD_PPM_S = 30_000;
/** Oil of several seconds at once: a puff. Own choice. */
const PUFF_PPM_S = 57_000;
/** From start to start by this share at least. Own choice. */
const GROWS_SHARE = 1.12;

export function lightOffs(stream: Stream): LightOff[] {
  const co = stream.series.co ?? [];
  return stream.episodes.flatMap((episode, index): LightOff[] => {
    const off = stream.episodes[index - 1];
    if (episode.kind !== 'burning' || off?.kind !== 'fresh') return [];
    const isFirst = index === 1;
    // fresh air for the instrument is no stop of the burner
    if (!isFirst && freshKind(stream, off) === 'purge') return [];
    const level = within(co, episode.fromMs + LEAP_MS, episode.fromMs + LEVEL_MS);
    const leap = within(co, episode.fromMs - BEFORE_MS, episode.fromMs + LEAP_MS);
    if (level.length < 10 || leap.length < 20) return [];
    const floor = median(valuesOf(level));
    const peakPpm = Math.max(...valuesOf(leap));
    const rest = median(valuesOf(within(co, episode.fromMs + GONE_MS[0], episode.fromMs + GONE_MS[1])));
    const isLeap = rest - floor < GONE_SHARE * (peakPpm - floor);
    return [
      {
        atMs: episode.fromMs,
        fromCold: isFirst || off.toMs - off.fromMs > COLD_AFTER_MS,
        areaPpmS: isLeap ? areaAbove(leap, floor) : 0,
        peakPpm,
      },
    ];
  });
}

/** Over range has no value: the straight line across it is the least that it was. */
function areaAbove(points: readonly Point[], floor: number): number {
  let area = 0;
  for (const [index, { t, value }] of points.entries()) {
    const before = points[index - 1];
    if (before !== undefined) area += (((t - before.t) / 1000) * (Math.max(0, value - floor) + Math.max(0, before.value - floor))) / 2;
  }
  return area;
}

/** At most one pattern, the most telling; nothing from fewer than two starts from warm. */
export function lightOffHint(stream: Stream): Hint[] {
  const starts = lightOffs(stream);
  const warm = starts.filter(({ fromCold }) => !fromCold);
  if (warm.length < 2) return [];
  const isLate = ({ fromCold, areaPpmS }: LightOff): boolean => areaPpmS > (fromCold ? LATE_COLD_PPM_S : LATE_WARM_PPM_S);
  const late = starts.filter(isLate);
  const lateWarm = warm.filter(isLate);
  const last = late.at(-1);
  if (last === undefined) return [];
  const cold = starts.filter(({ fromCold }) => fromCold);
  const areas = warm.map(({ areaPpmS }) => areaPpmS);
  const grows = warm.length >= 3 && areas.every((area, index) => index === 0 || area > GROWS_SHARE * areas[index - 1]!);
  const pattern = ((): PatternKey | undefined => {
    if (lateWarm.length === 0) return cold.length > 0 && cold.every(isLate) ? 'late-when-cold' : undefined;
    if (grows) return 'later-each-start';
    if (lateWarm.length < warm.length) return 'lights-now-and-then';
    if (median(areas) > PUFF_PPM_S) return 'light-off-puff';
    if (cold.length > 0 && !cold.some(isLate)) return 'late-when-warm';
    return 'late-light';
  })();
  if (pattern === undefined) return [];
  return [
    {
      pattern,
      strength: strengthOf(Math.max(...late.map(({ areaPpmS, fromCold }) => areaPpmS / (fromCold ? LATE_COLD_PPM_S : LATE_WARM_PPM_S))), 1),
      figures: { starts: starts.length, late: late.length, peakPpm: Math.max(...late.map(({ peakPpm }) => peakPpm)) },
      stretch: { fromMs: last.atMs - BEFORE_MS, toMs: last.atMs + LEAP_MS },
      trialIds: [],
    },
  ];
}
