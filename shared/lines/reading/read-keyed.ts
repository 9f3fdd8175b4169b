import type { ShapeOf } from '../../measurement/recipe-shape.ts';
import { rejected, TWO_VALUES, type Extractor, type Slot } from './extraction.ts';
import { createGatherer } from './gather.ts';
import { unitFromText } from '../unit-spellings.ts';
import { isMultiplierWord } from '../multiplier.ts';
import { rejectionTexts } from '../../words/core/lines.ts';
import { defined } from '../../defined.ts';

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

const grouped = /[<>]?[+-]?\d{1,3}(?:[ \u00a0\u2009\u202f]\d{3})+(?:[.,]\d+)?(?![^\s,;|%\u00b0A-Za-z])/y;
const nextWord = /\s*([^\s,;|]+)/y;

/**
 * The words of a text one after the other, a number as it is written. A comma between digits is a decimal mark, not the end of a word. A single blank before
 * three digits parts thousands ('CO 1 398 ppm' is not a CO of 1), unless a point comes after them and no unit: then they are two figures.
 */
function* wordsOf(text: string): Generator<{ 0: string; index: number }> {
  const token = /[<>]?[+-]?\d+,\d[^\s,;|]*|[^\s,;|]+/g;
  for (let found = token.exec(text); found !== null; found = token.exec(text)) {
    grouped.lastIndex = found.index;
    const whole = grouped.exec(text)?.[0];
    if (whole !== undefined) {
      const end = found.index + whole.length;
      nextWord.lastIndex = end;
      if (!/[.,]/.test(whole) || unitFromText(nextWord.exec(text)?.[1] ?? '') !== undefined) {
        token.lastIndex = end;
        yield { 0: whole, index: found.index };
        continue;
      }
    }
    yield found;
  }
}

