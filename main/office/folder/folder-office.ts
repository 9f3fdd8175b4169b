/**
 * An office in a shared folder: one file for each item, written beside its name and renamed. There are no locks: two laptops that write the same item write
 * the same text, and nothing is ever written over. What is not ours or was changed is left out, named, and moved into a folder beside when the office is checked.
 */
import { randomUUID } from 'node:crypto';
import { readFile, rename, rm, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import type { FoundAppliance } from '../../../shared/ipc/office-commands.ts';
import { factsOf, removalKey, type ItemKind } from '../../../shared/office/item.ts';
import { fileNameOf, readFileName, safeId } from '../../../shared/office/names.ts';
import { problem, type Problem } from '../../../shared/problem.ts';
import { err, ok, type Result } from '../../../shared/result.ts';
import { fold } from '../../store/search.ts';
import {
  hashOf,
  readStored,
  type ItemName,
  type Office,
  type OfficeAbout,
  type OfficeCount,
  type StoredItem,
  type WrongItem,
} from '../office.ts';
import { codeOf, foldersIn, guarded, makeBelow, namesIn, syncFolders, tidyParts, writeOnce } from './files.ts';
import { listAppliance, type ListedItem } from './listed.ts';
import { ASIDE, clockAhead, readMarker, type Marker } from './marker.ts';

/** items of one answer */
const PAGE = 200;
/** far above any visit */
const LARGEST_BYTES = 32 * 2 ** 20;

/** Below the office: where an item lies. Everything about one appliance is in one folder, so its history is one look. */
function placeOf({ kind, id, hash }: ItemName, applianceId: string | undefined): string[] | undefined {
  const file = fileNameOf(kind, id, hash);
  if (file === undefined) return undefined;
  if (kind === 'tombstone') return ['removed', file];
  if (applianceId === undefined) return ['other', kind, file];
  const group = safeId(applianceId);
  return group === undefined ? undefined : ['appliances', group, file];
}

/** In the order in which the folders are read: removals, then what belongs to no appliance, then appliances. */
const TOP = ['removed', 'other', 'appliances'];
function comesAfter(one: readonly string[], other: readonly string[]): boolean {
  const top = TOP.indexOf(one[0] ?? '') - TOP.indexOf(other[0] ?? '');
  if (top !== 0) return top > 0;
  const at = one.findIndex((part, n) => part !== other[n]);
  return at >= 0 && (one[at] ?? '') > (other[at] ?? '');
}

type Found = ItemName & { readonly path: string };
const foreign = (name: string): WrongItem => ({ name, why: 'foreign' });

export function openFolderOffice(folder: string, { wallMs }: { wallMs: () => number }): Office {
  let marker: Marker | undefined;
  const ready = async (): Promise<Result<Marker, Problem>> => {
    if (marker !== undefined) return ok(marker);
    const read = await readMarker(folder);
    if (read.ok) marker = read.value;
    return read;
  };
  const whenReady = async <T>(work: () => Promise<T>, does: 'read' | 'write' = 'read'): Promise<Result<T, Problem>> => {
    const there = await ready();
    if (!there.ok) return there;
    const done = await guarded(folder, does, work);
    // the share may have gone: the next call looks again
    if (!done.ok) marker = undefined;
    return done;
  };

  /** Files never change, so what one is found by is read once. */
  const known = new Map<string, ListedItem>();

  /** what lies in one folder of items; `strange`: what bears no name of ours */
  const look = async (...parts: string[]): Promise<{ found: Found[]; strange: string[] }> => {
    const found: Found[] = [];
    const strange: string[] = [];
    for (const name of await namesIn(join(folder, ...parts))) {
      const read = readFileName(name);
      if (read === undefined) strange.push([...parts, name].join('/'));
      else found.push({ ...read, path: join(folder, ...parts, name) });
    }
    return { found, strange };
  };
  /** The folders that hold items. A file beside them is not ours, and no reason to stop. */
  const groups = async (): Promise<{ groups: string[][]; strange: string[] }> => {
    const [appliances, others] = [await foldersIn(join(folder, 'appliances')), await foldersIn(join(folder, 'other'))];
    return {
      groups: [['removed'], ...others.folders.map((name) => ['other', name]), ...appliances.folders.map((name) => ['appliances', name])],
      strange: [...others.files.map((name) => `other/${name}`), ...appliances.files.map((name) => `appliances/${name}`)],
    };
  };
  const fetch = async ({ path, ...name }: Found): Promise<Result<StoredItem, WrongItem['why']> | undefined> => {
    let text: string;
    try {
      const there = await stat(path);
      if (!there.isFile() || there.size > LARGEST_BYTES) return err('foreign');
      text = await readFile(path, 'utf8');
    } catch (failure) {
      // a removal took it away between the list and now
      if (codeOf(failure) === 'ENOENT') return undefined;
      // one that this user may not open does not keep the others away
      if (codeOf(failure) === 'EACCES' || codeOf(failure) === 'EPERM') return err('no-access');
      throw failure;
    }
    return readStored(name, text);
  };
  const relative = (path: string): string => path.slice(folder.length + 1).replaceAll('\\', '/');
  const fetchAll = async (found: readonly Found[]): Promise<{ items: StoredItem[]; wrong: WrongItem[] }> => {
    const items: StoredItem[] = [];
    const wrong: WrongItem[] = [];
    for (const one of found) {
      const read = await fetch(one);
      if (read?.ok === true) items.push(read.value);
      else if (read !== undefined) wrong.push({ name: relative(one.path), why: read.error });
    }
    return { items, wrong };
  };
  const removalsOf = async (applianceId: string): Promise<StoredItem[]> => {
    const { found } = await look('removed');
    return (await fetchAll(found.filter(({ id }) => id === applianceId))).items;
  };

  /** A removal reaches what lies here: states of the appliance that do not know of it go. */
  const applyRemovals = async (applianceId: string): Promise<void> => {
    const removals = await removalsOf(applianceId);
    const group = safeId(applianceId);
    if (removals.length === 0 || group === undefined) return;
    const { found } = await look('appliances', group);
    for (const one of found.filter(({ kind }) => kind === 'appliance')) {
      const read = await fetch(one);
      if (read?.ok !== true) continue;
      const told = new Set(factsOf(read.value.item).removals);
      const isBefore = removals.some(({ item }) => item.kind === 'tombstone' && !told.has(removalKey(item.tombstone)));
      if (isBefore) await rm(one.path, { force: true });
    }
  };

  const put = async (items: readonly StoredItem[]): Promise<{ added: number; same: number }> => {
    const count = { added: 0, same: 0 };
    const touched = new Set<string>();
    const appliances = new Set<string>();
    for (const stored of items) {
      const { applianceId } = factsOf(stored.item);
      const parts = placeOf(stored, applianceId);
      if (parts === undefined) throw Object.assign(new Error(`The id ${stored.id} is too long for a file name.`), { code: 'ENAMETOOLONG' });
      const path = join(folder, ...parts);
      if (stored.kind === 'appliance' || stored.kind === 'tombstone') appliances.add(stored.id);
      const there = await readFile(path, 'utf8').catch((failure: unknown) => {
        if (codeOf(failure) === 'ENOENT') return undefined;
        // a folder under this name is no item
        if (codeOf(failure) === 'EISDIR') return '';
        throw failure;
      });
      if (there !== undefined && hashOf(there) === stored.hash) {
        count.same += 1;
        continue;
      }
      // under this name lies something else: a changed file, or half of one from a share that broke
      if (there !== undefined) await setAside(path);
      await makeBelow(folder, parts.slice(0, -1));
      await writeOnce(path, stored.text);
      touched.add(dirname(path));
      count.added += 1;
    }
    await syncFolders(touched);
    for (const id of appliances) await applyRemovals(id);
    return count;
  };

  const setAside = async (path: string): Promise<void> => {
    await makeBelow(folder, [ASIDE]);
    await rename(path, join(folder, ASIDE, `${relative(path).replaceAll('/', '-')}.${randomUUID().slice(0, 8)}`));
  };
  /** @returns false where it stays: the folder cannot be written, and what was found is said all the same */
  const isSetAside = (path: string): Promise<boolean> =>
    setAside(path).then(
      () => true,
      () => false,
    );

  /** A reader goes on behind what it was brought, right or wrong; at the end, and in another session, it begins anew: files come in no order. */
  const session = randomUUID();
  const next: Office['next'] = ({ cursor = '', kinds, isKnown }) =>
    whenReady(async () => {
      const [of, ...behind] = cursor.split('|');
      const isBehind = ({ path }: Found): boolean => of !== session || comesAfter(relative(path).split('/'), behind);
      const fresh: Found[] = [];
      const wanted = (kind: ItemKind): boolean => kinds === undefined || kinds.includes(kind);
      const isRemovalsOnly = kinds?.every((kind) => kind === 'tombstone') === true;
      const all = isRemovalsOnly ? { groups: [['removed']], strange: [] } : await groups();
      const wrong = all.strange.map(foreign);
      for (const parts of all.groups) {
        const { found, strange } = await look(...parts);
        fresh.push(...found.filter((one) => wanted(one.kind) && isBehind(one) && !isKnown(one)));
        wrong.push(...strange.map(foreign));
        if (fresh.length > PAGE) break;
      }
      const page = fresh.slice(0, PAGE);
      const read = await fetchAll(page);
      const last = page.at(-1);
      const hasMore = fresh.length > PAGE && last !== undefined;
      const reached = hasMore ? [session, ...relative(last.path).split('/')].join('|') : '';
      return { items: read.items, wrong: [...wrong, ...read.wrong], cursor: reached, hasMore };
    });

  return {
    about() {
      // another office may lie there by now
      marker = undefined;
      return whenReady(async (): Promise<OfficeAbout> => {
        const { officeId = '', name = '' } = marker ?? {};
        return { officeId, name, clockAheadMs: await clockAhead(folder, wallMs) };
      });
    },
    count: () =>
      whenReady(async (): Promise<OfficeCount> => {
        const items: Partial<Record<ItemKind, number>> = {};
        let bytes = 0;
        for (const parts of (await groups()).groups) {
          for (const { kind, path } of (await look(...parts)).found) {
            items[kind] = (items[kind] ?? 0) + 1;
            bytes += (await stat(path)).size;
          }
        }
        return { items, bytes };
      }),
    async put(items) {
      const done = await whenReady(() => put(items), 'write');
      if (!done.ok) return done;
      // the share may have gone in the middle, and an empty folder of this computer have taken what was meant for it
      const still = await readMarker(folder);
      if (still.ok && still.value.officeId === marker?.officeId) return done;
      marker = undefined;
      return still.ok ? err(problem('office-unreachable', folder)) : still;
    },
    next,
    ofAppliance: (applianceId, visits) =>
      whenReady(async () => {
        const group = safeId(applianceId);
        if (group === undefined) return { items: [], wrong: [] };
        const { found, strange } = await look('appliances', group);
        const read = await fetchAll(found);
        const isVisit = ({ kind }: StoredItem): boolean => kind === 'visit';
        const newest = read.items.filter(isVisit).sort((a, b) => factsOf(b.item).wallMs - factsOf(a.item).wallMs);
        const ids = new Set([...new Set(newest.map(({ id }) => id))].slice(0, visits));
        const items = [...(await removalsOf(applianceId)), ...read.items.filter((one) => !isVisit(one) || ids.has(one.id))];
        return { items, wrong: [...read.wrong, ...strange.map(foreign)] };
      }),
    byId: (kind, id) => whenReady(async () => (await fetchAll((await look('other', kind)).found.filter((one) => one.id === id))).items),
    search: ({ words, dueBefore, limit }) =>
      whenReady(async () => {
        const terms = fold(words).split(/\s+/).filter(Boolean).slice(0, 8);
        const all: FoundAppliance[] = [];
        for (const group of (await foldersIn(join(folder, 'appliances'))).folders) {
          const items: ListedItem[] = [];
          for (const one of (await look('appliances', group)).found) {
            const read = known.has(one.path) ? undefined : await fetch(one);
            if (read?.ok === true) known.set(one.path, { kind: one.kind, id: one.id, ...factsOf(read.value.item) });
            items.push(...[known.get(one.path)].filter((facts) => facts !== undefined));
          }
          const listed = listAppliance(items);
          if (listed === undefined) continue;
          const text = fold([listed.name, listed.place, listed.owner, listed.serial].join(' '));
          const fits = terms.every((term) => text.includes(term) || listed.numbers.includes(term));
          if (fits && (dueBefore === undefined || (listed.due !== undefined && listed.due < dueBefore))) all.push(listed);
        }
        return all.sort((a, b) => (b.lastVisitWallMs ?? 0) - (a.lastVisitWallMs ?? 0)).slice(0, limit);
      }),
    check: (progress) =>
      whenReady(async () => {
        const wrong: WrongItem[] = [];
        let items = 0;
        const all = await groups();
        const note = async (one: WrongItem): Promise<void> => {
          // of a newer version, or of another user's, nothing is wrong
          const isOurs = one.why === 'newer' || one.why === 'no-access';
          const moved = !isOurs && (await isSetAside(join(folder, one.name)));
          wrong.push({ ...one, isSetAside: moved });
        };
        for (const name of all.strange) await note(foreign(name));
        for (const parts of all.groups) {
          const { found, strange } = await look(...parts);
          for (const name of strange) await note(foreign(name));
          for (const one of found) {
            const read = await fetch(one);
            if (read?.ok === true) items += 1;
            else if (read !== undefined) await note({ name: relative(one.path), why: read.error });
            progress?.(items);
          }
          await tidyParts(join(folder, ...parts), wallMs());
        }
        return { items, wrong };
      }),
    close: () => Promise.resolve(),
  };
}
