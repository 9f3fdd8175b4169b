/**
 * An office in a shared folder: one file for each item, written beside its name and renamed. There are no locks: two laptops that write the same item write
 * the same text, and nothing is ever written over. What is not ours or was changed is moved into a folder beside and named.
 */
import { randomUUID } from 'node:crypto';
import { mkdir, open, readdir, readFile, rename, rm, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { z } from 'zod';
import type { FoundAppliance } from '../../shared/ipc/office-commands.ts';
import { factsOf, removalKey, type ItemFacts, type ItemKind } from '../../shared/office/item.ts';
import { fileNameOf, readFileName, safeId } from '../../shared/office/names.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { fold } from '../store/search.ts';
import {
  hashOf,
  readStored,
  type ItemName,
  type Office,
  type OfficeAbout,
  type OfficeCount,
  type StoredItem,
  type WrongItem,
} from './office.ts';
import { officeTexts } from '../../shared/words/host.ts';

export const OFFICE_FILE = 'flueside-office.json';
const ASIDE = 'set-aside';
export const FOLDER_VERSION = 1;
const FORMAT = 'flueside-office';
/** items of one answer */
const PAGE = 200;
/** far above any visit */
const LARGEST_BYTES = 32 * 2 ** 20;
/** a file that is being written bears this; one that a kill left is removed after a day */
const PART = '.part';
const PART_LIVES_MS = 24 * 3_600_000;

const Marker = z.object({
  format: z.literal(FORMAT),
  version: z.number(),
  id: z.string().min(1).max(100),
  name: z.string().min(1).max(120),
});

/** Begins an office, or says which one is there already. */
export async function initFolderOffice(folder: string, name: string): Promise<Result<{ id: string; isNew: boolean }, Problem>> {
  // only the last part of the path: where the share is not connected, no office is begun in its stead
  const made = await guarded(() => mkdir(folder).catch(unlessThere));
  if (!made.ok) return made;
  const here = await readMarker(folder);
  if (here.ok) return ok({ id: here.value.officeId, isNew: false });
  if (here.error.code !== 'office-none') return here;
  const id = randomUUID();
  return guarded(async () => {
    await writeOnce(join(folder, OFFICE_FILE), `${JSON.stringify({ format: FORMAT, version: FOLDER_VERSION, id, name }, null, 2)}\n`);
    return { id, isNew: true };
  });
}

const unlessThere = (failure: unknown): void => {
  if ((failure as NodeJS.ErrnoException).code !== 'EEXIST') throw failure;
};

async function readMarker(folder: string): Promise<Result<{ officeId: string; name: string }, Problem>> {
  let text: string;
  try {
    text = await readFile(join(folder, OFFICE_FILE), 'utf8');
  } catch (failure) {
    return err(await missing(folder, failure));
  }
  const claim = z.object({ format: z.literal(FORMAT), version: z.number() }).safeParse(parse(text));
  if (!claim.success) return err(problem('office-none', officeTexts.notOurFile(OFFICE_FILE)));
  if (claim.data.version > FOLDER_VERSION) return err(problem('office-newer'));
  const marker = Marker.safeParse(parse(text));
  return marker.success
    ? ok({ officeId: marker.data.id, name: marker.data.name })
    : err(problem('office-none', `${OFFICE_FILE} is damaged.`));
}

/** A share that is not connected looks like a folder that was never there. */
async function missing(folder: string, failure: unknown): Promise<Problem> {
  if ((failure as NodeJS.ErrnoException).code !== 'ENOENT') return problemOfFolder(failure);
  const isThere = await stat(folder).then(
    (found) => found.isDirectory(),
    () => false,
  );
  return isThere ? problem('office-none', folder) : problem('office-unreachable', folder);
}

export function problemOfFolder(failure: unknown): Problem {
  const { code, message } = failure as NodeJS.ErrnoException;
  if (code === 'ENOSPC' || code === 'EDQUOT' || code === 'EFBIG') return problem('office-full', message);
  if (code === 'EROFS' || code === 'EACCES' || code === 'EPERM') return problem('office-read-only', message);
  return problem('office-unreachable', message);
}

async function guarded<T>(work: () => Promise<T>): Promise<Result<T, Problem>> {
  try {
    return ok(await work());
  } catch (failure) {
    if (typeof (failure as NodeJS.ErrnoException).code !== 'string') throw failure;
    return err(problemOfFolder(failure));
  }
}

/** On the disk when this returns, whole, under its name. What has the name already is left. */
async function writeOnce(path: string, text: string): Promise<void> {
  const temporary = `${path}.${randomUUID().slice(0, 8)}${PART}`;
  try {
    const file = await open(temporary, 'w');
    try {
      await file.writeFile(text);
      await file.sync();
    } finally {
      await file.close();
    }
    await rename(temporary, path);
  } catch (failure) {
    await rm(temporary, { force: true }).catch(() => undefined);
    throw failure;
  }
}

/** Makes renames in it durable. Windows and some shares have no such call. */
async function syncFolders(folders: Iterable<string>): Promise<void> {
  if (process.platform === 'win32') return;
  for (const folder of folders) {
    const handle = await open(folder, 'r');
    await handle.sync().catch(() => undefined);
    await handle.close();
  }
}

/** Below the office: where an item lies. Everything about one appliance is in one folder, so its history is one look. */
function placeOf({ kind, id, hash }: ItemName, applianceId: string | undefined): string[] | undefined {
  const file = fileNameOf(kind, id, hash);
  if (file === undefined) return undefined;
  if (kind === 'tombstone') return ['removed', file];
  if (applianceId === undefined) return ['other', kind, file];
  const group = safeId(applianceId);
  return group === undefined ? undefined : ['appliances', group, file];
}

type Found = ItemName & { readonly path: string };

export function openFolderOffice(folder: string, { wallMs }: { wallMs: () => number }): Office {
  let marker: { officeId: string; name: string } | undefined;
  const ready = async (): Promise<Result<{ officeId: string; name: string }, Problem>> => {
    if (marker !== undefined) return ok(marker);
    const read = await readMarker(folder);
    if (read.ok) marker = read.value;
    return read;
  };
  const whenReady = async <T>(work: () => Promise<T>): Promise<Result<T, Problem>> => {
    const there = await ready();
    if (!there.ok) return there;
    const done = await guarded(work);
    // the share may have gone: the next call looks again
    if (!done.ok) marker = undefined;
    return done;
  };

  /** Files never change, so what one is found by is read once. */
  const known = new Map<string, ListedItem>();

  const namesIn = async (...parts: string[]): Promise<string[]> => {
    try {
      return (await readdir(join(folder, ...parts))).sort();
    } catch (failure) {
      if ((failure as NodeJS.ErrnoException).code === 'ENOENT') return [];
      throw failure;
    }
  };
  /** what lies in one folder of items; `strange`: files that bear no name of ours */
  const look = async (...parts: string[]): Promise<{ found: Found[]; strange: string[] }> => {
    const found: Found[] = [];
    const strange: string[] = [];
    for (const name of await namesIn(...parts)) {
      const read = readFileName(name);
      if (read !== undefined) found.push({ ...read, path: join(folder, ...parts, name) });
      // what synchronising programs and systems leave lying is not our business
      else if (!name.endsWith(PART) && !name.startsWith('.') && name !== 'Thumbs.db' && name !== 'desktop.ini')
        strange.push([...parts, name].join('/'));
    }
    return { found, strange };
  };
  const groups = async (): Promise<string[][]> => {
    const [appliances, others] = [await namesIn('appliances'), await namesIn('other')];
    return [['removed'], ...others.map((name) => ['other', name]), ...appliances.map((name) => ['appliances', name])];
  };
  const fetch = async ({ path, ...name }: Found): Promise<Result<StoredItem, WrongItem['why']> | undefined> => {
    let text: string;
    try {
      if ((await stat(path)).size > LARGEST_BYTES) return err('foreign');
      text = await readFile(path, 'utf8');
    } catch (failure) {
      // a removal took it away between the list and now
      if ((failure as NodeJS.ErrnoException).code === 'ENOENT') return undefined;
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
      const known = new Set(factsOf(read.value.item).removals);
      const isBefore = removals.some(({ item }) => item.kind === 'tombstone' && !known.has(removalKey(item.tombstone)));
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
        if ((failure as NodeJS.ErrnoException).code === 'ENOENT') return undefined;
        throw failure;
      });
      if (there !== undefined && hashOf(there) === stored.hash) {
        count.same += 1;
        continue;
      }
      // under this name lies something else: a changed file, or half of one from a share that broke
      if (there !== undefined) await setAside(path);
      await mkdir(dirname(path), { recursive: true });
      await writeOnce(path, stored.text);
      touched.add(dirname(path));
      count.added += 1;
    }
    await syncFolders(touched);
    for (const id of appliances) await applyRemovals(id);
    return count;
  };

  const setAside = async (path: string): Promise<void> => {
    await mkdir(join(folder, ASIDE), { recursive: true });
    await rename(path, join(folder, ASIDE, `${relative(path).replaceAll('/', '-')}.${randomUUID().slice(0, 8)}`));
  };

  const next: Office['next'] = ({ kinds, isKnown }) =>
    whenReady(async () => {
      const fresh: Found[] = [];
      const wrong: WrongItem[] = [];
      const wanted = (kind: ItemKind): boolean => kinds === undefined || kinds.includes(kind);
      for (const parts of kinds?.every((kind) => kind === 'tombstone') === true ? [['removed']] : await groups()) {
        const { found, strange } = await look(...parts);
        fresh.push(...found.filter((name) => wanted(name.kind) && !isKnown(name)));
        wrong.push(...strange.map((name) => ({ name, why: 'foreign' as const })));
        if (fresh.length > PAGE) break;
      }
      const read = await fetchAll(fresh.slice(0, PAGE));
      return { items: read.items, wrong: [...wrong, ...read.wrong], cursor: '', hasMore: fresh.length > PAGE };
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
        for (const parts of await groups()) {
          for (const { kind, path } of (await look(...parts)).found) {
            items[kind] = (items[kind] ?? 0) + 1;
            bytes += (await stat(path)).size;
          }
        }
        return { items, bytes };
      }),
    put: (items) => whenReady(() => put(items)),
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
        return { items, wrong: [...read.wrong, ...strange.map((name) => ({ name, why: 'foreign' as const }))] };
      }),
    byId: (kind, id) => whenReady(async () => (await fetchAll((await look('other', kind)).found.filter((one) => one.id === id))).items),
    search: ({ words, dueBefore, limit }) =>
      whenReady(async () => {
        const terms = fold(words).split(/\s+/).filter(Boolean).slice(0, 8);
        const all: FoundAppliance[] = [];
        for (const group of await namesIn('appliances')) {
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
        for (const parts of await groups()) {
          const { found, strange } = await look(...parts);
          for (const name of strange) {
            wrong.push({ name, why: 'foreign' });
            await setAside(join(folder, name));
          }
          for (const one of found) {
            const read = await fetch(one);
            if (read?.ok === true) items += 1;
            else if (read !== undefined) {
              wrong.push({ name: relative(one.path), why: read.error });
              // of a newer version nothing is wrong
              if (read.error !== 'newer') await setAside(one.path);
            }
            progress?.(items);
          }
          await tidyParts(join(folder, ...parts), wallMs());
        }
        return { items, wrong };
      }),
    close: () => Promise.resolve(),
  };
}

type ListedItem = ItemFacts & Pick<ItemName, 'kind' | 'id'>;

/** One line of a list out of all states of one appliance that lie here. */
function listAppliance(items: readonly ListedItem[]): (FoundAppliance & { numbers: string[] }) | undefined {
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

/** The time that the share gives a file that was written now, beside ours. A share that cannot be written has no clock for us. */
async function clockAhead(folder: string, wallMs: () => number): Promise<number | undefined> {
  const path = join(folder, `clock-${randomUUID().slice(0, 8)}${PART}`);
  try {
    const file = await open(path, 'w');
    await file.close();
    const there = (await stat(path)).mtimeMs;
    return Math.round(there - wallMs());
  } catch {
    return undefined;
  } finally {
    await rm(path, { force: true }).catch(() => undefined);
  }
}

async function tidyParts(folder: string, nowMs: number): Promise<void> {
  for (const name of await readdir(folder).catch(() => [])) {
    if (!name.endsWith(PART)) continue;
    const path = join(folder, name);
    const at = await stat(path).catch(() => undefined);
    if (at !== undefined && nowMs - at.mtimeMs > PART_LIVES_MS) await rm(path, { force: true });
  }
}

function parse(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
