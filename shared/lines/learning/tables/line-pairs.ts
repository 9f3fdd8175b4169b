/** Lines as pairs of a key and a value, and which of the keys come again and again or name a gas. */
import { normalKey, splitPairs } from '../../reading/read-keyed.ts';
import { nameMeaning } from '../names/column-name.ts';

export const separators = ['<>', '=', ':', 'blank', 'after', 'glued'] as const;
export const betweens = ['line', ';', ',', '|', '&', '\t', 'wide', 'blank'] as const;
const wideGap = /\s{2}|[;,|\t]/;
export const isBetween = (text: string, between: (typeof betweens)[number]): boolean =>
  between === 'wide' ? wideGap.test(text) : between === 'blank' ? /[ \t,;]/.test(text) : text.includes(between);

export const beginsWithValue = /^\s*[<>]?[+-]?\d+([.,]\d+)?(?![\d:./-])\s*[^\d\s]/;

/** `key` is as it is compared, `shown` as it came */
type ParsedPair = { readonly key: string; readonly shown: string; readonly value: string };
export type Parsed = { readonly line: number; readonly pairs: readonly ParsedPair[] };

/** The same few keys come with every line; each is made comparable once. */
export function createParser(): (text: string, line: number, separator: string, between: string) => Parsed {
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

export const keyLooksRight = (key: string): boolean =>
  /[A-Za-z%\u00c0-\u024f]/.test(key) && key.length <= 40 && !/^[+-]?\d+[.,]\d/.test(key);

/** The keys that come again and again, in the order of their first coming. */
export function frequentKeys(parsed: readonly Parsed[], least: number): Map<string, { shown: string; times: number }> {
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

/** longer than any name of a column */
const LONGEST_NAME = 120;
export const isOfUse = (key: string): boolean => {
  if (key.length > LONGEST_NAME || !/[a-z\u00c0-\u024f]/i.test(key)) return false;
  const { roles } = nameMeaning(key);
  return ['o2', 'co', 'co2', 'stack', 'air'].some((role) => ((roles as Record<string, number>)[role] ?? 0) >= 2);
};
