/** Makes items of what is in the store: what an office is sent. */
import type { BenchTest } from '../../shared/bench/bench-test.ts';
import type { Instrument } from '../../shared/bench/instrument.ts';
import type { FiguresCard } from '../../shared/geometry/figures-card.ts';
import type { ApplianceKnowledge } from '../../shared/measurement/knowledge.ts';
import { isRemoval, MOST_EARLIER, newItem, removalKey, type ItemKind } from '../../shared/office/item.ts';
import { inOneOrder, withoutPerson } from '../../shared/office/merge-appliance.ts';
import type { Problem } from '../../shared/problem.ts';
import { ok, type Result } from '../../shared/result.ts';
import type { StoreTables } from '../store/tables.ts';
import { hashOf, storedItem, type StoredItem } from './office.ts';

export type DocumentItem = 'instrument' | 'figures-card' | 'knowledge' | 'bench-test';

/** The hash of what a document says, whatever states it had before. */
export const bodyHashOf = (item: StoredItem['item']): string => {
  if (item.kind === 'instrument') return hashOf(JSON.stringify(item.instrument));
  return item.kind === 'figures-card' ? hashOf(JSON.stringify(item.card)) : '';
};

/** @returns nothing where there is nothing to send: not signed, or gone again */
export function itemsHere(tables: StoreTables, kind: ItemKind, id: string, wallMs: number): Result<StoredItem[], Problem> {
  switch (kind) {
    case 'visit': {
      const stored = tables.visits.get(id);
      if (!stored.ok) return unlessGone(stored);
      const { visit, altered } = stored.value;
      // what is no longer what was signed stays at its own computer
      if (visit.signature === undefined || altered === true) return ok([]);
      return ok([storedItem(newItem({ kind, id, visit: { ...visit, number: tables.office.numberOf(id) ?? visit.number } }))]);
    }
    case 'appliance': {
      const [stored, trail] = [tables.appliances.get(id), tables.appliances.edits(id)];
      if (!stored.ok) return unlessGone(stored);
      if (!trail.ok) return trail;
      const known = tables.office.removals(id);
      const edits = trail.value.filter(({ path }) => path[0] !== 'movedIn');
      const state = withoutPerson(id, { appliance: stored.value.appliance, edits }, known);
      const removals = state.edits
        .filter(isRemoval)
        .map(({ wallMs: at, by }) => ({ wallMs: at, by, ...deletedMark(known, { wallMs: at, by }) }));
      return ok([
        ...removals.map((tombstone) => storedItem(newItem({ kind: 'tombstone', id, tombstone }))),
        storedItem(newItem({ kind, id, appliance: state.appliance, edits: inOneOrder(state.edits) })),
      ]);
    }
    case 'tombstone': {
      // deleted here, and never before: that is a removal too
      if (!tables.appliances.get(id).ok && tables.office.removals(id).every(({ deleted }) => deleted !== true))
        tables.office.addRemoval({ applianceId: id, wallMs, by: 'operator', deleted: true });
      return ok(tables.office.removals(id).map(({ applianceId: _, ...tombstone }) => storedItem(newItem({ kind, id, tombstone }))));
    }
    default:
      return documentHere(tables, kind, id);
  }
}

const deletedMark = (
  known: readonly { wallMs: number; by: string; deleted?: true | undefined }[],
  one: { wallMs: number; by: string },
): { deleted?: true } =>
  known.some((removal) => removal.deleted === true && removalKey(removal) === removalKey(one)) ? { deleted: true } : {};

const unlessGone = (refused: { ok: false; error: Problem }): Result<StoredItem[], Problem> =>
  refused.error.code === 'not-found' ? ok([]) : refused;

function documentHere(tables: StoreTables, kind: DocumentItem, id: string): Result<StoredItem[], Problem> {
  const stored = tables.documents[kind].get(id);
  if (!stored.ok) return unlessGone(stored);
  const { body, altered } = stored.value;
  if (kind === 'knowledge') return ok([storedItem(newItem({ kind, id, known: body as ApplianceKnowledge }))]);
  if (kind === 'bench-test') {
    const test = body as BenchTest;
    return ok(test.signature === undefined || altered === true ? [] : [storedItem(newItem({ kind, id, test }))]);
  }
  const earlier = tables.office.ours(kind, id).map(({ hash }) => hash);
  const make = (before: string[]): StoredItem =>
    kind === 'instrument'
      ? storedItem(newItem({ kind, id, earlier: before, instrument: body as Instrument }))
      : storedItem(newItem({ kind, id, earlier: before, card: body as FiguresCard }));
  // unchanged since it was sent or taken: it is that item, not a further one
  const last = tables.office.ours(kind, id).at(-1);
  const fresh = make(earlier.slice(-MOST_EARLIER));
  return ok([last !== undefined && last.bodyHash === bodyHashOf(fresh.item) ? make(earlier.slice(0, -1).slice(-MOST_EARLIER)) : fresh]);
}
