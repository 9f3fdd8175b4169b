/**
 * What electrodes, nozzle and head that were left wrong do to the simulated flame. Textbook: the oil through a nozzle goes as its stamped flow;
 * oil sprayed before the flame stands burns at once when it lights, so O2 dips and CO leaps by the mole balance. All else, how late and how
 * smoky, is ours, after what the trade says of each error, and chosen so that each has a pattern of its own (MODEL.md).
 */
import { asTheCardWants } from '../geometry/left.ts';
import type { GeometryLeft } from '../measurement/geometry-left.ts';

export type Start = {
  /** off for longer than a chamber stays warm, or never lit */
  readonly fromCold: boolean;
  /** starts since the geometry was set, 0 the first */
  readonly index: number;
  /** whether a spark that takes one way or the other begins with the wrong one; drawn once for a burner */
  readonly phase: 0 | 1;
};
/** `delayS`: from the oil valve's opening to the flame. `share`: how much of the oil that came meanwhile burns in the puff. */
export type Ignition = { readonly delayS: number; readonly share: number };

export type SteadyEffects = {
  /** onset of smoke and of CO alike: the whole flame mixes worse, %vol O2 */
  readonly onsetShiftO2: number;
  /** onset of smoke alone: a part of the flame is out of place and smokes, the rest burns clean */
  readonly partSmokeShiftO2: number;
  readonly slopeFactor: number;
  /** CO air-free beside what the air makes, ppm */
  readonly extraCoPpm: number;
  readonly airFactor: number;
  readonly oilFactor: number;
  readonly flutterFraction: number;
};
export type GeometryEffects = SteadyEffects & {
  /** chance of an oil trace on a smoke spot, and of a spot that is darker on one side */
  readonly oiliness: number;
  readonly unevenShare: number;
};

/** More than this outside the card changes nothing further, mm and marks. */
const MOST_MM = 4;
const MOST_MARKS = 2;
const by = (value: number, most = MOST_MM): number => Math.min(most, Math.abs(value));

export function effectsOf(left: GeometryLeft = asTheCardWants): GeometryEffects {
  const centre = by(left.offCentre);
  const level = by(left.tipDifference);
  const head = by(left.headSetting, MOST_MARKS);
  const tube = by(left.headToTubeEnd);
  const spray = by(left.nozzleToHead);
  const isLow = left.heightAboveCentreline < 0;
  const isBack = left.headToTubeEnd > 0;
  const isOpen = left.headSetting > 0;
  const smoky = Math.max(
    centre > 0 ? 5 + 0.5 * centre : 0,
    level > 0 ? 5 + 0.4 * level : 0,
    tube > 0 && isBack ? 5 + 0.4 * tube : 0,
    head > 0 && isOpen ? 5 + 0.6 * head : 0,
    spray > 0 ? 5 + 0.4 * spray : 0,
  );
  // a head set for less oil mixes more oil worse
  const overfired = Math.max(0, left.nozzleShare - 1) * 3;
  return {
    partSmokeShiftO2: smoky,
    onsetShiftO2: overfired,
    slopeFactor: smoky > 0 ? 0.5 : 1,
    extraCoPpm: (tube > 0 ? (isBack ? 150 + 40 * tube : 190 + 30 * tube) : 0) + (head > 0 && !isOpen ? 110 + 40 * head : 0),
    // a head that is too far forward or too open lets more air past the flame, one that is too closed less
    airFactor: (tube > 0 && !isBack ? 1.03 : 1) * (head > 0 ? (isOpen ? 1.02 : 0.97) : 1),
    oilFactor: left.nozzleShare,
    flutterFraction: head > 0 && !isOpen ? 0.1 + 0.02 * head : 0,
    oiliness: Math.max(isLow ? 0.8 : 0, left.nozzleToHead > 0 ? 0.5 : 0),
    unevenShare: centre > 0 ? 0.8 : 0,
  };
}

/** @param uniform numbers in [0, 1), of a stream of their own */
export function ignitionOf(left: GeometryLeft, { fromCold, index, phase }: Start, uniform: () => number): Ignition {
  const scatter = 0.9 + 0.2 * uniform();
  const { electrodeGap, heightAboveCentreline: height, aheadOfNozzle: ahead, tipToMetal, tipDifference, porcelainCracked } = left;
  const late: Ignition[] = [
    // a spark too short or too long is weak: late, every start alike
    ...(electrodeGap === 0 ? [] : [{ delayS: 2 + 0.4 * by(electrodeGap), share: 0.5 }]),
    // tips that are wet bridge with carbon; tips above the spray wait until it has filled the chamber
    ...(height === 0 ? [] : [height < 0 ? { delayS: 2 + 0.4 * by(height), share: 0.5 } : { delayS: 9 + 1.2 * by(height), share: 1 }]),
    // carbon grows on tips in the flame, start by start; a spark behind the spray lights only the vapour of a warm chamber
    ...(ahead === 0
      ? []
      : [ahead > 0 ? { delayS: 2 ** Math.min(3, index), share: 0.5 } : { delayS: fromCold ? 6 + 0.6 * by(ahead) : 0, share: 0.5 }]),
    // the spark takes one way or the other
    ...(tipToMetal < 0 ? [{ delayS: (index + phase) % 2 === 0 ? 3 + 0.5 * by(tipToMetal) : 0, share: 0.5 }] : []),
    ...(tipDifference === 0 ? [] : [{ delayS: 2 + 0.3 * by(tipDifference), share: 0.5 }]),
    // a crack opens with the heat
    ...(porcelainCracked ? [{ delayS: fromCold ? 0 : 4, share: 0.5 }] : []),
  ];
  const worst = late.reduce((most, one) => (one.delayS > most.delayS ? one : most), { delayS: 0, share: 0 });
  return { delayS: worst.delayS * scatter, share: worst.share };
}