/** 'O2 4.1 % CO 23 ppm': words up to a number are its key, a unit behind a number belongs to the number. */
function blankPairs(text: string): Pair[] {
  const pairs: Pair[] = [];
  let key: string[] = [];
  let end = 0;
  let afterValue = false;
  for (const found of wordsOf(text)) {
    const word = found[0];
    const last = pairs.at(-1);
    // 'state OK; oxygen 4.2': a word may be a value too, and what is behind the mark is another key.
    if (key.length > 0 && /[;|]/.test(text.slice(end, found.index))) {
      if (key.length >= 2) pairs.push({ key: key.slice(0, -1).join(' '), value: key.at(-1) ?? '', start: end - (key.at(-1) ?? '').length });
      key = [];
    }
    end = found.index + word.length;
    if (key.length > 0 && (startsNumber.test(word) || holeWord.test(word))) {
      pairs.push({ key: key.join(' '), value: word, start: found.index });
      key = [];
      afterValue = true;
      continue;
    }
    const isMultiplier: boolean = afterValue && isMultiplierWord(word);
    if (afterValue && last !== undefined && (isMultiplier || unitFromText(word) !== undefined)) {
      pairs[pairs.length - 1] = { ...last, value: `${last.value} ${word}` };
      afterValue = isMultiplier;
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

const plainValue = /^[<>]?[+\-\u2212]?[.,]?\d[\d.,]*$/;

/** '4.1 % O2  23 ppm CO': each number, its unit, then the words that name it. */
function afterPairs(text: string): Pair[] {
  const pairs: Pair[] = [];
  let value: { text: string; start: number } | undefined;
  let key: string[] = [];
  const finish = (): void => {
    if (value !== undefined && key.length > 0) pairs.push({ key: key.join(' '), value: value.text, start: value.start });
    value = undefined;
    key = [];
  };
  for (const found of wordsOf(text)) {
    const word = found[0];
    if (startsNumber.test(word) || holeWord.test(word)) {
      finish();
      value = { text: word, start: found.index };
      continue;
    }
    if (value === undefined) continue;
    const isBare = key.length === 0 && plainValue.test(value.text);
    if (isBare && word.startsWith('%') && /^%[A-Za-z]/.test(word) && !/^%(vol|v$|tr|dry)/i.test(word)) {
      value = { ...value, text: `${value.text} %` };
      key.push(word.slice(1));
    } else if (isBare && unitFromText(word) !== undefined) value = { ...value, text: `${value.text} ${word}` };
    else if (!/^[.:=_-]+$/.test(word)) key.push(word);
  }
  finish();
  return pairs;
}

const nameAttribute = /^(n|name|id|key|ch|channel|type|label|tag|param|parameter)$/i;
const unitAttribute = /^(u|unit|units|uom)$/i;
const valueAttribute = /^(v|val|value|reading)$/i;

type Attribute = { name: string; value: string; start: number };

/** `a="1" b='2'` from a place on, up to the end of the tag. One pass; what is torn ends it. */
function attributesFrom(text: string, from: number): { list: Attribute[]; end: number } {
  const list: Attribute[] = [];
  const one = /\s*([A-Za-z_][\w:.-]*)\s*=\s*(?:"([^"<]*)"|'([^'<]*)')/y;
  one.lastIndex = from;
  let end = from;
  for (let found = one.exec(text); found !== null; found = one.exec(text)) {
    const value = found[2] ?? found[3] ?? '';
    end = one.lastIndex;
    list.push({ name: found[1] ?? '', value, start: end - 1 - value.length });
  }
  return { list, end };
}

/** `<o2 unit="%">4.1</o2>`, `<v n="O2">4.1</v>`, `<sample o2="4.1" co="23"/>`: what markup holds, as keys and values. */
function markupPairs(text: string): Pair[] {
  const pairs: Pair[] = [];
  const opening = /<([A-Za-z_][\w:.-]*)/g;
  for (let found = opening.exec(text); found !== null; found = opening.exec(text)) {
    const { list, end } = attributesFrom(text, opening.lastIndex);
    const close = text.indexOf('>', end);
    if (close < 0) break;
    opening.lastIndex = close;
    const next = text.indexOf('<', close);
    const content = text.slice(close + 1, next < 0 ? text.length : next);
    const unit = list.find(({ name }) => unitAttribute.test(name))?.value;
    const label = list.find(({ name }) => nameAttribute.test(name))?.value;
    const own = list.find(({ name }) => valueAttribute.test(name));
    const withUnit = (value: string): string => (unit === undefined || unit === '' ? value.trim() : `${value.trim()} ${unit}`);
    if (content.trim() !== '' && next >= 0) {
      pairs.push({ key: label ?? found[1] ?? '', value: withUnit(content), start: close + 1 });
    } else if (own !== undefined && (label !== undefined || unit !== undefined)) {
      pairs.push({ key: label ?? found[1] ?? '', value: withUnit(own.value), start: own.start });
    } else for (const { name, value, start } of list) pairs.push({ key: name, value, start });
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

/** Blanks, pair delimiters and the end of an enclosing bracket off the end. */
function withoutTail(text: string): string {
  let end = text.length;
  while (end > 0 && ' \t,;|}'.includes(text[end - 1] ?? '')) end -= 1;
  if (text[end - 1] === ']' && !text.includes('[')) end -= 1;
  return end === text.length ? text : text.slice(0, end);
}

/** Behind the last value a bare time may stand, which belongs to no key. */
const bareTime = /^(\s*\S+)\s+(?:\d{9,}|\d{4}-\d\d-\d\d\S*|\d{1,2}:\d{2}\S*)\s*$/;

/** Splits a line into its pairs. Linear in the line. */
export function splitPairs(text: string, separator: string, between: string): Pair[] {
  if (separator === 'blank') return blankPairs(text);
  if (separator === 'glued') return gluedPairs(text);
  if (separator === 'after') return afterPairs(text);
  if (separator === '<>') return markupPairs(text);
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
    if (isLast) value = bareTime.exec(value)?.[1] ?? value;
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
        if (slot === undefined) continue;
        const first = texts[slot];
        if (first !== undefined) {
          if (first !== TWO_VALUES && first.trim() !== pair.value.trim()) texts[slot] = TWO_VALUES;
          continue;
        }
        texts[slot] = pair.value;
        starts[slot] = pair.start;
        known += 1;
      }
      if (gatherer !== undefined)
        return tags.length === 0 ? { kind: 'ignored', why: 'banner' } : gatherer.add({ tags, texts, starts }, timeMs);
      if (known > 0) return { kind: 'texts', texts, starts };
      if (pairs.length === 0 && !/\d/.test(text)) return { kind: 'ignored', why: 'banner' };
      return rejected('no-channel', rejectionTexts.noKey);
    },
    ...defined({ end: gatherer === undefined ? undefined : () => gatherer.end() }),
  };
}
