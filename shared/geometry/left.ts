/** How far a burner was left outside its card, for the simulated burner: it lights, burns and smokes accordingly. */
import { GeometryLeft } from '../measurement/geometry-left.ts';
import type { GeometryItem } from './items.ts';
import type { GeometryVerdict } from './verdict.ts';

export const asTheCardWants: GeometryLeft = GeometryLeft.parse({});

const within = (value: number, most: number): number => Math.min(most, Math.max(-most, value));

/** @returns nothing for what was not measured or has no limits: a burner is not made wrong by a figure that is missing */
export function leftFrom(
  verdictOf: (item: GeometryItem) => GeometryVerdict,
  { porcelainCracked = false, nozzleShare = 1 }: Partial<Pick<GeometryLeft, 'porcelainCracked' | 'nozzleShare'>> = {},
): GeometryLeft {
  const outside = (item: GeometryItem): number => {
    const verdict = verdictOf(item);
    if (verdict.verdict !== 'fail') return 0;
    const { value, limits } = verdict;
    return value < limits.low ? value - limits.low : value - limits.high;
  };
  const length = (item: GeometryItem): number => within(outside(item), 60);
  return {
    electrodeGap: length('electrodeGap'),
    heightAboveCentreline: length('heightAboveCentreline'),
    aheadOfNozzle: length('aheadOfNozzle'),
    tipToMetal: length('tipToMetal'),
    tipDifference: length('tipDifference'),
    nozzleToHead: length('nozzleToHead'),
    offCentre: length('offCentre'),
    headToTubeEnd: length('headToTubeEnd'),
    headSetting: within(outside('headSetting'), 20),
    porcelainCracked,
    nozzleShare: Math.min(2.5, Math.max(0.4, nozzleShare)),
  };
}
