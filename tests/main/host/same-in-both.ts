/** Whether two windows were told the same, whatever the order of keys. */
import type { HostWindow } from './whole-host.ts';

export const isSame = (a: unknown, b: unknown): boolean => JSON.stringify(plain(a)) === JSON.stringify(plain(b));
/** keys in one order, nothing that is undefined */
function plain(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(plain);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value)
      .filter(([, one]) => one !== undefined)
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([key, one]) => [key, plain(one)]),
  );
}
export const stateOf = ({ testIds, stepIndex, unsaved }: { testIds: string[]; stepIndex: number; unsaved: string[] }) => ({
  testIds,
  stepIndex,
  unsaved,
});
const heldBack = new Set(['live.batch', 'session.changed']);
/** the second window came later */
export const eventsOf = ({ told }: HostWindow): unknown[] => told.filter(({ name }) => !heldBack.has(name)).slice(-200);
/** Keys of the alarms that a window was told of and not told the end of. */
export function alarmsOf({ told }: HostWindow): Set<string> {
  const standing = new Set<string>();
  for (const { name, payload } of told) {
    if (name === 'problem.raised') standing.add((payload as { key: string }).key);
    if (name === 'problem.cleared') standing.delete((payload as { key: string }).key);
  }
  return standing;
}
