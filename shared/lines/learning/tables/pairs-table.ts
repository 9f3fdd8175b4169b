import type { ShapeOf } from '../../../measurement/recipe.ts';
import { normalKey, splitPairs } from '../../reading/read-keyed.ts';
import { readValue } from '../../reading/read-number.ts';
import { mostFrequent } from './cells.ts';
import { type LinesToLearn } from './lines-to-learn.ts';
import { nameMeaning } from '../names/column-name.ts';
import { makeColumn, styleOf, type Table } from './table.ts';

const separators = ['<>', '=', ':', 'blank', 'after', 'glued'] as const;
const betweens = ['line', ';', ',', '|', '&', '\t', 'wide', 'blank'] as const;
const wideGap = /\s{2}|[;,|\t]/;
const isBetween = (text: string, between: (typeof betweens)[number]): boolean =>
  between === 'wide' ? wideGap.test(text) : between === 'blank' ? /[ \t,;]/.test(text) : text.includes(between);
const sayAll: ReadonlySet<string> = new Set(['blank', 'after', 'glued', '<>']);
const loose = { decimal: '.', thousands: 'none' } as const;

const beginsWithValue = /^\s*[<>]?[+-]?\d+([.,]\d+)?(?![\d:./-])\s*[^\d\s]/;

/** `key` is as it is compared, `shown` as it came */
type ParsedPair = { readonly key: string; readonly shown: string; readonly value: string };
type Parsed = { readonly line: number; readonly pairs: readonly ParsedPair[] };

/** The same few keys come with every line; each is made comparable once. */
function createParser(): (text: string, line: number, separator: string, between: string) => Parsed {
  const normalised = new Map<string, string>();
  return (text, line, separator, between) => ({
    line,
    pairs: splitPairs(text, separator, between).map(({ key: shown, value }) => {
      const key = normalised.get(shown) ?? normalKey(shown);
      normalised.set(shown, key);
      return { key, shown, value };
    }),
  });
}

const keyLooksRight = (key: string): boolean => /[A-Za-z%\u00c0-\u024f]/.test(key) && key.length <= 40 && !/^[+-]?\d+[.,]\d/.test(key);

