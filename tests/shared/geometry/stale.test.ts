/** Which figures have to be measured again after a part was moved. What belongs to what: common practice. */
import { describe, expect, it } from 'vitest';
import type { GeometryItem } from '../../../shared/geometry/items.ts';
import { geometryChanges, staleAfter, staleSince, type GeometryChange } from '../../../shared/geometry/stale.ts';

const typedAt =
  (times: Partial<Record<GeometryItem, number>>) =>
  (item: GeometryItem): number | undefined =>
    times[item];
const itemsAfter = (what: GeometryChange): GeometryItem[] =>
  staleAfter[what].filter((one) => one !== 'readings' && one !== 'ignitionTests');

describe('a figure that was typed', () => {
  it.each(geometryChanges)('before "%s" was moved is stale, after it or at the same moment fresh', (what) => {
    const items = itemsAfter(what);
    expect(items.length).toBeGreaterThan(0);
    const staleWith = (atMs: number) => staleSince([{ what, wallMs: 100 }], () => atMs).map((one) => one.what);
    expect(staleWith(99)).toEqual(items);
    expect(staleWith(100)).toEqual([]);
    expect(staleWith(101)).toEqual([]);
  });
  it('never is missing, and not stale', () => {
    expect(staleSince([{ what: 'nozzle', wallMs: 100 }], () => undefined)).toEqual([]);
    const one = staleSince([{ what: 'electrodes', wallMs: 100 }], typedAt({ electrodeGap: 50 }));
    expect(one).toEqual([{ what: 'electrodeGap', because: 'electrodes' }]);
  });
  it('between two changes is stale by the second alone; before both, by the last one', () => {
    const changes = [
      { what: 'nozzle', wallMs: 100 },
      { what: 'electrodes', wallMs: 200 },
    ] as const;
    expect(staleSince(changes, typedAt({ aheadOfNozzle: 150, offCentre: 150 }))).toEqual([
      { what: 'aheadOfNozzle', because: 'electrodes' },
    ]);
    expect(staleSince(changes, typedAt({ aheadOfNozzle: 50, offCentre: 50 }))).toEqual([
      { what: 'aheadOfNozzle', because: 'electrodes' },
      { what: 'offCentre', because: 'nozzle' },
    ]);
  });
});
