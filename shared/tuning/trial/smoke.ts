import type { SmokeSpot } from '../../measurement/mark.ts';
import { err, ok, type Result } from '../../result.ts';

export type SmokeRefusal =
  | { key: 'smoke-above-scale'; typed: number }
  | { key: 'smoke-below-scale'; typed: number }
  | { key: 'smoke-not-half'; typed: number; nearest: number }
  | { key: 'smoke-unclear'; text: string };

/** Typed smoke: '3', '3.5', '3,5', '3½', '½', '1/2', 'trace' (a trade word for between 0 and 1, kept as one half). */
export function parseSmoke(typed: string): Result<number, SmokeRefusal> {
  const text = typed.trim().toLowerCase();
  if (text === 'trace') return ok(0.5);
  const match = /^(\d*)\s*(?:(½)|(1\/2))$/.exec(text);
  const value = match
    ? Number(match[1] === '' ? 0 : match[1]) + 0.5
    : /^-?\d+([.,]\d+)?$/.test(text)
      ? Number(text.replace(',', '.'))
      : undefined;
  if (value === undefined) return err({ key: 'smoke-unclear', text: typed });
  return checkSmoke(value);
}

export function checkSmoke(typed: number): Result<number, SmokeRefusal> {
  if (typed > 9) return err({ key: 'smoke-above-scale', typed });
  if (typed < 0) return err({ key: 'smoke-below-scale', typed });
  const nearest = Math.round(typed * 2) / 2;
  if (nearest !== typed) return err({ key: 'smoke-not-half', typed, nearest });
  return ok(typed);
}

/**
 * How several spots become one number. `half-up` rounding.
 *
 * @source mean-of-three-whole: 1st BImSchV, Annex 2 no. 3.2 (three spots, arithmetic mean, rounded to whole; wet or uneven spots are
 * repeated); single-spot: ASTM D2156 reads one spot (from memory); mean-to-half, worst-spot: common practice
 */
export const smokeRules = {
  'mean-of-three-whole': { spotsNeeded: 3, combine: (spots: readonly number[]) => Math.floor(mean(spots) + 0.5) },
  'mean-to-half': { spotsNeeded: 1, combine: (spots: readonly number[]) => Math.floor(mean(spots) * 2 + 0.5) / 2 },
  'single-spot': { spotsNeeded: 1, combine: (spots: readonly number[]) => spots[spots.length - 1] ?? 0 },
  'worst-spot': { spotsNeeded: 1, combine: (spots: readonly number[]) => Math.max(...spots) },
} as const satisfies Record<string, { spotsNeeded: number; combine: (spots: readonly number[]) => number }>;
export const smokeRuleNames = Object.keys(smokeRules) as [SmokeRuleName, ...SmokeRuleName[]];
export type SmokeRuleName = keyof typeof smokeRules;

export type SmokeResult = {
  rule: SmokeRuleName;
  /** by the rule; undefined when no usable spot is there */
  number: number | undefined;
  /** arithmetic mean of the usable spots, not rounded: what the air curve uses */
  mean: number | undefined;
  usableSpots: number;
  /** spots that got wet or uneven and must be repeated */
  toRepeat: number;
  /** spots still to take under this rule */
  stillNeeded: number;
  oilTrace: boolean;
};

const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;

/** Spots -> smoke number by a named rule. Wet and uneven spots do not count, but an oil trace on any spot does. */
export function smokeResult(spots: readonly SmokeSpot[], rule: SmokeRuleName): SmokeResult {
  const usable = spots.filter((spot) => spot.flaw === undefined).map((spot) => spot.number);
  const { spotsNeeded, combine } = smokeRules[rule];
  const any = usable.length > 0;
  return {
    rule,
    number: any ? combine(usable) : undefined,
    mean: any ? mean(usable) : undefined,
    usableSpots: usable.length,
    toRepeat: spots.length - usable.length,
    stillNeeded: Math.max(0, spotsNeeded - usable.length),
    oilTrace: spots.some((spot) => spot.oilTrace === true),
  };
}

/** Reading error of one spot against the scale: half a step either way. Common practice. */
export const SMOKE_HALF_WIDTH = 0.5;

/** Smoke that may be left; `smokeLimitExcluded`: 'below 1' instead of '1 at most'. */
export type SmokeLimit = { smokeLimit: number; smokeLimitExcluded?: boolean | undefined };
export const isSmokeOver = (smoke: number, { smokeLimit, smokeLimitExcluded }: SmokeLimit): boolean =>
  smokeLimitExcluded === true ? smoke >= smokeLimit : smoke > smokeLimit;
