/** One visit from two places. What is signed stays as it is; corrections of both sides come together. */
import type { Edit, Visit } from '../tuning/visit/visit.ts';
import { mergeEdits } from './merge-edits.ts';

export type VisitMerge =
  | { readonly kind: 'new' }
  | { readonly kind: 'same' }
  /** @property edits all edits of the visit as they are from now on */
  | { readonly kind: 'corrected'; readonly edits: Edit[]; readonly conflicts: readonly CorrectionConflict[] }
  /** not one and the same visit: what is here stays */
  | { readonly kind: 'differs' };

/** Both sides corrected the same field; `taken` is how the visit reads now. */
export type CorrectionConflict = {
  readonly path: readonly (string | number)[];
  readonly here: unknown;
  readonly there: unknown;
  readonly taken: unknown;
};

/** @param text what is the same in two visits that are the same, whatever their numbers */
export function mergeVisit(here: Visit | undefined, there: Visit, text: (visit: Visit) => string): VisitMerge {
  if (here === undefined) return { kind: 'new' };
  if (text({ ...there, number: here.number }) === text(here)) return { kind: 'same' };
  if (here.signature === undefined || there.signature === undefined || here.signature.hash !== there.signature.hash)
    return { kind: 'differs' };
  const signed = here.edits.slice(0, here.signature.editsBefore);
  const [ours, theirs] = [here.edits.slice(here.signature.editsBefore), there.edits.slice(there.signature.editsBefore)];
  const merged = mergeEdits(ours, theirs, textOf);
  if (merged.length === ours.length && merged.every((edit, at) => textOf(edit) === textOf(ours[at]))) return { kind: 'same' };
  return { kind: 'corrected', edits: [...signed, ...merged], conflicts: conflictsOf(ours, theirs, merged) };
}

const textOf = (edit: unknown): string => JSON.stringify(edit);
const without = (edits: readonly Edit[], others: readonly Edit[]): Edit[] => {
  const known = new Set(others.map(textOf));
  return edits.filter((edit) => !known.has(textOf(edit)));
};

function conflictsOf(ours: readonly Edit[], theirs: readonly Edit[], merged: readonly Edit[]): CorrectionConflict[] {
  const [onlyHere, onlyThere] = [without(ours, theirs), without(theirs, ours)];
  const lastOf = (edits: readonly Edit[], path: string): Edit | undefined => edits.findLast((edit) => textOf(edit.path) === path);
  return [...new Set(onlyHere.map(({ path }) => textOf(path)))].flatMap((path) => {
    const [here, there] = [lastOf(onlyHere, path), lastOf(onlyThere, path)];
    if (here === undefined || there === undefined || textOf(here.after) === textOf(there.after)) return [];
    return [{ path: here.path, here: here.after, there: there.after, taken: lastOf(merged, path)?.after }];
  });
}
