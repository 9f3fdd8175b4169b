/**
 * How far the air inlet is open. Shutter and band are openings side by side in the fan's inlet, the head is in series with both:
 *
 *     1 / flow^2  ~  1 / inlet^2 + 1 / head^2
 *
 * The shutter is a round opening behind a straight edge (slow, fast, slow); the band uncovers slots and is the coarser of the two.
 * Sizes are our own, chosen so that near the middle one whole mark of the band moves O2 by nearly 2 %vol and one of the shutter by about 1.
 */
const LEAK_AREA = 0.06;
const SHUTTER_AREA = 0.32;
const BAND_AREA = 0.75;
const HEAD_AREA = 0.6;
export const middlePositions = { shutter: 5, band: 3 } as const;

const clampShare = (position: number): number => Math.min(1, Math.max(0, position / 10));

/** @returns relative flow capacity; 1 with both adjusters at the middle and nothing blocked */
export function flowCapacity({ shutter, band }: { readonly shutter: number; readonly band: number }, inletBlockage: number): number {
  return seriesArea(shutter, band, inletBlockage) / middleCapacity;
}

function seriesArea(shutter: number, band: number, inletBlockage: number): number {
  const shutterShare = clampShare(shutter);
  const shutterOpening = 0.5 * shutterShare + 0.25 * (1 - Math.cos(Math.PI * shutterShare));
  const bandOpening = clampShare(band) ** 1.2;
  const inlet = (LEAK_AREA + SHUTTER_AREA * shutterOpening + BAND_AREA * bandOpening) * (1 - inletBlockage);
  return 1 / Math.sqrt(1 / inlet ** 2 + 1 / HEAD_AREA ** 2);
}
const middleCapacity = seriesArea(middlePositions.shutter, middlePositions.band, 0);

/** Over-fire pressure, Pa against the room, at which `airRatioAtMiddle` holds. */
const NOMINAL_OVER_FIRE_PA = -5;

/** @returns air ratio; @param oilShare oil flow against nominal */
export function airRatio(conditions: {
  capacity: number;
  airRatioAtMiddle: number;
  fanPressurePa: number;
  overFirePa: number;
  oilShare: number;
}): number {
  const drive = Math.max(0.05, (conditions.fanPressurePa - conditions.overFirePa) / (conditions.fanPressurePa - NOMINAL_OVER_FIRE_PA));
  return (conditions.airRatioAtMiddle * conditions.capacity * Math.sqrt(drive)) / conditions.oilShare;
}
