/** Takes a person out of one appliance and of everything about it that is not signed. The machine and its figures stay. */
import { pseudonymised, type Appliance } from '../../shared/tuning/visit/appliance.ts';
import { earlierTexts, personOutEdit, withoutPersonIn, type ApplianceEdit } from '../../shared/tuning/visit/appliance-edits.ts';
import { pseudonymOf } from '../../shared/office/merge-appliance.ts';
import type { Visit } from '../../shared/tuning/visit/visit.ts';
import { ok, type Result } from '../../shared/result.ts';
import type { Problem } from '../../shared/problem.ts';
import type { Appliances } from './appliances.ts';
import type { WarmUpCurve } from '../../shared/warm-up/curve.ts';
import type { Documents } from './documents.ts';
import type { OfficeTable } from './office-table.ts';
import type { Visits } from './visits.ts';
import { defined } from '../../shared/defined.ts';

export type PersonTakenOut = {
  /** unsigned visits that were changed */
  readonly changed: readonly string[];
  /** numbers of signed visits whose text names the person: what was signed is not changed */
  readonly stillIn: readonly number[];
};

/** Must run in one transaction: half of it would be worse than none. */
export function takePersonOut(
  {
    appliances,
    visits,
    curves,
    office,
  }: { appliances: Appliances; visits: Visits; curves: Documents<WarmUpCurve>; office: Pick<OfficeTable, 'removeConflictsOf'> },
  id: string,
  made: { wallMs: number; by: string },
): Result<PersonTakenOut, Problem> {
  const { wallMs } = made;
  const stored = appliances.get(id);
  if (!stored.ok) return stored;
  const trail = appliances.edits(id);
  if (!trail.ok) return trail;
  const listed = visits.ofAppliance(id);
  if (!listed.ok) return listed;
  const { appliance } = stored.value;
  const pseudonym = pseudonymOf(id);
  const names = namesOf(appliance, trail.value, listed.value);
  const edits = [...trail.value.map((edit) => editWithoutPerson(edit, names, pseudonym)), personOutEdit(made)];
  const saved = appliances.put(id, pseudonymised(appliance, pseudonym), edits, wallMs);
  if (!saved.ok) return saved;
  // what two laptops had typed of the person and nobody has decided yet
  office.removeConflictsOf('appliance', id);
  const changed: string[] = [];
  const stillIn: number[] = [];
  for (const visit of listed.value) {
    if (visit.signature !== undefined) {
      if (names !== undefined && mentions(visit, names)) stillIn.push(visit.number);
      continue;
    }
    const written = visits.change(visit.id, wallMs, (before) => ok(withoutPerson(before, names, pseudonym)));
    if (!written.ok) return written;
    changed.push(visit.id);
  }
  const ofIt = curves.list({ limit: 100_000 });
  if (!ofIt.ok) return ofIt;
  for (const { id: curveId, body } of ofIt.value.rows) {
    if (body.applianceId !== id) continue;
    const named = { ...body, ...defined({ appliance: body.appliance === undefined ? undefined : pseudonym }) };
    const renamed = names === undefined ? named : (mapTexts(named, (text) => text.replace(names, pseudonym)) as WarmUpCurve);
    const kept = curves.save(curveId, renamed, { wallMs });
    if (!kept.ok) return kept;
  }
  // signed ones as well: lists and the search say the appliance's name
  const listedAnew = visits.nameChanged(id);
  return listedAnew.ok ? ok({ changed, stillIn: stillIn.sort((a, b) => a - b) }) : listedAnew;
}

const SHORTEST = 3;

/**
 * What tells who and where, now and in the edits (an owner from before, a name spelt wrongly at first): whole particulars and, of a place or
 * contact, its parts. A name of one word ('Boiler') tells nobody.
 */
function namesOf(appliance: Appliance, edits: readonly ApplianceEdit[], visits: readonly Visit[]): RegExp | undefined {
  const ever = (field: 'name' | 'place' | 'owner' | 'contact'): string[] => [appliance[field] ?? '', ...earlierTexts(edits, field)];
  const parts = (text: string): string[] => [text, ...text.split(/[,;\n]/)];
  const occupants = visits.flatMap(({ people }) => people.filter(({ role }) => role === 'occupant').map((person) => person.name));
  const all = [
    ...ever('place').flatMap(parts),
    ...ever('contact').flatMap(parts),
    ...ever('owner'),
    ...ever('name').filter((name) => /\S\s+\S/.test(name)),
    ...occupants,
    ...visits.flatMap(({ notLeftRunning }) => notLeftRunning?.ownerTold ?? []),
  ];
  const told = [...new Set(all.map((text) => text.trim()).filter((text) => text.length >= SHORTEST))];
  if (told.length === 0) return undefined;
  // the longest first, or a part would be taken out of the whole and leave the rest
  const choices = told
    .sort((a, b) => b.length - a.length)
    .map((text) => text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&').replace(/\s+/g, '\\s+'));
  return new RegExp(`(?<![\\p{L}\\p{N}])(?:${choices.join('|')})(?![\\p{L}\\p{N}])`, 'giu');
}

function withoutPerson(visit: Visit, names: RegExp | undefined, pseudonym: string): Visit {
  const kept = { ...visit, people: visit.people.filter(({ role }) => role !== 'occupant') };
  return names === undefined ? kept : (mapTexts(kept, (text) => text.replace(names, pseudonym)) as Visit);
}

/** Who made the change stays: that is the technician's name, not the owner's. */
function editWithoutPerson(edit: ApplianceEdit, names: RegExp | undefined, pseudonym: string): ApplianceEdit {
  const { before, after, ...rest } = withoutPersonIn(edit);
  const clean = <T>(value: T): T => (names === undefined ? value : (mapTexts(value, (text) => text.replace(names, pseudonym)) as T));
  return {
    ...rest,
    ...defined({ before: before === undefined ? undefined : clean(before), after: after === undefined ? undefined : clean(after) }),
  };
}

const mentions = (visit: Visit, names: RegExp): boolean => JSON.stringify(visit, (_key, value: unknown) => value).search(names) >= 0;

/** Texts only: keys and figures are the program's own. */
function mapTexts(value: unknown, change: (text: string) => string): unknown {
  if (typeof value === 'string') return change(value);
  if (Array.isArray(value)) return value.map((one) => mapTexts(one, change));
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, one]) => [key, mapTexts(one, change)]));
}
