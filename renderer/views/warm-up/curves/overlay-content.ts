/** What the overlay draws: kept curves, the run that is measured now, the usual band, the moments when a curve was steady. */
import type { SettlingChannel } from '../../../../shared/measurement/channel.ts';
import { difference, referenceBand, type CurveChannel, type WarmUpCurve } from '../../../../shared/warm-up/curve.ts';
import { warmUp } from '../../../../shared/words/warm-up.ts';
import type { OverlayContent, OverlayCurve, OverlayRange } from '../../../charts/overlay-content.ts';
import type { RunBuffers } from '../../../live/run-buffers.ts';
import type { KeptCurve } from '../use-documents.ts';
import { formatNumber } from '../../../../shared/format/quantity.ts';

export type OverlayChoice = {
  readonly channel: SettlingChannel;
  readonly shows: 'curves' | 'difference' | 'band';
  /** the curve that is looked at */
  readonly lookedAt: string | undefined;
  readonly scale: { readonly factor: number; readonly offset: number; readonly decimals: number };
};

/** Five of the six dashes are for kept curves, one is for the run that is measured now; further curves are thin and told by their number. */
export const styleOf = (index: number): number => index + 1;
export const numbered = (index: number, name: string): string => `${index + 1} ${name}`;

export type KeptPart = Pick<OverlayContent, 'curves' | 'band' | 'points'>;

/** Everything that stays as it is from frame to frame. */
export function keptPartOf(shown: readonly KeptCurve[], { channel, shows, lookedAt, scale }: OverlayChoice): KeptPart {
  const isDifference = shows === 'difference';
  const toShown = (value: number): number => value * scale.factor + (isDifference ? 0 : scale.offset);
  const first = shown[0]?.curve;
  const curves = shown.flatMap(({ id, curve }, index): OverlayCurve[] => {
    const column: CurveChannel | undefined =
      isDifference && first !== undefined ? difference(curve, first, channel) : curve.channels[channel];
    if (column === undefined) return [];
    return [
      {
        id,
        label: numbered(index, curve.name),
        style: styleOf(index),
        strong: id === lookedAt,
        points: pointsOf(column, toShown),
      },
    ];
  });
  const usual =
    shows === 'band'
      ? referenceBand(
          shown.map(({ curve }) => curve),
          channel,
        )
      : undefined;
  const steady = shown.length === 1 ? first : shown.find(({ id }) => id === lookedAt)?.curve;
  return {
    curves,
    band:
      usual === undefined
        ? undefined
        : {
            low: usual.seconds.map((x, i) => ({ x, y: toShown(usual.low[i] as number) })),
            high: usual.seconds.map((x, i) => ({ x, y: toShown(usual.high[i] as number) })),
          },
    points: steady === undefined || isDifference || channel !== 'stackTemperature' ? [] : steadyPoints(steady, toShown),
  };
}

const HOLE_S = 20;
/** A curve of some hours has fewer points a minute; so many times its usual step is a hole. */
const HOLE_STEPS = 6;

/** The points of a curve; where lines were missing it is broken off, not drawn through. */
function pointsOf({ seconds, values }: CurveChannel, toShown: (value: number) => number): { x: number; y: number }[] {
  const usual = seconds.length < 2 ? 0 : ((seconds.at(-1) as number) - (seconds[0] as number)) / (seconds.length - 1);
  const hole = Math.max(HOLE_S, HOLE_STEPS * usual);
  return seconds.flatMap((x, i) => {
    const point = { x, y: toShown(values[i] as number) };
    const before = seconds[i - 1];
    return before !== undefined && x - before > hole ? [{ x: (before + x) / 2, y: NaN }, point] : [point];
  });
}

/** The run on screen, as far as it is in sight. */
export function liveCurveOf(
  run: RunBuffers,
  { channel, scale }: OverlayChoice,
  lightOffMs: number,
  { fromS, toS }: OverlayRange,
): OverlayCurve {
  const nowMs = run.nowMs();
  const { timeMs, low, high } = run
    .series(channel)
    .query(Math.max(0, lightOffMs + fromS * 1000 - 5000), Math.min(nowMs, lightOffMs + toS * 1000 + 5000), 700);
  return {
    id: 'now',
    label: warmUp.runNow,
    style: 0,
    strong: true,
    points: timeMs.map((time, i) => ({
      x: (time - lightOffMs) / 1000,
      y: (((low[i] as number) + (high[i] as number)) / 2) * scale.factor + scale.offset,
    })),
  };
}

/** Where both criteria were met. */
function steadyPoints(curve: WarmUpCurve, toShown: (value: number) => number): OverlayContent['points'] {
  const column = curve.channels.stackTemperature;
  const at = (seconds: number | undefined, label: (minutes: string) => string) => {
    if (seconds === undefined || column === undefined) return [];
    const index = column.seconds.findIndex((one) => one >= seconds);
    return index < 0 ? [] : [{ x: seconds, y: toShown(column.values[index] as number), label: label(formatNumber(seconds / 60, 1)) }];
  };
  return [...at(curve.steadyOwnS, warmUp.own), ...at(curve.steadyPublishedS, warmUp.published)];
}
