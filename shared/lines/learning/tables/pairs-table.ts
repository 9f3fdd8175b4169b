import type { LinesToLearn } from './lines-to-learn.ts';
import type { Table } from './table.ts';
import {
  type Parsed,
  separators,
  betweens,
  isBetween,
  beginsWithValue,
  createParser,
  keyLooksRight,
  frequentKeys,
  isOfUse,
} from './line-pairs.ts';
import { oneLineTable } from './keys-in-one-line.ts';
import { cycleTable } from './keys-in-turn.ts';

const sayAll: ReadonlySet<string> = new Set(['blank', 'after', 'glued', '<>']);

/** A name and then several numbers: a table with names in front, not keys with their values. */
function areTables(texts: readonly string[], parsed: readonly Parsed[]): boolean {
  const withPairs = parsed.filter(({ pairs }) => pairs.some(({ key }) => isOfUse(key)));
  const extra = withPairs.filter(
    ({ line, pairs }) => (texts[line]?.match(/(?:^|\s)[+-]?\d+[.,]\d+(?=\s|$)/g) ?? []).length > pairs.length + 1,
  );
  return withPairs.length > 0 && extra.length > withPairs.length * 0.3;
}

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
  return cycleTable(withPairs, texts, { withDigits, separator, between, gaps });
}
