/** Which way an adjuster gives more air, as the trials show it or as the person said it. */
import type { Setting } from '../../measurement/mark.ts';
import type { Adjuster } from '../trial/adjuster.ts';
import { positionOf } from '../trial/setting.ts';
import { figureOf, isFittable } from '../trial/trial-figures.ts';
import type { Trial } from '../trial/trial.ts';
import { sameSetting } from '../trial/trials.ts';
import { gainsays, hasMoved, sameElsewhere } from './next-setting.ts';
import type { AdviceFacts } from './advice.ts';

export const isSeenRising = (name: string, { adjusters }: AdviceFacts, fresh: readonly Trial[]): boolean => {
  const adjuster = adjusters.find((one) => one.name === name);
  return adjuster !== undefined && knownDirection(adjuster, fresh) === 'up';
};

/**
 * Which end of the scale gives more air, from settings that differ in this adjuster only: what was read at each, and readings repeated at one of
 * them never on either side of the other. Undefined while they do not agree.
 */
export function knownDirection(adjuster: Adjuster, fresh: readonly Trial[]): 'up' | 'down' | undefined {
  const { ways, most } = directionsSeen(adjuster, fresh);
  const [way] = ways;
  return ways.size === 1 && way !== undefined && !gainsays(adjuster, way === 'up', most) ? way : undefined;
}

/** As the trials show it; else as the person said it, unless the trials speak against it. */
export function wayOf(adjuster: Adjuster, fresh: readonly Trial[]): 'up' | 'down' | undefined {
  const { moreAir } = adjuster;
  const known = knownDirection(adjuster, fresh);
  if (known !== undefined || moreAir === undefined) return known;
  return directionsSeen(adjuster, fresh).ways.has(moreAir === 'up' ? 'down' : 'up') ? undefined : moreAir;
}

function directionsSeen(adjuster: Adjuster, fresh: readonly Trial[]): { ways: Set<'up' | 'down'>; most: number } {
  const ways = new Set<'up' | 'down'>();
  let most = 0;
  const usable = fresh.filter(isFittable);
  const settings = usable.filter(({ setting }, index) => usable.findIndex((other) => sameSetting(other.setting, setting)) === index);
  const readAt = ({ setting }: Trial): number[] =>
    usable.filter((other) => sameSetting(other.setting, setting)).map((other) => figureOf(other, 'o2')!.mean);
  settings.forEach((trial, index) => {
    for (const other of sameElsewhere(settings.slice(index + 1), trial.setting, adjuster.name)) {
      const [a, b] = [positionOf(trial.setting, adjuster.name), positionOf(other.setting, adjuster.name)];
      if (a === undefined || b === undefined || a === b) continue;
      const [here, there] = [readAt(trial), readAt(other)];
      const rise = mean(there) - mean(here);
      const isApart = Math.min(...there) > Math.max(...here) || Math.max(...there) < Math.min(...here);
      if (!hasMoved(rise) || !isApart) continue;
      ways.add(rise > 0 === b > a ? 'up' : 'down');
      most = Math.max(most, Math.abs(rise));
    }
  });
  return { ways, most };
}

const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
export const isTriedInVain = (adjuster: Adjuster, fresh: readonly Trial[], present: Setting): boolean => {
  const here = sameElsewhere(fresh, present, adjuster.name).filter(isFittable);
  return new Set(here.map((trial) => positionOf(trial.setting, adjuster.name))).size >= 2 && knownDirection(adjuster, here) === undefined;
};
