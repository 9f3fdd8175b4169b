import { quantileSorted } from 'simple-statistics';
import { antitonicFit } from './isotonic.ts';
import { normalFrom, seededRandom } from '../training/random.ts';
import { SMOKE_HALF_WIDTH } from '../trial/smoke.ts';

/** `random`/`common`: standard uncertainty of O2 that differs between trials / that all share. `spots`: how many made up the smoke number. */
export type SmokePoint = { o2: number; random: number; common: number; smoke: number; spots: number };

export type SmokeOnset =
  | {
      state: 'found';
      o2: number;
      low: number;
      high: number;
      /** the interval against the other trials: without the sensor error that all share */
      relativeLow: number;
      relativeHigh: number;
      smokySide: number;
      cleanSide: number;
    }
  | { state: 'not-enough-points'; missing: 'trials' | 'smoky-side' | 'clean-side'; have: number };

/** The fit reaching this is the onset: half way to smoke number 1, a trace. */
export const ONSET_SMOKE = 0.5;
const LEAST_TRIALS = 3;
const REFITS = 400;
const SEED = 20_731;
/** A side that vanishes in more of the re-fits than this is not covered. Own choice. */
const VANISHED_SHARE = 0.1;

/**
 * O2 at which smoke begins: where the non-increasing fit of smoke over O2 crosses one half, going straight between the two trials around it.
 *
 * The interval (95 %) comes from re-fitting with O2 inside its uncertainty and each spot inside half a step; and because smoke between two
 * trials is only known to be monotone, each re-fit lets the onset lie anywhere between the two trials around the crossing, with the
 * straight line between them as the likeliest. Never beyond the points.
 *
 * @source isotonic fit: see isotonic.ts; smoke +-1/2: common practice
 */
export function smokeOnset(points: readonly SmokePoint[]): SmokeOnset {
  const sorted = [...points].sort(byAir);
  const have = sorted.length;
  const missing = missingSide(sorted);
  if (missing) return { state: 'not-enough-points', missing, have };
  const crossing = crossingOf(
    sorted.map((point) => point.o2),
    sorted.map((point) => point.smoke),
  )!;
  const lowest = sorted[0]!.o2;
  const highest = sorted[have - 1]!.o2;
  const inside = (o2: number): number => Math.min(highest, Math.max(lowest, o2));
  const random = seededRandom(SEED);
  const common = Math.max(...sorted.map((point) => point.common));
  const draws: number[] = [];
  const relative: number[] = [];
  const vanished = { smoky: 0, clean: 0 };
  for (let refit = 0; refit < REFITS; refit++) {
    const shift = common * normalFrom(random);
    const moved = sorted
      .map((point) => ({ o2: point.o2 + point.random * normalFrom(random), smoke: perturbed(point, random) }))
      .sort(byAir);
    const again = crossingOf(
      moved.map((point) => point.o2),
      moved.map((point) => point.smoke),
    );
    if (again) {
      const drawn = between(again, random);
      draws.push(inside(drawn + shift));
      relative.push(inside(drawn));
    } else if (moved[0]!.smoke < ONSET_SMOKE) vanished.smoky++;
    else vanished.clean++;
  }
  // one spot of a half is not smoke seen: half a step of reading error could have made it
  if (vanished.smoky > VANISHED_SHARE * REFITS) return { state: 'not-enough-points', missing: 'smoky-side', have };
  if (vanished.clean > VANISHED_SHARE * REFITS) return { state: 'not-enough-points', missing: 'clean-side', have };
  draws.sort((a, b) => a - b);
  relative.sort((a, b) => a - b);
  return {
    state: 'found',
    o2: crossing.o2,
    low: Math.min(crossing.o2, quantileSorted(draws, 0.025)),
    high: Math.max(crossing.o2, quantileSorted(draws, 0.975)),
    relativeLow: Math.min(crossing.o2, quantileSorted(relative, 0.025)),
    relativeHigh: Math.max(crossing.o2, quantileSorted(relative, 0.975)),
    smokySide: crossing.left,
    cleanSide: crossing.right,
  };
}

/** At one O2 the smokier spot first: the order in which they were pumped decides nothing. */
const byAir = (a: { o2: number; smoke: number }, b: { o2: number; smoke: number }): number => a.o2 - b.o2 || b.smoke - a.smoke;

function missingSide(sorted: readonly SmokePoint[]): 'trials' | 'smoky-side' | 'clean-side' | undefined {
  if (sorted.length === 0) return 'trials';
  const fit = antitonicFit(sorted.map((point) => point.smoke));
  if (fit[0]! < ONSET_SMOKE) return 'smoky-side';
  if (fit[fit.length - 1]! >= ONSET_SMOKE) return 'clean-side';
  return sorted.length < LEAST_TRIALS ? 'trials' : undefined;
}

type Crossing = { o2: number; left: number; right: number };

function crossingOf(o2: readonly number[], smoke: readonly number[]): Crossing | undefined {
  const fit = antitonicFit(smoke);
  const clean = fit.findIndex((value) => value < ONSET_SMOKE);
  if (clean <= 0) return undefined;
  const [left, right] = [o2[clean - 1]!, o2[clean]!];
  const [above, below] = [fit[clean - 1]!, fit[clean]!];
  return { o2: left + ((above - ONSET_SMOKE) / (above - below)) * (right - left), left, right };
}

/** Triangular between the two trials, peak at the straight line's crossing. */
function between({ o2, left, right }: Crossing, random: () => number): number {
  const share = random();
  const width = right - left;
  if (width <= 0) return o2;
  const peak = (o2 - left) / width;
  return left + width * (share < peak ? Math.sqrt(share * peak) : 1 - Math.sqrt((1 - share) * (1 - peak)));
}

function perturbed(point: SmokePoint, random: () => number): number {
  const halfWidth = SMOKE_HALF_WIDTH / Math.sqrt(Math.max(1, point.spots));
  return Math.min(9, Math.max(0, point.smoke + (2 * random() - 1) * halfWidth));
}
