/** Names of items as files. Safe on every system, whatever stands in an id; upper and lower case are one on some of them. */
import { itemKinds, type ItemKind } from './item.ts';

/** enough against accidents, and short enough for the longest paths of Windows */
export const HASH_IN_NAME = 32;
const LONGEST = 120;

/** @returns undefined for an id that gives too long a name */
export function safeId(id: string): string | undefined {
  const name = id.replace(/[^0-9a-z-]/g, (sign) => `_${sign.charCodeAt(0).toString(16).padStart(4, '0')}`);
  return name.length > LONGEST ? undefined : name;
}
const idOf = (name: string): string => name.replace(/_([0-9a-f]{4})/g, (_, code: string) => String.fromCharCode(Number.parseInt(code, 16)));

export const fileNameOf = (kind: ItemKind, id: string, hash: string): string | undefined => {
  const name = safeId(id);
  return name === undefined ? undefined : `${kind}.${name}.${hash.slice(0, HASH_IN_NAME)}.json`;
};

const FILE_NAME = new RegExp(`^(${itemKinds.join('|')})\\.((?:[0-9a-z-]|_[0-9a-f]{4})+)\\.([0-9a-f]{${HASH_IN_NAME}})\\.json$`);

export function readFileName(name: string): { kind: ItemKind; id: string; hash: string } | undefined {
  const found = FILE_NAME.exec(name);
  if (found === null) return undefined;
  const [, kind, id, hash] = found as unknown as [string, ItemKind, string, string];
  return { kind, id: idOf(id), hash };
}
