import type { XY } from './overlay-points.ts';

export type OverlayCurve = {
  readonly id: string;
  /** begins with the curve's number in the table, so that it is found without its colour */
  readonly label: string;
  /** shown units, in the order of x */
  readonly points: readonly XY[];
  /** 0 to 5 have a colour and dash of their own, the rest is thin */
  readonly style: number;
  /** the one that is looked at */
  readonly strong: boolean;
};
export type OverlayContent = {
  readonly curves: readonly OverlayCurve[];
  readonly band: { readonly low: readonly { x: number; y: number }[]; readonly high: readonly { x: number; y: number }[] } | undefined;
  /** open squares with a word, s from light-off */
  readonly points: readonly { x: number; y: number; label: string }[];
  readonly decimals: number;
  /** over the value axis */
  readonly unit: string;
  readonly minutes: (value: string) => string;
  readonly lightOff: string;
};
export type OverlayRange = { readonly fromS: number; readonly toS: number };

export const curveDashes: readonly (readonly number[])[] = [[], [9, 5], [14, 4, 2, 4], [2, 5], [10, 4, 2, 4, 2, 4], [22, 6]];
