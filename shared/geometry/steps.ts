/** The order of the hands: what is done one after the other, from the safe burner to the locked head. */
import type { GeometryItem } from './items.ts';
import type { GeometryChange } from './stale.ts';

export const looseParts = [
  'oilLine',
  'assembly',
  'leftElectrodeClamp',
  'rightElectrodeClamp',
  'zeroLock',
  'headLock',
  'shutterLock',
  'bandLock',
] as const;
export type LoosePart = (typeof looseParts)[number];

export type StepGroup = 'safe' | 'as-found' | 'assembly-out' | 'electrodes' | 'back-in' | 'head-setting' | 'tighten';
type StepOf<Id extends string> = {
  readonly id: Id;
  readonly group: StepGroup;
  /** the figure that is measured or set here */
  readonly item?: GeometryItem;
  readonly loosens?: readonly LoosePart[];
  readonly tightens?: readonly LoosePart[];
};
const steps = <const Id extends string>(...list: StepOf<Id>[]): readonly StepOf<Id>[] => list;

/** The head's zero lock is loosened only when the assembly is back and the adjuster stands at zero. */
export const handSteps = steps(
  { id: 'power-off', group: 'safe' },
  { id: 'oil-shut', group: 'safe' },
  { id: 'cool-and-dry', group: 'safe' },
  { id: 'hands-and-eyes', group: 'safe' },
  { id: 'adjuster-as-found', group: 'as-found', item: 'headSetting' },
  { id: 'mark-parts', group: 'as-found' },
  { id: 'photo', group: 'as-found' },
  { id: 'take-out', group: 'assembly-out', loosens: ['oilLine', 'assembly'] },
  { id: 'nozzle-stamp', group: 'assembly-out' },
  { id: 'look-over', group: 'assembly-out' },
  { id: 'gap', group: 'electrodes', item: 'electrodeGap', loosens: ['leftElectrodeClamp', 'rightElectrodeClamp'] },
  { id: 'height', group: 'electrodes', item: 'heightAboveCentreline' },
  { id: 'ahead', group: 'electrodes', item: 'aheadOfNozzle' },
  { id: 'metal', group: 'electrodes', item: 'tipToMetal' },
  { id: 'level', group: 'electrodes', item: 'tipDifference' },
  { id: 'nozzle-to-head', group: 'electrodes', item: 'nozzleToHead' },
  { id: 'centred', group: 'electrodes', item: 'offCentre', tightens: ['leftElectrodeClamp', 'rightElectrodeClamp'] },
  { id: 'put-back', group: 'back-in', tightens: ['assembly'] },
  { id: 'adjuster-to-zero', group: 'back-in', loosens: ['headLock'] },
  // of a two-step adjuster only: the coarse plate makes the zero, the fine one is set from it
  { id: 'fine-to-zero', group: 'back-in' },
  { id: 'head-to-tube-end', group: 'back-in', item: 'headToTubeEnd', loosens: ['zeroLock'] },
  { id: 'zero-tight', group: 'back-in', tightens: ['zeroLock'] },
  { id: 'head-setting', group: 'head-setting', item: 'headSetting', tightens: ['headLock'] },
  { id: 'shutter-start', group: 'head-setting', item: 'shutterStart', tightens: ['shutterLock'] },
  { id: 'band-start', group: 'head-setting', item: 'bandStart', tightens: ['bandLock'] },
  // what is still loose here is asked for part by part
  { id: 'all-tight', group: 'tighten' },
  { id: 'as-left', group: 'tighten' },
);
export type HandStepId = (typeof handSteps)[number]['id'];
export const handStepIds = handSteps.map(({ id }) => id) as [HandStepId, ...HandStepId[]];
export const stepGroups = [
  'safe',
  'as-found',
  'assembly-out',
  'electrodes',
  'back-in',
  'head-setting',
  'tighten',
] as const satisfies readonly StepGroup[];
export type HandStep = StepOf<HandStepId>;

/** A figure that is another one as left than as found: its part was loose, whichever way the step was left. */
const movedAt: Partial<Record<GeometryChange, HandStepId>> = { electrodes: 'gap', zero: 'head-to-tube-end' };

/**
 * What is loose after these steps were done, in the order in which it was loosened.
 *
 * @param moved what was moved; a step that was jumped over has loosened nothing, but what was moved was loose
 */
export function looseAfter(
  done: readonly HandStepId[],
  tight: readonly LoosePart[] = [],
  moved: readonly GeometryChange[] = [],
): LoosePart[] {
  const loose = new Set<LoosePart>();
  for (const { id, loosens = [], tightens = [] } of handSteps) {
    const isDone = done.includes(id);
    if (isDone || moved.some((what) => movedAt[what] === id)) for (const part of loosens) loose.add(part);
    if (isDone) for (const part of tightens) loose.delete(part);
  }
  for (const part of tight) loose.delete(part);
  return [...loose];
}
