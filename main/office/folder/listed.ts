/** One line of the list that is searched, out of all states of one appliance that lie in a folder. */
import type { FoundAppliance } from '../../../shared/ipc/office-commands.ts';
import type { ItemFacts } from '../../../shared/office/item.ts';
import type { ItemName } from '../office.ts';

export type ListedItem = ItemFacts & Pick<ItemName, 'kind' | 'id'>;

export function listAppliance(items: readonly ListedItem[]): (FoundAppliance & { numbers: string[] }) | undefined {
  const states = items.filter(({ kind }) => kind === 'appliance');
  const newest = states.reduce<(typeof states)[number] | undefined>(
    (best, one) => (best === undefined || one.changedMs > best.changedMs ? one : best),
    undefined,
  );
  const visits = new Map(items.filter(({ kind }) => kind === 'visit').map((one) => [one.id, one]));
  if (newest?.appliance === undefined) return undefined;
  const times = [...visits.values()].map(({ wallMs }) => wallMs);
  return {
    applianceId: newest.id,
    ...newest.appliance,
    visits: visits.size,
    ...(times.length > 0 && { lastVisitWallMs: Math.max(...times) }),
    numbers: [...visits.values()].map(({ number }) => String(number)),
  };
}
