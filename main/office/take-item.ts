/** Takes an item of an office into the store. What is here is never overwritten; what cannot be merged is put before a person. */
import type { BenchTest } from '../../shared/bench/bench-test.ts';
import type { ApplianceKnowledge } from '../../shared/measurement/knowledge.ts';
import { isRemoval, removalKey, type ItemOf, type OfficeItem } from '../../shared/office/item.ts';
import { inOneOrder, mergeAppliance, withoutPerson, type ApplianceState } from '../../shared/office/merge-appliance.ts';
import { betterKnown, mergeDocument } from '../../shared/office/merge-documents.ts';
import { mergeVisit } from '../../shared/office/merge-visit.ts';
import type { Problem } from '../../shared/problem.ts';
import { ok, type Result } from '../../shared/result.ts';
import { Visit } from '../../shared/tuning/visit/visit.ts';
import type { WarmUpCurve } from '../../shared/warm-up/curve.ts';
import { isAltered } from '../bench/signature.ts';
import type { Documents } from '../store/documents.ts';
import type { StoreTables } from '../store/tables.ts';
import { takePersonOut } from '../store/take-person-out.ts';
import { visitHash } from '../store/visits.ts';
import type { ConflictBody } from './conflicts.ts';
import { bodyHashOf } from './items-here.ts';
import { hashOf, storedItem, type StoredItem } from './office.ts';
import { defined } from '../../shared/defined.ts';

/** `apart`: put before a person; `refused`: it does not hold what it says it holds */
export type Taken = 'added' | 'same' | 'merged' | 'apart' | 'refused' | 'removed';
export type Change = { readonly taken: Taken; readonly what?: 'visits' | 'appliances' | 'documents' };

/** A removal has to be gone from the file afterwards. */
export const needsErasing = ({ kind }: StoredItem): boolean => kind === 'tombstone';

/** One step: all of it or nothing. */
export function takeItem(tables: StoreTables, stored: StoredItem, wallMs: number): Result<Change, Problem> {
  return tables.office.inOneStep(() => {
    if (tables.office.isKnown(stored.kind, stored.id, stored.hash)) return ok({ taken: 'same' });
    const { item } = stored;
    switch (item.kind) {
      case 'visit':
        return takeVisit(tables, stored, item, wallMs);
      case 'appliance':
        return takeAppliance(tables, stored, item, wallMs);
      case 'tombstone':
        return takeRemoval(tables, stored, item);
      default:
        return takeDocument(tables, stored, item, wallMs);
    }
  });
}

const visitText = (visit: Visit): string => JSON.stringify(Visit.parse(visit));

function takeVisit(tables: StoreTables, stored: StoredItem, { id, visit }: ItemOf<'visit'>, wallMs: number): Result<Change, Problem> {
  // a signed record that no longer gives its hash is no record
  if (visit.signature === undefined || visitHash(visit) !== visit.signature.hash) return ok({ taken: 'refused' });
  const here = tables.visits.get(id);
  if (!here.ok && here.error.code !== 'not-found') return here;
  const merge = mergeVisit(here.ok ? here.value.visit : undefined, visit, visitText);
  const know = (): void => tables.office.know({ ...stored, number: visit.number }, merge.kind !== 'differs');
  if (merge.kind === 'new') {
    const adopted = tables.visits.adopt(visit, wallMs);
    if (!adopted.ok) return adopted;
    know();
    tables.office.notQueued('visit', id);
    return ok({ taken: 'added', what: 'visits' });
  }
  know();
  if (merge.kind === 'same') return ok({ taken: 'same' });
  if (merge.kind === 'differs') {
    conflict(tables, stored, wallMs, {
      field: '',
      here: here.ok ? visitLine(here.value.visit) : '',
      there: visitLine(visit),
      taken: 'here',
    });
    return ok({ taken: 'apart' });
  }
  const grown = tables.visits.takeCorrections(id, merge.edits, wallMs);
  if (!grown.ok) return grown;
  for (const { path, here: ours, there, taken } of merge.conflicts)
    conflict(tables, stored, wallMs, {
      field: path.join('/'),
      here: said(ours),
      there: said(there),
      taken: said(taken) === said(there) ? 'there' : 'here',
    });
  return ok({ taken: merge.conflicts.length > 0 ? 'apart' : 'merged', what: 'visits' });
}

