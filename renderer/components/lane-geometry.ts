/** Where things stand on a channel's lane. One unit `u` scales line widths; distances are bands on an arsinh scale. Pure. */

export type LaneSize = { readonly width: number; readonly height: number; readonly u: number };
export const laneSizes = {
  normal: { width: 160, height: 56, u: 1.3 },
  large: { width: 220, height: 76, u: 1.75 },
  far: { width: 310, height: 100, u: 2.5 },
} as const satisfies Record<string, LaneSize>;
export type LaneSizeName = keyof typeof laneSizes;

/** Tick marks stand at these distances, in bands. */
export const tickBands = [2, 5, 10] as const;
/** The lane ends here; what is further away stands at its end. */
export const lastBand = 14;

/** Horizontal distance from the middle of the slot for a change still to come, in bands (signed). One band is the edge of the slot. */
export function offsetOf(bands: number, { width, u }: LaneSize): number {
  const perUnit = (width / 2 - 8 * u) / Math.asinh(lastBand);
  return perUnit * Math.asinh(Math.max(-lastBand, Math.min(lastBand, bands)));
}

export function laneGeometry(size: LaneSize) {
  const { width, height, u } = size;
  const middle = width / 2;
  const centre = height / 2;
  const slotHalf = offsetOf(1, size);
  const slotTall = 18 * u;
  const pinWide = 12 * u;
  return {
    middle,
    centre,
    slotHalf,
    slotTall,
    slotArm: 7 * u,
    slotLine: 4 * u,
    pinWide,
    pinTall: 30 * u,
    margin: 8 * u,
    ticks: tickBands.flatMap((band) => [offsetOf(band, size), -offsetOf(band, size)]),
    tickTall: 8 * u,
    u,
  };
}

/** A settling pin stands outside the slot, wholly: on the side where it is. */
export function pinOffset(bandsToGo: number, size: LaneSize): number {
  const { slotHalf, pinWide, slotLine } = laneGeometry(size);
  const nearest = slotHalf + slotLine / 2 + pinWide / 2 + 1;
  const farthest = size.width / 2 - pinWide / 2 - 2;
  const distance = Math.min(farthest, Math.max(nearest, Math.abs(offsetOf(bandsToGo, size))));
  return bandsToGo < 0 ? -distance : distance;
}
