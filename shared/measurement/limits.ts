/**
 * Settling bands and instrument tolerances: one shape with one spelling for settings, run files, visits, settling and combustion.
 * What depends on the value (CO) is worked out here and nowhere else.
 */
import { z } from 'zod';
import type { ChannelId, SettlingChannel } from './channel.ts';

type Range = { readonly low: number; readonly high: number };

/** What may be typed for each band, inner units; `coShare` is a share of the value. */
export const bandRanges = {
  o2Percent: { low: 0.02, high: 2 },
  coPpm: { low: 1, high: 200 },
  coShare: { low: 0, high: 0.5 },
  stackK: { low: 0.2, high: 20 },
  airK: { low: 0.2, high: 10 },
} as const satisfies Record<string, Range>;

/** What may be typed for each tolerance, inner units. */
export const toleranceRanges = {
  o2Percent: { low: 0, high: 2 },
  coPpm: { low: 0, high: 200 },
  coShare: { low: 0, high: 0.5 },
  stackK: { low: 0, high: 20 },
  airK: { low: 0, high: 10 },
  fuelPoints: { low: 0, high: 2 },
} as const satisfies Record<string, Range>;

/** Half-widths within which a channel counts as settled. */
export type Bands = { readonly [K in keyof typeof bandRanges]: number };
/** Half-widths of what the instrument may be off by, rectangular (JCGM 100:2008, 4.3.7), and of the fuel in points of efficiency. */
export type Tolerances = { readonly [K in keyof typeof toleranceRanges]: number };

/** Our choice; common practice as to size (2 K of stack temperature are about 0.1 point of stack loss). */
export const defaultBands: Bands = { o2Percent: 0.2, coPpm: 10, coShare: 0.1, stackK: 2, airK: 1 };

/**
 * @source O2, stack, air and CO (20 ppm, and 5 % from 400 ppm on): the size of the tolerances in EN 50379-2, from memory.
 * Fuel: FORMULAS.md#unknown-oil.
 */
export const defaultTolerances: Tolerances = { o2Percent: 0.3, coPpm: 20, coShare: 0.05, stackK: 2, airK: 1, fuelPoints: 0.25 };

const band = z.number().positive();
const share = z.number().nonnegative();
/** As a run file holds them. Files of format version 1 spell three of them differently. */
export const StoredBands = z.union([
  z.object({ o2Percent: band, coPpm: band, coShare: share, stackK: band, airK: band }),
  z
    .object({ o2Percent: band, coPpm: band, coFraction: share, stackC: band, airC: band })
    .transform(({ coFraction, stackC, airC, ...same }) => ({ ...same, coShare: coFraction, stackK: stackC, airK: airC })),
]);

/** As a run file and a visit hold them. */
export const StoredTolerances = z.object({ o2Percent: share, coPpm: share, coShare: share, stackK: share, airK: share, fuelPoints: share });

/** @returns the half-width of the band of `channel` around `value`, inner unit */
export function bandAt(bands: Bands, channel: SettlingChannel, value: number): number {
  switch (channel) {
    case 'o2':
      return bands.o2Percent;
    case 'co':
      return coHalfWidth(bands, value);
    case 'stackTemperature':
      return bands.stackK;
    case 'airTemperature':
      return bands.airK;
  }
}

/** @returns what `channel` may be off by at `value`, half-width; undefined for a channel of which nothing is said */
export function toleranceAt(tolerances: Tolerances, channel: ChannelId, value: number): number | undefined {
  switch (channel) {
    case 'o2':
    case 'co2':
      return tolerances.o2Percent;
    case 'co':
      return coHalfWidth(tolerances, value);
    case 'stackTemperature':
      return tolerances.stackK;
    case 'airTemperature':
      return tolerances.airK;
    default:
      return undefined;
  }
}

/** The larger of a fixed and a relative part. */
export const coHalfWidth = ({ coPpm, coShare }: { readonly coPpm: number; readonly coShare: number }, valuePpm: number): number =>
  Math.max(coPpm, coShare * Math.abs(valuePpm));
