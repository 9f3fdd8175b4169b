/**
 * Two lists of edits that began as one and went on apart become one list: each list's own order stays, and where neither says which comes first the earlier
 * time does. The result is the same whichever list is met first, so all laptops end with the same list.
 */

type Made = { readonly wallMs: number };

/**
 * @param keyOf what tells one edit from another
 * @param pick of two versions of one edit
 */
export function mergeEdits<T extends Made>(
  here: readonly T[],
  there: readonly T[],
  keyOf: (edit: T) => string,
  pick: (one: T, other: T) => T = (one) => one,
): T[] {
  const [ours, theirs] = [withKeys(here, keyOf), withKeys(there, keyOf)];
  const merged: T[] = [];
  const done = new Set<string>();
  const take = ({ key, edit }: Keyed<T>): void => {
    const versions = [ours, theirs].flatMap(({ edits, places }) => edits[places.get(key) ?? -1]?.edit ?? []);
    merged.push(versions.reduce(pick, edit));
    done.add(key);
  };
  let i = 0;
  let j = 0;
  for (;;) {
    while (done.has(ours.edits[i]?.key ?? '')) i++;
    while (done.has(theirs.edits[j]?.key ?? '')) j++;
    const [a, b] = [ours.edits[i], theirs.edits[j]];
    if (a === undefined && b === undefined) return merged;
    if (a === undefined || b === undefined) take((a ?? b) as Keyed<T>);
    else {
      // one that comes later in the other list has to wait for what stands before it there
      const [aWaits, bWaits] = [theirs.places.has(a.key), ours.places.has(b.key)];
      if (a.key === b.key || (bWaits && !aWaits)) take(a);
      else if (aWaits && !bWaits) take(b);
      else take(isBefore(a, b) ? a : b);
    }
  }
}

type Keyed<T> = { readonly key: string; readonly edit: T };

/** The same edit twice in one list is two edits. */
function withKeys<T>(edits: readonly T[], keyOf: (edit: T) => string): { edits: Keyed<T>[]; places: Map<string, number> } {
  const count = new Map<string, number>();
  const places = new Map<string, number>();
  const keyed = edits.map((edit, place) => {
    const plain = keyOf(edit);
    const n = (count.get(plain) ?? 0) + 1;
    count.set(plain, n);
    const key = `${plain}#${n}`;
    places.set(key, place);
    return { key, edit };
  });
  return { edits: keyed, places };
}

const isBefore = <T extends Made>(a: Keyed<T>, b: Keyed<T>): boolean =>
  a.edit.wallMs === b.edit.wallMs ? a.key < b.key : a.edit.wallMs < b.edit.wallMs;
