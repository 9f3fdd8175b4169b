import { strengthOf, type Hint } from './patterns.ts';
import { median, valuesOf, within, type Episode, type Stream } from './stream.ts';

/** Why O2 leapt to that of air: the instrument took air, the probe was pulled, or the flame is out. */
export type FreshKind = 'purge' | 'probe-out' | 'burner-off' | 'not-known';

const LOOK_BACK_MS = 20_000;
/** the thermocouple of a pulled probe and the gas of a stopped burner have moved clearly by then */
const JUDGED_AFTER_MS = 40_000;

export function freshKind(stream: Stream, episode: Episode): FreshKind {
  const { stackTemperature, airTemperature } = stream.series;
  // the cell shows air some seconds after the sample has changed: the stack is looked at before that
  const before = within(stackTemperature, episode.fromMs - LOOK_BACK_MS - 10_000, episode.fromMs - 15_000);
  const until = Math.min(episode.toMs, episode.fromMs + JUDGED_AFTER_MS);
  const during = within(stackTemperature, Math.max(episode.fromMs, until - 10_000), until);
  if (before.length < 3 || during.length < 3) return 'not-known';
  const [hot, now] = [median(valuesOf(before)), median(valuesOf(during))];
  const airC = median(valuesOf(airTemperature ?? [])) || 20;
  if (hot - airC < 40) return 'not-known';
  const fallen = (hot - now) / (hot - airC);
  if (fallen < 0.05) return 'purge';
  const lasts = within(stackTemperature, episode.toMs - 10_000, episode.toMs);
  const coldest = lasts.length > 0 ? median(valuesOf(lasts)) : now;
  return (coldest - airC) / (hot - airC) < 0.12 && episode.toMs - episode.fromMs < 180_000 ? 'probe-out' : 'burner-off';
}

export function purgeHints(stream: Stream): Hint[] {
  const fresh = stream.episodes.filter((episode) => episode.kind === 'fresh' && episode.fromMs > stream.fromMs + LOOK_BACK_MS);
  return (['purge', 'probe-out'] as const).flatMap((kind): Hint[] => {
    const seen = fresh.filter((episode) => freshKind(stream, episode) === kind);
    const last = seen.at(-1);
    return last
      ? [
          {
            pattern: kind,
            strength: strengthOf(1 + seen.length, 1.5),
            figures: { times: seen.length, seconds: (last.toMs - last.fromMs) / 1000 },
            stretch: { fromMs: last.fromMs, toMs: last.toMs },
            trialIds: [],
          },
        ]
      : [];
  });
}

/** More CO than this after the flame, over what stood before, is oil that goes on coming. Own choice; a clean stop shows some tens of ppm at most. */
const AFTER_DRIP_PPM = 80;

/** CO that rises when the flame stops. */
export function afterDripHint(stream: Stream): Hint[] {
  const stops = stream.episodes.flatMap((episode): Hint[] => {
    if (episode.kind !== 'fresh' || episode.fromMs < stream.fromMs + LOOK_BACK_MS || freshKind(stream, episode) !== 'burner-off') return [];
    const before = within(stream.series.co, episode.fromMs - 60_000, episode.fromMs - 25_000);
    // what leaps when it is lit again is not of this stop
    const after = within(
      stream.series.co,
      episode.fromMs - 20_000,
      Math.min(episode.open ? Infinity : episode.toMs - 5000, episode.fromMs + 90_000),
    );
    if (before.length < 5 || after.length < 10) return [];
    const base = median(valuesOf(before));
    const peak = Math.max(...valuesOf(after));
    const lasting = after.filter(({ value }) => value > base + (peak - base) / 4);
    const rise = peak - base;
    if (rise < AFTER_DRIP_PPM) return [];
    return [
      {
        pattern: 'after-drip',
        strength: strengthOf(rise, AFTER_DRIP_PPM),
        figures: { risePpm: rise, seconds: (lasting.at(-1)!.t - lasting[0]!.t) / 1000 },
        stretch: { fromMs: episode.fromMs - 20_000, toMs: Math.min(episode.toMs, episode.fromMs + 90_000) },
        trialIds: [],
      },
    ];
  });
  return stops.slice(-1);
}
