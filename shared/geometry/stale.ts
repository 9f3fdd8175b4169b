/** What a change of one part puts in doubt. Common practice: what was set from a part is set again after the part was moved. */
import { flowItems, type GeometryItem } from './items.ts';

export const geometryChanges = ['zero', 'nozzle', 'electrodes', 'head', 'tube'] as const;
export type GeometryChange = (typeof geometryChanges)[number];
/** Besides the items themselves: readings with the flame, and the timed tests of the ignition. */
export type Stale = GeometryItem | 'readings' | 'ignitionTests';

export const staleAfter: Readonly<Record<GeometryChange, readonly Stale[]>> = {
  zero: ['headSetting', 'readings'],
  nozzle: [...flowItems, 'heightAboveCentreline', 'aheadOfNozzle', 'tipToMetal', 'nozzleToHead', 'offCentre', 'readings', 'ignitionTests'],
  electrodes: ['electrodeGap', 'heightAboveCentreline', 'aheadOfNozzle', 'tipToMetal', 'tipDifference', 'ignitionTests'],
  head: ['nozzleToHead', 'offCentre', 'tipToMetal', 'headToTubeEnd', 'headSetting', 'readings'],
  tube: ['headToTubeEnd', 'headSetting', 'readings'],
};

export type StaleReason = { readonly what: Stale; readonly because: GeometryChange };

/**
 * @param changes oldest first
 * @param measuredAfter items that were measured or set again after the last change, and so are fresh
 */
export function staleOf(changes: readonly GeometryChange[], measuredAfter: ReadonlySet<Stale> = new Set()): StaleReason[] {
  const reasons = new Map<Stale, GeometryChange>();
  for (const because of changes) for (const what of staleAfter[because]) reasons.set(what, because);
  return [...reasons].filter(([what]) => !measuredAfter.has(what)).map(([what, because]) => ({ what, because }));
}

/** @param typedMs when each figure was typed last; one that was never measured is missing and not stale */
export function staleSince(
  changes: readonly { readonly what: GeometryChange; readonly wallMs: number }[],
  typedMs: (item: GeometryItem) => number | undefined,
): (StaleReason & { readonly what: GeometryItem })[] {
  const reasons = new Map<GeometryItem, GeometryChange>();
  for (const { what: because, wallMs } of changes)
    for (const what of staleAfter[because]) {
      if (what === 'readings' || what === 'ignitionTests') continue;
      const at = typedMs(what);
      if (at !== undefined && at < wallMs) reasons.set(what, because);
    }
  return [...reasons].map(([what, because]) => ({ what, because }));
}
