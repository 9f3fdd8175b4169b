import type { ShapeOf } from '../measurement/recipe.ts';
import { rejected, type Extractor, type Slot } from './extraction.ts';
import { createGatherer } from './gather.ts';
import { unitFromText } from './sent-units.ts';

/** One key with the text behind it. */
export type Pair = { readonly key: string; readonly value: string; readonly start: number };

/** Keys are compared without case, edge blanks, leaders and quotes. */
export const normalKey = (key: string): string =>
  key
    .replace(/[\s.:=_*#>]+$/, '')
    .replace(/^[\s"'{[(*#>,;|]+|["']+$/g, '')
    .replace(/\s+/g, ' ')
    .toLowerCase();

const startsNumber = /^[<>]?[+\-(\u2212]?[.,]?\d/;
const holeWord = /^(?:[-+*?]{2,}|[-+*]+[.,][-+*]+|n\/a|nan|ol|over|err(?:or)?|under|ofl|off|[<>]{2,})$/i;

/** 'O2 4.1 % CO 23 ppm': words up to a number are its key, a unit behind a number belongs to the number. */
function blankPairs(text: string): Pair[] {
  const pairs: Pair[] = [];
  // A comma between digits is a decimal mark here, not the end of a word.
  const token = /[<>]?[+-]?\d+,\d[^\s,;|]*|[^\s,;|]+/g;
  let key: string[] = [];
  let found: RegExpExecArray | null;
  let afterValue = false;
  while ((found = token.exec(text)) !== null) {
    const word = found[0];
    const last = pairs.at(-1);
    if (key.length > 0 && (startsNumber.test(word) || holeWord.test(word))) {
      pairs.push({ key: key.join(' '), value: word, start: found.index });
      key = [];
      afterValue = true;
      continue;
    }
    if (afterValue && last !== undefined && unitFromText(word) !== undefined) {
      pairs[pairs.length - 1] = { ...last, value: `${last.value} ${word}` };
      afterValue = false;
      continue;
    }
    afterValue = false;
    if (!/^[.:=_-]+$/.test(word)) key.push(word);
  }
  // A word at the end is a key with a word for its value: 'ST OK'.
  if (key.length >= 2) pairs.push({ key: key.slice(0, -1).join(' '), value: key.at(-1) ?? '', start: text.lastIndexOf(key.at(-1) ?? '') });
  return pairs;
}

/** 'O5.2C77S212.4': letters up to a digit are the key. */
function gluedPairs(text: string): Pair[] {
  const pairs: Pair[] = [];
  for (const found of text.matchAll(/([A-Za-z]{1,4})([<>]?[+-]?\d+(?:[.,]\d+)?)/g)) {
    pairs.push({ key: found[1] ?? '', value: found[2] ?? '', start: found.index + (found[1] ?? '').length });
  }
  return pairs;
}

/** Where the key before a separator begins, inside the text since the last separator. */
function keyStart(piece: string, between: string): number {
  const body = piece.trimEnd();
  if (between === 'wide') {
    const wide = /^.*(?:\s{2,}|[;,|\t])(?=\S)/.exec(body);
    return wide === null ? 0 : wide[0].length;
  }
  if (between === 'blank') {
    for (let at = body.length - 1; at >= 0; at--)
      if (body[at] === ' ' || body[at] === '\t' || body[at] === ',' || body[at] === ';') return at + 1;
    return 0;
  }
  const at = body.lastIndexOf(between);
  return at < 0 ? 0 : at + between.length;
}

/** Blanks and pair delimiters off the end. */
function withoutTail(text: string): string {
  let end = text.length;
  while (end > 0 && ' \t,;|'.includes(text[end - 1] ?? '')) end -= 1;
  return end === text.length ? text : text.slice(0, end);
}

/** Splits a line into its pairs. Linear in the line. */
export function splitPairs(text: string, separator: string, between: string): Pair[] {
  if (separator === 'blank') return blankPairs(text);
  if (separator === 'glued') return gluedPairs(text);
  const pieces: { text: string; start: number }[] = [];
  let from = 0;
  if (between === 'line') {
    const at = text.indexOf(separator);
    if (at < 0) return [];
    return [{ key: text.slice(0, at), value: text.slice(at + separator.length), start: at + separator.length }];
  }
  for (let at = text.indexOf(separator); at >= 0; at = text.indexOf(separator, from)) {
    pieces.push({ text: text.slice(from, at), start: from });
    from = at + separator.length;
  }
  pieces.push({ text: text.slice(from), start: from });

  const pairs: Pair[] = [];
  let key = pieces[0]?.text.slice(keyStart(pieces[0].text, between)) ?? '';
  for (let at = 1; at < pieces.length; at++) {
    const piece = pieces[at];
    if (piece === undefined) break;
    const isLast = at === pieces.length - 1;
    const end = isLast ? piece.text.length : keyStart(piece.text, between);
    let value = piece.text.slice(0, end);
    if (between !== 'blank' && between !== 'wide' && value.endsWith(between)) value = value.slice(0, -between.length);
    pairs.push({ key, value: withoutTail(value), start: piece.start });
    key = piece.text.slice(end);
  }
  return pairs;
}

const MOST_KEYS = 200;

/** Pairs of key and value, all in one line or gathered over several. */
export function createKeyedExtractor(shape: ShapeOf<'keyed'>, slots: readonly Slot[]): Extractor {
  const slotOf = new Map<string, number>();
  slots.forEach(({ at }, slot) => {
    if (typeof at === 'string') slotOf.set(normalKey(at), slot);
  });
  const gatherer = shape.gather === undefined ? undefined : createGatherer(shape.gather.order.map(normalKey), slots.length);
  // The same few keys come with every line; noise does not fill the memory.
  const normalised = new Map<string, string>();
  const keyOf = (raw: string): string => {
    const known = normalised.get(raw);
    if (known !== undefined) return known;
    const key = normalKey(raw);
    if (normalised.size < MOST_KEYS) normalised.set(raw, key);
    return key;
  };

  return {
    extract(text, timeMs) {
      const pairs = splitPairs(text, shape.separator, shape.between);
      const texts = new Array<string | undefined>(slots.length).fill(undefined);
      const starts = new Array<number>(slots.length).fill(0);
      const tags: string[] = [];
      let known = 0;
      for (const pair of pairs) {
        const key = keyOf(pair.key);
        if (gatherer !== undefined) tags.push(key);
        const slot = slotOf.get(key);
        if (slot === undefined || texts[slot] !== undefined) continue;
        texts[slot] = pair.value;
        starts[slot] = pair.start;
        known += 1;
      }
      if (gatherer !== undefined)
        return tags.length === 0 ? { kind: 'ignored', why: 'banner' } : gatherer.add({ tags, texts, starts }, timeMs);
      if (known > 0) return { kind: 'texts', texts, starts };
      if (pairs.length === 0 && !/\d/.test(text)) return { kind: 'ignored', why: 'banner' };
      return rejected('no-channel', 'None of the keys is in this line.');
    },
    ...(gatherer === undefined ? {} : { end: () => gatherer.end() }),
  };
}
