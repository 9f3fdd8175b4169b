/** Visits, appliances and cards for tests of the office: small, signed, all different. */
import { storedItem, type StoredItem } from '../../../main/office/office.ts';
import { visitHash } from '../../../main/store/visits.ts';
import { newItem, type Tombstone } from '../../../shared/office/item.ts';
import type { Appliance } from '../../../shared/tuning/visit/appliance.ts';
import { newVisit, type Edit, type Visit } from '../../../shared/tuning/visit/visit.ts';
import type { ApplianceEdit } from '../../../shared/tuning/visit/appliance-edits.ts';

const DAY_MS = 86_400_000;
export const MAY_3 = Date.UTC(2026, 4, 3, 9);

/** @param n makes it another one: number, day and note */
export function signedVisit(
  id: string,
  { n = 1, applianceId, corrections = [] }: { n?: number; applianceId?: string; corrections?: readonly Edit[] } = {},
): Visit {
  const startedWallMs = MAY_3 + n * DAY_MS;
  const plain: Visit = {
    ...newVisit({ id, number: n, kind: 'service', startedWallMs, zoneMinutes: 120, unitPreset: 'metric', adjusters: [] }),
    ...(applianceId !== undefined && { applianceId }),
    people: [{ role: 'technician', name: 'A. Sample' }],
    notes: [{ wallMs: startedWallMs, text: `note ${n}` }],
    endedWallMs: startedWallMs + 3_600_000,
  };
  const signature = { name: 'A. Sample', wallMs: startedWallMs + 3_600_000, hash: visitHash(plain), editsBefore: 0 };
  return { ...plain, signature, edits: [...corrections] };
}

export const correction = (wallMs: number, path: Edit['path'], after: NonNullable<Edit['after']>, by = 'A. Sample'): Edit => ({
  wallMs,
  by,
  path,
  after,
  reason: 'mistyped',
});

export const boiler = (more: Partial<Appliance> = {}): Appliance => ({
  format: 1,
  name: 'Boiler in the cellar',
  kind: 'boiler-water',
  ...more,
});

export const visitItem = (visit: Visit): StoredItem => storedItem(newItem({ kind: 'visit', id: visit.id, visit }));
export const applianceItem = (id: string, appliance: Appliance, edits: ApplianceEdit[] = []): StoredItem =>
  storedItem(newItem({ kind: 'appliance', id, appliance, edits }));
export const removalItem = (id: string, tombstone: Tombstone): StoredItem => storedItem(newItem({ kind: 'tombstone', id, tombstone }));
