/** Sends what waits and takes what is new. Nothing here knows which office it is, and nothing waits for it. */
import type { Problem } from '../../shared/problem.ts';
import { ok, type Result } from '../../shared/result.ts';
import { ITEM_VERSION, type ItemKind } from '../../shared/office/item.ts';
import { createPauses } from '../pauses.ts';
import type { Queued } from '../store/office-table.ts';
import type { StoreTables } from '../store/tables.ts';
import { bodyHashOf, itemsHere } from './items-here.ts';
import type { Office, OfficeAbout, StoredItem, WrongItem } from './office.ts';
import { needsErasing, takeItem, type Change } from './take-item.ts';

const BATCH = 40;
/** less than a frame: a run that is captured goes on */
const SLICE_MS = 12;

export type SyncStore = {
  use<T>(work: (tables: StoreTables) => Result<T, Problem>): Promise<Result<T, Problem>>;
  /** as `use`, for what has to be gone from the file afterwards */
  erase<T>(work: (tables: StoreTables) => Result<T, Problem>): Promise<Result<T, Problem>>;
};
export type Pushed = { sent: number; same: number; unreadable: number };
export type Pulled = { added: number; merged: number; apart: number; refused: number; removed: number; same: number; wrong: WrongItem[] };

const nothing = (): Pulled => ({ added: 0, merged: 0, apart: 0, refused: 0, removed: 0, same: 0, wrong: [] });

/** A laptop that meets another office than the last time sends everything anew. */
export async function meet(store: SyncStore, office: Office): Promise<Result<OfficeAbout, Problem>> {
  const about = await office.about();
  if (!about.ok) return about;
  const met = await store.use(({ office: table }) =>
    table.inOneStep(() => {
      const last = table.mark('office');
      if (last !== about.value.officeId) {
        if (last !== undefined) table.forget();
        if (last !== undefined) table.queueAll();
        table.setMark('office', about.value.officeId);
      }
      return ok(undefined);
    }),
  );
  return met.ok ? about : met;
}

/** @param again what was sent before is sent once more: an office that came back from an older copy has lost some of it */
export async function push(
  store: SyncStore,
  office: Office,
  wallMs: () => number,
  { again = false }: { again?: boolean } = {},
): Promise<Result<Pushed, Problem>> {
  const count: Pushed = { sent: 0, same: 0, unreadable: 0 };
  const pauses = createPauses();
  for (let after = 0; ;) {
    const from = after;
    const rows = await store.use(({ office: table }) => table.attempt(() => table.queued(from, BATCH)));
    if (!rows.ok) return rows;
    const last = rows.value.at(-1);
    if (last === undefined) return ok(count);
    after = last.n;
    const ready: { row: Queued; items: StoredItem[] }[] = [];
    for (const row of rows.value) {
      await pauses.take();
      const made = await store.use((tables) => tables.office.inOneStep(() => itemsHere(tables, row.kind, row.id, wallMs())));
      // it waits, and what comes behind it does not
      if (!made.ok) count.unreadable += 1;
      else ready.push({ row, items: made.value });
    }
    const done = await sendAll(store, office, ready, { count, again });
    if (!done.ok) return done;
  }
}

async function sendAll(
  store: SyncStore,
  office: Office,
  ready: readonly { row: Queued; items: StoredItem[] }[],
  { count, again }: { count: Pushed; again: boolean },
): Promise<Result<undefined, Problem>> {
  const fresh = await store.use(({ office: table }) =>
    table.attempt(() => ready.flatMap(({ items }) => items).filter(({ kind, id, hash }) => again || !table.isKnown(kind, id, hash))),
  );
  if (!fresh.ok) return fresh;
  // an answer may be lost, and others may go on from what it was about
  const noted = await store.use(({ office: table }) =>
    table.inOneStep(() => {
      for (const item of fresh.value) table.sending({ ...item, bodyHash: bodyHashOf(item.item) });
      return ok(undefined);
    }),
  );
  if (!noted.ok) return noted;
  const put = fresh.value.length === 0 ? ok({ added: 0, same: 0 }) : await office.put(fresh.value);
  if (!put.ok) {
    // one that the office refuses must not hold up the others
    if (put.error.code !== 'office-item-wrong' || ready.length <= 1) {
      if (put.error.code !== 'office-item-wrong') return put;
      count.unreadable += 1;
      return ok(undefined);
    }
    for (const one of ready) {
      const sent = await sendAll(store, office, [one], { count, again });
      if (!sent.ok) return sent;
    }
    return ok(undefined);
  }
  count.sent += put.value.added;
  count.same += put.value.same;
  const done = await store.use(({ office: table }) =>
    table.inOneStep(() => {
      for (const item of fresh.value) {
        const number = item.item.kind === 'visit' ? item.item.visit.number : undefined;
        table.know({ ...item, bodyHash: bodyHashOf(item.item), number }, true);
      }
      for (const { row } of ready) table.sent(row);
      return ok(undefined);
    }),
  );
  return done.ok ? ok(undefined) : done;
}

