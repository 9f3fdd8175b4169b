/** One field of plain data, named by its path. Pure; knows nothing of visits. */
export type Json = string | number | boolean | null | Json[] | { [key: string]: Json };
export type Path = readonly (string | number)[];

/** In a path: behind the last one of a list, whatever its length is by then. @source RFC 6901 section 4 */
export const APPEND = '-';

const isList = (value: unknown): value is Json[] => Array.isArray(value);
const isRecord = (value: unknown): value is Record<string, Json> => typeof value === 'object' && value !== null && !Array.isArray(value);
/** Names that would reach into the language instead of the data. */
const forbidden = new Set(['__proto__', 'constructor', 'prototype']);

export const isForbidden = (path: Path): boolean => path.some((key) => forbidden.has(String(key)));

export function valueAt(body: Json, path: Path): Json | undefined {
  return path.reduce<Json | undefined>((at, key) => {
    if (isList(at)) return typeof key === 'number' ? at[key] : undefined;
    return isRecord(at) && Object.hasOwn(at, key) ? at[key] : undefined;
  }, body);
}

/** The path with `APPEND` said as the number that it means now. */
export function withoutAppend(body: Json, path: Path): (string | number)[] {
  return path.map((key, index) => {
    const list = key === APPEND ? valueAt(body, path.slice(0, index)) : undefined;
    return isList(list) ? list.length : key;
  });
}

/**
 * @param after undefined takes the field away
 * @returns undefined when there is no such place: an index past the end, or a name in a list. The next index of a list is a place.
 */
export function setAt(body: Json, [key, ...rest]: Path, after: Json | undefined): Json | undefined {
  if (key === undefined) return after ?? null;
  if (forbidden.has(String(key))) return undefined;
  if (isList(body)) {
    if (typeof key !== 'number' || !Number.isInteger(key) || key < 0 || key > body.length) return undefined;
    const isNew = key === body.length;
    if (isNew && (rest.length > 0 || after === undefined)) return undefined;
    if (rest.length === 0) return after === undefined ? body.toSpliced(key, 1) : [...body.slice(0, key), after, ...body.slice(key + 1)];
    const inner = setAt(body[key] ?? null, rest, after);
    return inner === undefined ? undefined : [...body.slice(0, key), inner, ...body.slice(key + 1)];
  }
  // a name inside a figure or a text is no place; a part that is not there yet begins empty
  if (!isRecord(body) && body !== null) return undefined;
  const record = isRecord(body) ? { ...body } : {};
  if (rest.length === 0 && after === undefined) {
    delete record[key];
    return record;
  }
  const inner = rest.length === 0 ? after : setAt(Object.hasOwn(record, key) ? (record[key] ?? null) : null, rest, after);
  return inner === undefined ? undefined : { ...record, [key]: inner };
}
