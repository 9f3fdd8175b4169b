/** What Flueside asks of an office, whichever it is. Items are texts under a kind, an id and the SHA-256 of the text; none is ever changed. */
import { createHash } from 'node:crypto';
import { boundedJson, RECORD_LIMITS } from '../../shared/ipc/bounded-json.ts';
import type { FoundAppliance } from '../../shared/ipc/office-commands.ts';
import { itemText, readItem, type ItemKind, type ItemRefusal, type OfficeItem } from '../../shared/office/item.ts';
import { isAltered } from '../bench/signature.ts';
import { visitHash } from '../store/visits.ts';
import type { Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';

export type ItemName = { readonly kind: ItemKind; readonly id: string; readonly hash: string };
export type StoredItem = ItemName & { readonly text: string; readonly item: OfficeItem };

/** Something in an office that is no item of ours, or is not what its name says. */
export type WrongItem = {
  readonly name: string;
  readonly why: ItemRefusal | 'hash' | 'no-access';
  /** said by a check that could move it away */
  readonly isSetAside?: boolean;
};

export type OfficeAbout = {
  /** tells this office from another one at the same place */
  readonly officeId: string;
  readonly name: string;
  /** how far the office's clock is ahead of ours, ms; undefined when it has none */
  readonly clockAheadMs: number | undefined;
};
export type OfficeCount = { readonly items: Partial<Record<ItemKind, number>>; readonly bytes: number };

/** Where a reader of everything stands; what it means is known to the office alone. */
export type Page = { readonly items: StoredItem[]; readonly wrong: WrongItem[]; readonly cursor: string; readonly hasMore: boolean };
export type Wish = {
  readonly cursor?: string | undefined;
  readonly kinds?: readonly ItemKind[] | undefined;
  /** items that need not be brought again */
  readonly isKnown: (name: ItemName) => boolean;
};

export interface Office {
  about(): Promise<Result<OfficeAbout, Problem>>;
  count(): Promise<Result<OfficeCount, Problem>>;
  /** Each whole or not at all; one that is there already counts as `same`. When this returns they are on the office's disk. */
  put(items: readonly StoredItem[]): Promise<Result<{ added: number; same: number }, Problem>>;
  /** The next items in the order in which they came, a bounded number at a time. */
  next(wish: Wish): Promise<Result<Page, Problem>>;
  /** All states of an appliance and what is known of it, its removals, its newest visits. */
  ofAppliance(applianceId: string, visits: number): Promise<Result<{ items: StoredItem[]; wrong: WrongItem[] }, Problem>>;
  /** instruments and cards by their ids */
  byId(kind: ItemKind, id: string): Promise<Result<StoredItem[], Problem>>;
  /** @param words every one has to occur in name, place, owner, serial number or the number of a visit; `dueBefore` is a day */
  search(query: { words: string; dueBefore?: string | undefined; limit: number }): Promise<Result<FoundAppliance[], Problem>>;
  /** Looks through everything: texts against their hashes. What is wrong is set aside where the office allows it. */
  check(progress?: (done: number) => void): Promise<Result<{ items: number; wrong: WrongItem[] }, Problem>>;
  close(): Promise<void>;
}

export const hashOf = (text: string): string => createHash('sha256').update(text).digest('hex');

export function storedItem(item: OfficeItem): StoredItem {
  const text = itemText(item);
  return { kind: item.kind, id: item.id, hash: hashOf(text), text, item };
}

/** A signed record that no longer gives the hash it was signed with is no record, even under a name that fits. */
function isAsSigned(item: OfficeItem): boolean {
  if (item.kind === 'visit') return visitHash(item.visit) === item.visit.signature?.hash;
  return item.kind !== 'bench-test' || !isAltered(item.test);
}

/** Reads what lies in an office under a name. */
export function readStored(name: ItemName, text: string): Result<StoredItem, WrongItem['why']> {
  const hash = hashOf(text);
  if (!hash.startsWith(name.hash)) return err('hash');
  const read = readItem(boundedJson(text, RECORD_LIMITS));
  if (!read.ok) return read;
  if (read.value.kind !== name.kind || read.value.id !== name.id) return err('foreign');
  if (!isAsSigned(read.value)) return err('hash');
  return ok({ kind: name.kind, id: name.id, hash, text, item: read.value });
}
