/** One appliance from two places, field by field: the last change of a field counts, and a person who was removed does not come back. */
import { pseudonymised, type Appliance } from '../tuning/visit/appliance.ts';
import { applianceFields, leafAt, personOutEdit, withoutPersonIn, type ApplianceEdit, type Leaf } from '../tuning/visit/appliance-edits.ts';
import { setAt, type Json } from '../tuning/visit/at-path.ts';
import { isRemoval, removalKey, type Tombstone } from './item.ts';
import { mergeEdits } from './merge-edits.ts';

export type ApplianceState = { readonly appliance: Appliance; readonly edits: readonly ApplianceEdit[] };
/** Both sides changed the same field since they were last the same; `taken` is what it is now. */
export type FieldConflict = { readonly path: readonly string[]; readonly here: Leaf; readonly there: Leaf; readonly taken: Leaf };

export const pseudonymOf = (id: string): string => `Unit ${id.slice(-6)}`;

/** @param removals of the person, known from elsewhere */
export function mergeAppliance(
  id: string,
  here: ApplianceState,
  there: ApplianceState,
  removals: readonly Tombstone[] = [],
): { state: ApplianceState; conflicts: FieldConflict[] } {
  const all = [...here.edits, ...there.edits].filter(isRemoval);
  const known = new Map([...all, ...removals].map((one) => [removalKey(one), one] as const));
  const [ours, theirs] = [here, there].map((side) => withoutPerson(id, side, [...known.values()])) as [ApplianceState, ApplianceState];
  const [ourEdits, theirEdits] = [ours.edits.filter(isChange), theirs.edits.filter(isChange)];
  const edits = withRemovals(mergeEdits(ourEdits, theirEdits, keyOf, pick), [...known.values()]);
  const [onlyHere, onlyThere] = [without(ourEdits, theirEdits), without(theirEdits, ourEdits)];
  const conflicts: FieldConflict[] = [];
  let body = ours.appliance as unknown as Json;
  for (const path of applianceFields) {
    const [a, b] = [leafAt(ours.appliance, path), leafAt(theirs.appliance, path)];
    const last = lastOf(edits, path);
    const value = last === undefined ? (a === b ? a : either(a, b)) : (last.after as Leaf);
    const [changedHere, changedThere] = [lastOf(onlyHere, path), lastOf(onlyThere, path)];
    const isApart = last === undefined ? a !== undefined && b !== undefined : changedHere !== undefined && changedThere !== undefined;
    if (isApart && a !== b) conflicts.push({ path, here: a, there: b, taken: value });
    if (value !== a) body = setAt(body, path, value) ?? body;
  }
  const { burner, ...rest } = body as unknown as Appliance;
  const isEmpty = burner === undefined || Object.keys(burner).length === 0;
  return { state: { appliance: isEmpty ? rest : { ...rest, burner }, edits }, conflicts };
}

/** A state in which these removals were done. What was typed there without knowing of them is removed as well. */
export function withoutPerson(id: string, state: ApplianceState, removals: readonly Pick<Tombstone, 'wallMs' | 'by'>[]): ApplianceState {
  const done = new Set(state.edits.filter(isRemoval).map(removalKey));
  return removals
    .filter((removal) => !done.has(removalKey(removal)))
    .sort((a, b) => (removalKey(a) < removalKey(b) ? -1 : 1))
    .reduce<ApplianceState>(
      ({ appliance, edits }, { wallMs, by }) => ({
        appliance: pseudonymised(appliance, pseudonymOf(id)),
        edits: [...edits.map(withoutPersonIn), personOutEdit({ wallMs, by })],
      }),
      state,
    );
}

/** That an appliance came with a package is a fact of one laptop; where a removal stands in a list follows from its time. */
const isChange = (edit: ApplianceEdit): boolean => edit.path[0] !== 'movedIn' && !isRemoval(edit);

/** The one order that every laptop gives the same edits, whenever it heard of a removal: the same state is the same item. */
export const inOneOrder = (edits: readonly ApplianceEdit[]): ApplianceEdit[] => [
  ...edits.filter(({ path }) => path[0] === 'movedIn'),
  ...withRemovals(edits.filter(isChange), edits.filter(isRemoval)),
];

/** A removal is done at each laptop when it hears of it, so its place must not depend on when that was. */
function withRemovals(changes: readonly ApplianceEdit[], removals: readonly Pick<Tombstone, 'wallMs' | 'by'>[]): ApplianceEdit[] {
  const edits = [...changes];
  for (const { wallMs, by } of [...removals].sort((a, b) => a.wallMs - b.wallMs || (a.by < b.by ? -1 : 1))) {
    const next = edits.findIndex((edit) => edit.wallMs > wallMs);
    edits.splice(next < 0 ? edits.length : next, 0, personOutEdit({ wallMs, by }));
  }
  return edits;
}
const keyOf = ({ wallMs, by, path }: ApplianceEdit): string => `${wallMs}|${by}|${path.join('/')}`;
const textOf = (value: unknown): string => JSON.stringify(value) ?? '';
const says = ({ before, after }: ApplianceEdit): boolean => before !== undefined || after !== undefined;
/** the one from which the person was removed */
const pick = (one: ApplianceEdit, other: ApplianceEdit): ApplianceEdit => {
  if (says(one) !== says(other)) return says(one) ? other : one;
  return textOf(one) <= textOf(other) ? one : other;
};
const without = (edits: readonly ApplianceEdit[], others: readonly ApplianceEdit[]): ApplianceEdit[] => {
  const known = new Set(others.map(keyOf));
  return edits.filter((edit) => !known.has(keyOf(edit)));
};
const lastOf = (edits: readonly ApplianceEdit[], path: readonly string[]): ApplianceEdit | undefined =>
  edits.findLast((edit) => says(edit) && edit.path.join('/') === path.join('/'));
/** of two values without a history: one that is there, and the same on every laptop */
const either = (a: Leaf, b: Leaf): Leaf => {
  if (a === undefined || b === undefined) return a ?? b;
  return textOf(a) <= textOf(b) ? a : b;
};