/** The keys that come again and again, in the order of their first coming. */
function frequentKeys(parsed: readonly Parsed[], least: number): Map<string, { shown: string; times: number }> {
  const keys = new Map<string, { shown: string; times: number }>();
  for (const { pairs } of parsed) {
    for (const pair of pairs) {
      const { key } = pair;
      if (!keyLooksRight(key)) continue;
      const row = keys.get(key);
      if (row === undefined) keys.set(key, { shown: pair.shown.trim().replace(/^["']|["']$/g, ''), times: 1 });
      else row.times += 1;
    }
  }
  for (const [key, { times }] of keys) if (times < least) keys.delete(key);
  return keys;
}

/** A name and then several numbers: a table with names in front, not keys with their values. */
function areTables(texts: readonly string[], parsed: readonly Parsed[]): boolean {
  const withPairs = parsed.filter(({ pairs }) => pairs.some(({ key }) => isOfUse(key)));
  const extra = withPairs.filter(
    ({ line, pairs }) => (texts[line]?.match(/(?:^|\s)[+-]?\d+[.,]\d+(?=\s|$)/g) ?? []).length > pairs.length + 1,
  );
  return withPairs.length > 0 && extra.length > withPairs.length * 0.3;
}

/** longer than any name of a column */
const LONGEST_NAME = 120;
const isOfUse = (key: string): boolean => {
  if (key.length > LONGEST_NAME || !/[a-z\u00c0-\u024f]/i.test(key)) return false;
  const { roles } = nameMeaning(key);
  return ['o2', 'co', 'co2', 'stack', 'air'].some((role) => ((roles as Record<string, number>)[role] ?? 0) >= 2);
};

/**
 * Keys that come together in some of the lines, among messages with other keys: those of the lines that name a gas. Also a single key
 * that does, where no line has more.
 */
function groupAmong(parsed: readonly Parsed[]): { keys: string[] } | undefined {
  const groups = new Map<string, { keys: string[]; times: number }>();
  for (const { pairs } of parsed) {
    const keys = [...new Set(pairs.filter(({ value }) => /^\s*[<>]?[+-]?[.,]?\d/.test(value)).map(({ key }) => key))].filter(keyLooksRight);
    if (keys.length === 0 || keys.length > 64) continue;
    const sign = keys.join('\n');
    const group = groups.get(sign) ?? { keys, times: 0 };
    group.times += 1;
    groups.set(sign, group);
  }
  const useful = [...groups.values()].filter(({ keys, times }) => times >= 4 && keys.some(isOfUse));
  const single = new Set(useful.filter(({ keys }) => keys.length === 1).map(({ keys }) => keys[0]));
  // Several names of use, each in a line of its own: they follow one another.
  if (single.size > 1) return undefined;
  const weight = ({ keys, times }: { keys: string[]; times: number }): number => times * (1 + keys.filter(isOfUse).length);
  return useful.filter(({ keys }) => keys.length > 1 || useful.length === 1).sort((a, b) => weight(b) - weight(a))[0];
}

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

/** Keys with their values, all in one line or one after the other. `gaps` are lines that came after a longer silence. */
export function pairsTables({ texts, withDigits }: LinesToLearn, gaps: ReadonlySet<number>): Table[] {
  const tables: Table[] = [];
  const parse = createParser();
  for (const separator of separators) {
    if (separator === 'glued') {
      // Only where nothing else parts them: names with digits ('O2') could not be told from their values.
      if (texts.filter((text) => /^\s*(?:[A-Za-z]{1,4}[+-]?\d+(?:[.,]\d+)?)+\s*$/.test(text)).length < texts.length * 0.5) continue;
    } else if (separator === '<>') {
      if (texts.filter((text) => /<[A-Za-z][^<>]*>/.test(text)).length < texts.length * 0.5) continue;
    } else if (separator === 'after') {
      // The value first: a number that is no clock begins the line, words end it.
      const isSo = (text: string): boolean => text.length < 200 && beginsWithValue.test(text) && /[A-Za-z]\w*$/.test(text.trimEnd());
      if (texts.filter(isSo).length < withDigits * 0.5) continue;
    } else if (separator !== 'blank' && texts.filter((text) => text.includes(separator)).length < texts.length * 0.25) continue;
    let best: { table: Table; score: number } | undefined;
    for (const between of sayAll.has(separator) ? (['blank'] as const) : betweens) {
      // What is in no line parts nothing.
      if (between !== 'line' && !sayAll.has(separator) && !texts.some((text) => isBetween(text, between))) continue;
      const parsed: Parsed[] = texts.map((text, line) => parse(text, line, separator, between));
      if (separator === 'blank' && areTables(texts, parsed)) continue;
      const table = tableFrom(parsed, texts, withDigits, separator, between, gaps);
      if (table === undefined) continue;
      const readable = table.columns.reduce((sum, column) => sum + (column.statistics?.count ?? 0), 0);
      const named = table.columns.filter((column) => Object.keys(column.meaning.roles).length > 0).length;
      const score = readable / Math.max(1, withDigits) + named * 0.5;
      if (best === undefined || score > best.score + 0.01) best = { table, score };
    }
    if (best !== undefined) tables.push(best.table);
  }
  return tables;
}

function tableFrom(
  parsed: readonly Parsed[],
  texts: readonly string[],
  withDigits: number,
  separator: string,
  between: string,
  gaps: ReadonlySet<number>,
): Table | undefined {
  const withPairs = parsed.filter(({ pairs }) => pairs.some(({ key }) => keyLooksRight(key)));
  if (withPairs.length < 3) return undefined;
  const whole = frequentKeys(withPairs, Math.max(2, withPairs.length * 0.5));
  const isOneLine = [...whole.values()].length >= 2;
  const among = groupAmong(withPairs);
  if (isOneLine && (among === undefined || [...whole.keys()].some(isOfUse))) {
    const table = oneLineTable(withPairs, whole, withDigits, separator, between);
    if (table !== undefined || among === undefined) return table;
  }
  if (among !== undefined) {
    const known = new Set(among.keys);
    const lines = withPairs.filter(({ pairs }) => pairs.filter(({ key }) => known.has(key)).length >= known.size * 0.5);
    const keys = new Map([...frequentKeys(lines, 1)].filter(([key]) => known.has(key)));
    const table = oneLineTable(lines, keys, withDigits, separator, between);
    if (table !== undefined) return table;
  }

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

function oneLineTable(
  withPairs: readonly Parsed[],
  keys: ReadonlyMap<string, { shown: string }>,
  withDigits: number,
  separator: string,
  between: string,
): Table | undefined {
  const rows = withPairs.map(({ pairs }) => {
    const row = new Map<string, string>();
    for (const pair of pairs) {
      if (keys.has(pair.key) && !row.has(pair.key)) row.set(pair.key, pair.value);
    }
    return row;
  });
  const style = styleOf(
    rows.flatMap((row) => [...row.values()].map((value) => value.trim())),
    false,
  );
  const columns = [...keys].map(([key, { shown }]) =>
    makeColumn({ at: shown, name: shown, texts: rows.map((row) => row.get(key) ?? ''), style }),
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