const said = (value: unknown): string => (typeof value === 'string' ? value : (JSON.stringify(value) ?? ''));
const visitLine = ({ signature, number }: Visit): string =>
  `${number} · ${signature === undefined ? '' : `${signature.name}, ${new Date(signature.wallMs).toISOString().slice(0, 16).replace('T', ' ')} UTC`}`;

function conflict(tables: StoreTables, { kind, id, hash }: StoredItem, wallMs: number, body: ConflictBody): void {
  tables.office.addConflict({ key: `${kind}|${id}|${body.field}`, kind, id, foundMs: wallMs, hash, body: JSON.stringify(body) });
}

function takeAppliance(
  tables: StoreTables,
  stored: StoredItem,
  { id, appliance, edits }: ItemOf<'appliance'>,
  wallMs: number,
): Result<Change, Problem> {
  const removals = tables.office.removals(id);
  const [here, trail] = [tables.appliances.get(id), tables.appliances.edits(id)];
  tables.office.know(stored, true);
  if (!here.ok) {
    if (here.error.code !== 'not-found') return here;
    const known = new Set(edits.filter(isRemoval).map(removalKey));
    const wasDeleted = removals.some((removal) => removal.deleted === true && !known.has(removalKey(removal)));
    const visits = tables.visits.list({ applianceId: id, limit: 1 });
    if (!visits.ok) return visits;
    // it was deleted, and nothing here belongs to it
    if (wasDeleted && visits.value.total === 0) return ok({ taken: 'same' });
    const state = withoutPerson(id, { appliance, edits }, removals);
    return put(tables, id, state, wallMs, 'added');
  }
  if (!trail.ok) return trail;
  const { state, conflicts } = mergeAppliance(id, { appliance: here.value.appliance, edits: trail.value }, { appliance, edits }, removals);
  for (const { path, here: ours, there, taken } of conflicts) {
    const values = defined({ here: ours, there });
    conflict(tables, stored, wallMs, {
      field: path.join('/'),
      here: said(ours),
      there: said(there),
      taken: taken === there ? 'there' : 'here',
      values,
    });
  }
  const movedIn = trail.value.filter(({ path }) => path[0] === 'movedIn');
  const isSame = said(state) === said({ appliance: here.value.appliance, edits: trail.value.filter((edit) => !movedIn.includes(edit)) });
  if (isSame) return ok({ taken: conflicts.length > 0 ? 'apart' : 'same' });
  return put(tables, id, { ...state, edits: [...movedIn, ...state.edits] }, wallMs, conflicts.length > 0 ? 'apart' : 'merged');
}

function put(tables: StoreTables, id: string, state: ApplianceState, wallMs: number, taken: Taken): Result<Change, Problem> {
  const saved = tables.appliances.put(id, state.appliance, state.edits, wallMs);
  if (!saved.ok) return saved;
  // as it came: nothing has to be sent back
  const edits = inOneOrder(state.edits.filter(({ path }) => path[0] !== 'movedIn'));
  const asItem = storedItem({ format: 'flueside-item', version: 1, kind: 'appliance', id, appliance: saved.value.appliance, edits });
  if (tables.office.isKnown('appliance', id, asItem.hash)) tables.office.notQueued('appliance', id);
  const listed = tables.visits.nameChanged(id);
  return listed.ok ? ok({ taken, what: 'appliances' }) : listed;
}

