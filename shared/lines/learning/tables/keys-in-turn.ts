/** A table from keys that follow one another, one or a few a line. */
import type { ShapeOf } from '../../../measurement/recipe-shape.ts';
import { mostFrequent } from './cells.ts';
import { nameMeaning } from '../names/column-name.ts';
import { frequentKeys, type Parsed } from './line-pairs.ts';
import { makeColumn, styleOf, type Table } from './table.ts';

/** Which member of a cycle comes first. Breaks and silences tell; else the usual first sight. */
function cycleOrder(
  sequence: readonly { key: string; line: number }[],
  keys: readonly string[],
  breaks: ReadonlySet<number>,
  gaps: ReadonlySet<number>,
): string[] {
  const next = new Map<string, string[]>();
  for (let at = 1; at < sequence.length; at++) {
    const before = sequence[at - 1];
    const now = sequence[at];
    if (before === undefined || now === undefined) continue;
    const list = next.get(before.key) ?? [];
    list.push(now.key);
    next.set(before.key, list);
  }
  const starts = sequence.filter(({ line }) => breaks.has(line)).map(({ key }) => key);
  const afterGap = sequence.filter(({ line }) => gaps.has(line)).map(({ key }) => key);
  const sorted = [...keys].sort();
  const isAlphabet =
    keys.every((key) => /^([a-z]|[a-z]*\d+)$/.test(key)) && !keys.some((key) => Object.keys(nameMeaning(key).roles).length > 0);
  const timeKey = keys.find((key) => (nameMeaning(key).roles.time ?? 0) >= 3 || (nameMeaning(key).roles.date ?? 0) >= 3);
  const last = sequence.at(-1)?.key;
  const afterLast = last === undefined ? undefined : mostFrequent(next.get(last) ?? [])?.item;
  const first =
    (starts.length >= 2 && (mostFrequent(starts)?.count ?? 0) >= Math.max(starts.length * 0.7, (sequence.length / keys.length) * 0.3)
      ? mostFrequent(starts)?.item
      : undefined) ??
    (afterGap.length >= 2 ? mostFrequent(afterGap)?.item : undefined) ??
    timeKey ??
    (isAlphabet ? sorted[0] : undefined) ??
    (sequence[0]?.key === afterLast ? sequence[0]?.key : undefined) ??
    (keys.includes('o2') ? 'o2' : undefined) ??
    sequence[0]?.key ??
    keys[0] ??
    '';
  const order = [first];
  while (order.length < keys.length) {
    const followers = (next.get(order.at(-1) ?? '') ?? []).filter((key) => !order.includes(key));
    const follower = mostFrequent(followers)?.item ?? keys.find((key) => !order.includes(key));
    if (follower === undefined) break;
    order.push(follower);
  }
  return order;
}

export function cycleTable(
  withPairs: readonly Parsed[],
  texts: readonly string[],
  {
    withDigits,
    separator,
    between,
    gaps,
  }: { readonly withDigits: number; readonly separator: string; readonly between: string; readonly gaps: ReadonlySet<number> },
): Table | undefined {
  const times = frequentKeys(withPairs, 2);
  const most = Math.max(0, ...[...times.values()].map((row) => row.times));
  // Titles look like keys with a word behind them; only what is read, or tells time or status, belongs to the cycle.
  const readable = new Map<string, number>();
  for (const { pairs } of withPairs) {
    for (const { key, value } of pairs) if (/\d/.test(value)) readable.set(key, (readable.get(key) ?? 0) + 1);
  }
  const keys = [...times].filter(
    ([key, row]) =>
      row.times >= Math.max(2, most * 0.4) && ((readable.get(key) ?? 0) >= row.times * 0.3 || (nameMeaning(key).roles.status ?? 0) >= 3),
  );
  if (keys.length < 2 || keys.length > 40) return undefined;
  const known = new Set(keys.map(([key]) => key));
  const sequence = withPairs
    .flatMap(({ line, pairs }) => pairs.map(({ key, value }) => ({ key, value, line })))
    .filter(({ key }) => known.has(key));
  const used = new Set(sequence.map(({ line }) => line));
  const breaks = new Set<number>();
  let isBroken = false;
  for (let line = 0; line < texts.length; line++) {
    if (!used.has(line)) isBroken = true;
    else {
      if (isBroken && line > 0) breaks.add(line);
      isBroken = false;
    }
  }
  const order = cycleOrder(
    sequence,
    keys.map(([key]) => key),
    breaks.size < used.size * 0.8 ? breaks : new Set(),
    gaps,
  );
  const rank = new Map(order.map((key, at) => [key, at]));
  // Rows of the table are the cycles, put together as the reader will.
  const rows: Map<string, string>[] = [];
  let row = new Map<string, string>();
  let reached = -1;
  for (const { key, value } of sequence) {
    const at = rank.get(key) ?? 0;
    if (at <= reached) {
      rows.push(row);
      row = new Map();
    }
    row.set(key, value);
    reached = at;
  }
  rows.push(row);
  const style = styleOf(
    sequence.map(({ value }) => value.trim()),
    false,
  );
  const columns = order.map((key) =>
    makeColumn({
      at: times.get(key)?.shown ?? key,
      name: times.get(key)?.shown ?? key,
      texts: rows.map((one) => one.get(key) ?? ''),
      style,
    }),
  );
  if (columns.filter((column) => (column.statistics?.share ?? 0) > 0.4).length < 2) return undefined;
  const shape: ShapeOf<'keyed'> = {
    kind: 'keyed',
    separator,
    between,
    gather: { order: order.map((key) => times.get(key)?.shown ?? key) },
  };
  return {
    shape,
    columns,
    rows: rows.length,
    share: Math.min(1, used.size / Math.max(1, withDigits)),
    style,
    check: { kind: 'none' },
    prompts: [],
    reasons: [{ key: 'keys-in-turn', count: order.length }],
    preference: separator === 'after' ? 0 : separator === '<>' ? 0.6 : 0.2,
  };
}