export type PullParts = {
  readonly wallMs: () => number;
  readonly changed: (what: NonNullable<Change['what']>) => void;
  readonly isOver?: () => boolean;
};

/** @param kinds only these; everything when left out */
export async function pull(
  store: SyncStore,
  office: Office,
  parts: PullParts,
  kinds?: readonly ItemKind[],
): Promise<Result<Pulled, Problem>> {
  const total = nothing();
  // what a newer program wrote was passed over: after an update everything is looked through once more
  const name = ['cursor', ITEM_VERSION, ...(kinds ?? [])].join(' ');
  for (;;) {
    const known = await store.use(({ office: table }) =>
      table.attempt(() => ({
        cursor: table.mark(name),
        isKnown: (kind: ItemKind, id: string, hash: string) => table.isKnown(kind, id, hash),
      })),
    );
    if (!known.ok) return known;
    const { cursor, isKnown } = known.value;
    const page = await office.next({ cursor, kinds, isKnown: ({ kind, id, hash }) => isKnown(kind, id, hash) });
    if (!page.ok) return page;
    for (const one of page.value.wrong) if (!total.wrong.some((other) => other.name === one.name)) total.wrong.push(one);
    const taken = await takeAll(store, page.value.items, parts, total);
    if (!taken.ok) return taken;
    const { cursor: reached, hasMore } = page.value;
    const marked = await store.use(({ office: table }) => table.attempt(() => table.setMark(name, reached)));
    if (!marked.ok) return marked;
    if (!hasMore || parts.isOver?.() === true) return ok(total);
  }
}

/** Visits first: an appliance that was deleted stays where a visit belongs to it. */
const order: Record<ItemKind, number> = {
  tombstone: 0,
  visit: 1,
  appliance: 2,
  instrument: 3,
  'figures-card': 3,
  knowledge: 3,
  'bench-test': 3,
};

async function takeAll(
  store: SyncStore,
  items: readonly StoredItem[],
  { wallMs, changed }: PullParts,
  total: Pulled = nothing(),
): Promise<Result<Pulled, Problem>> {
  const waiting = [...items].sort((a, b) => order[a.kind] - order[b.kind]);
  const whats = new Set<NonNullable<Change['what']>>();
  let failure: Problem | undefined;
  while (waiting.length > 0 && failure === undefined) {
    const first = waiting[0] as StoredItem;
    const slice = (tables: StoreTables): Result<undefined, Problem> =>
      tables.office.inOneStep(() => {
        const until = performance.now() + SLICE_MS;
        do {
          const item = waiting[0];
          if (item === undefined || needsErasing(item) !== needsErasing(first)) break;
          const taken = takeItem(tables, item, wallMs());
          if (!taken.ok) return taken;
          waiting.shift();
          total[taken.value.taken] += 1;
          if (taken.value.taken === 'refused') total.wrong.push({ name: `${item.kind} ${item.id}`, why: 'hash' });
          if (taken.value.what !== undefined) whats.add(taken.value.what);
        } while (performance.now() < until);
        return ok(undefined);
      });
    const done = await (needsErasing(first) ? store.erase(slice) : store.use(slice));
    if (!done.ok) failure = done.error;
    await new Promise<void>((resolve) => setImmediate(resolve));
  }
  for (const what of whats) changed(what);
  return failure === undefined ? ok(total) : { ok: false, error: failure };
}

/** What the office knows of one appliance, brought here. */
export async function fetchAppliance(
  store: SyncStore,
  office: Office,
  applianceId: string,
  visits: number,
  parts: PullParts,
): Promise<Result<Pulled & { lastVisitWallMs?: number }, Problem>> {
  const found = await office.ofAppliance(applianceId, visits);
  if (!found.ok) return found;
  const { items, wrong } = found.value;
  const total = { ...nothing(), wrong: [...wrong] };
  const named = new Set<string>();
  const cards = new Set<string>();
  const times: number[] = [];
  for (const { item } of items) {
    if (item.kind === 'appliance' && item.appliance.figuresCardId !== undefined) cards.add(item.appliance.figuresCardId);
    if (item.kind !== 'visit') continue;
    times.push(item.visit.startedWallMs);
    if (item.visit.instrumentId !== undefined) named.add(item.visit.instrumentId);
  }
  const more: StoredItem[] = [];
  for (const [kind, ids] of [
    ['figures-card', cards],
    ['instrument', named],
  ] as const) {
    for (const id of ids) {
      const got = await office.byId(kind, id);
      if (!got.ok) return got;
      more.push(...got.value);
    }
  }
  const taken = await takeAll(store, [...items, ...more], parts, total);
  return taken.ok ? ok({ ...taken.value, ...(times.length > 0 && { lastVisitWallMs: Math.max(...times) }) }) : taken;
}