function takeRemoval(tables: StoreTables, stored: StoredItem, { id, tombstone }: ItemOf<'tombstone'>): Result<Change, Problem> {
  tables.office.addRemoval({ applianceId: id, ...tombstone });
  tables.office.know(stored, true);
  tables.office.removeConflictsOf('appliance', id);
  const trail = tables.appliances.edits(id);
  if (!trail.ok) return trail.error.code === 'not-found' ? ok({ taken: 'removed' }) : trail;
  if (trail.value.some((edit) => isRemoval(edit) && removalKey(edit) === removalKey(tombstone))) return ok({ taken: 'same' });
  const visits = tables.visits.list({ applianceId: id, limit: 1 });
  if (!visits.ok) return visits;
  if (tombstone.deleted === true && visits.value.total === 0) {
    const gone = tables.appliances.remove(id);
    if (!gone.ok) return gone;
    tables.documents.knowledge.remove(id);
    for (const kind of ['appliance', 'tombstone', 'knowledge'] as const) tables.office.notQueued(kind, id);
    return ok({ taken: 'removed', what: 'appliances' });
  }
  const done = takePersonOut({ ...tables, curves: tables.documents.curve as Documents<WarmUpCurve> }, id, tombstone);
  return done.ok ? ok({ taken: 'removed', what: 'appliances' }) : done;
}

function takeDocument(
  tables: StoreTables,
  stored: StoredItem,
  item: Exclude<OfficeItem, { kind: 'visit' | 'appliance' | 'tombstone' }>,
  wallMs: number,
): Result<Change, Problem> {
  const { kind, id } = item;
  const table = tables.documents[kind];
  const found = table.get(id);
  if (!found.ok && found.error.code !== 'not-found') return found;
  const here = found.ok ? found.value.body : undefined;
  const body =
    item.kind === 'instrument'
      ? item.instrument
      : item.kind === 'figures-card'
        ? item.card
        : item.kind === 'knowledge'
          ? item.known
          : item.test;
  const know = (isOurs: boolean): void => tables.office.know({ ...stored, bodyHash: bodyHashOf(item) }, isOurs);
  const save = (taken: Taken): Result<Change, Problem> => {
    const saved = table.save(id, body, { wallMs, ...(kind === 'knowledge' && { parentId: id }) });
    if (!saved.ok) return saved;
    know(true);
    tables.office.notQueued(kind, id);
    return ok({ taken, what: 'documents' });
  };
  if (item.kind === 'bench-test' && isAltered(item.test)) return ok({ taken: 'refused' });
  if (here === undefined) return save('added');
  if (JSON.stringify(here) === JSON.stringify(body)) {
    know(true);
    tables.office.notQueued(kind, id);
    return ok({ taken: 'same' });
  }
  const apart = (): Result<Change, Problem> => {
    know(false);
    const name = (one: unknown): string =>
      (one as { name?: string; instrument?: { name: string } }).name ?? (one as Partial<BenchTest>).instrument?.name ?? '';
    conflict(tables, stored, wallMs, { field: '', here: name(here), there: name(body), taken: 'here', text: JSON.stringify(body) });
    return ok({ taken: 'apart' });
  };
  if (item.kind === 'bench-test') return apart();
  if (item.kind === 'knowledge') {
    if (betterKnown(here as ApplianceKnowledge, item.known) === item.known) return save('merged');
    know(true);
    return ok({ taken: 'same' });
  }
  const ours = tables.office.ours(kind, id);
  const last = ours.at(-1);
  const merge = mergeDocument(
    {
      hash: last?.hash,
      isUnchanged: last?.bodyHash === hashOf(JSON.stringify(here)),
      text: JSON.stringify(here),
      earlier: ours.slice(0, -1).map(({ hash }) => hash),
    },
    { hash: stored.hash, text: JSON.stringify(body), earlier: item.earlier },
  );
  if (merge === 'earlier') {
    know(ours.some(({ hash }) => hash === stored.hash));
    return ok({ taken: 'same' });
  }
  if (merge !== 'later') return apart();
  tables.office.removeConflictsOf(kind, id, item.earlier);
  return save('merged');
}
