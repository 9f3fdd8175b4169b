/** A table from lines that hold all their keys at once. */
import { normalKey } from '../../reading/read-keyed.ts';
import { readValue } from '../../reading/read-number.ts';
import { isTwofoldIn, makeColumn, styleOf, type Table } from './table.ts';
import { type Parsed, isOfUse } from './line-pairs.ts';

const loose = { decimal: '.', thousands: 'none' } as const;

/** 'A: O2 4.1' and 'B: O2 20.9': the same name behind different tags, in many lines each. */
function areTagged(withPairs: readonly Parsed[]): boolean {
  const tags = new Map<string, Map<string, number>>();
  for (const { pairs } of withPairs) {
    const tagged = /^([^\s:]{1,12}):\s+(\S.*)$/.exec(pairs[0]?.shown ?? '');
    const name = normalKey(tagged?.[2] ?? '');
    if (tagged === null || !isOfUse(name)) continue;
    const times = tags.get(name) ?? new Map<string, number>();
    times.set(tagged[1] ?? '', (times.get(tagged[1] ?? '') ?? 0) + 1);
    tags.set(name, times);
  }
  return [...tags.values()].some((times) => [...times.values()].filter((count) => count >= withPairs.length * 0.15).length >= 2);
}

export function oneLineTable(
  withPairs: readonly Parsed[],
  keys: ReadonlyMap<string, { shown: string }>,
  withDigits: number,
  separator: string,
  between: string,
): Table | undefined {
  const twofold = new Map<string, number>();
  const rows = withPairs.map(({ pairs }) => {
    const row = new Map<string, string>();
    for (const { key, value } of pairs) {
      const first = row.get(key);
      if (keys.has(key) && first === undefined) row.set(key, value);
      if (first !== undefined && first.trim() !== value.trim()) twofold.set(key, (twofold.get(key) ?? 0) + 1);
    }
    return row;
  });
  const style = styleOf(
    rows.flatMap((row) => [...row.values()].map((value) => value.trim())),
    false,
  );
  const columns = [...keys].map(([key, { shown }]) =>
    makeColumn({
      at: shown,
      name: shown,
      texts: rows.map((row) => row.get(key) ?? ''),
      style,
      isTwofold: isTwofoldIn(twofold.get(key) ?? 0, rows.length),
    }),
  );
  const numeric = columns.filter((column) => (column.statistics?.share ?? 0) > 0.5);
  if (numeric.length < 2 && !(numeric.length === 1 && isOfUse(numeric[0]?.name ?? ''))) return undefined;
  // Letters and digits only: where the decimal mark belongs is left to the reader.
  if (separator === 'glued' && numeric.every(({ statistics }) => statistics?.decimals === 0))
    for (const [index, column] of columns.entries())
      if (column.name.length === 1) columns[index] = { ...column, meaning: { roles: {} }, unit: undefined, scales: [0.1, 1, 0.01] };
  const readable = rows.filter((row) =>
    [...row.values()].some((value) => readValue(value, { ...loose, ...style }).kind === 'number'),
  ).length;
  return {
    shape: { kind: 'keyed', separator, between },
    columns,
    rows: rows.length,
    share: Math.min(1, readable / Math.max(1, withDigits)),
    style,
    isMixed: areTagged(withPairs),
    check: { kind: 'none' },
    prompts: [],
    reasons: [
      separator === '<>'
        ? { key: 'markup', count: keys.size, lines: rows.length }
        : separator === 'after'
          ? { key: 'names-behind', count: keys.size, lines: rows.length }
          : { key: 'keys', count: keys.size, separator, lines: rows.length },
    ],
    preference: separator === 'after' ? 0.1 : separator === '<>' ? 0.6 : 0.35,
  };
}
