import type { StampedLine } from '../../measurement/line.ts';
import type { LineRecipe } from '../../measurement/recipe.ts';
import type { Sample } from '../../measurement/sample.ts';
import type { Extractor, Slots } from './extraction.ts';
import type { InstrumentClock } from './instrument-clock.ts';
import { verifyCheck } from '../line-check.ts';
import type { LineRead } from './line-read.ts';
import { isSummary } from './read-columns.ts';
import type { FieldReader } from './read-field.ts';
import { hasOwnDecimal } from './read-number.ts';

export type FastColumnsParts = {
  readonly recipe: LineRecipe;
  readonly slots: Slots;
  readonly fields: readonly FieldReader[];
  readonly clock: InstrumentClock | undefined;
  readonly readStatus: (text: string, sample: Sample) => void;
  /** the careful way, which knows whether a header has moved the columns */
  readonly extractor: Extractor;
};

const powersOfTen = [1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15];

/**
 * The quick way for plain columns: one pass over the line without splitting it, numbers read in place. Anything out of the
 * ordinary (a word, a unit, an odd byte, an unexpected count) gives undefined, and the line goes the careful way instead.
 * Both ways give the same samples; a test compares them.
 */
export function createFastColumns({
  recipe,
  slots,
  fields,
  clock,
  readStatus,
  extractor,
}: FastColumnsParts): ((line: StampedLine) => LineRead | undefined) | undefined {
  const { shape, ignore } = recipe;
  // a mark between thousands is out of the ordinary, and goes the careful way
  if (shape.kind !== 'columns' || !hasOwnDecimal(recipe) || shape.quoted) return undefined;
  const { check } = recipe;
  if (check.kind !== 'none' && check.as === 'byte') return undefined;
  if (
    slots.date >= 0 ||
    slots.flags.length > 0 ||
    ignore.prefixes.length > 0 ||
    ignore.prompts.length > 0 ||
    ignore.logPrefix ||
    Object.keys(recipe.words).length > 0
  )
    return undefined;
  const isBlanks = shape.delimiter === 'blanks';
  if (!isBlanks && shape.delimiter.length !== 1) return undefined;
  const delimiter = isBlanks ? 32 : shape.delimiter.charCodeAt(0);
  const mark = recipe.decimal.charCodeAt(0);
  if (mark === delimiter) return undefined;
  // without a count, any number of columns that reaches the last one that is read
  const isOpen = shape.count === undefined;
  const count = shape.count ?? Math.max(...slots.list.map(({ at }) => (typeof at === 'number' ? at + 1 : 0)));
  if (count < 1) return undefined;

  /** per column: slot + 1, or 0 = not read */
  const slotOf = new Uint8Array(count);
  for (const [slot, { at }] of slots.list.entries()) {
    if (typeof at !== 'number' || at >= count || slotOf[at] !== 0) return undefined;
    slotOf[at] = slot + 1;
  }
  const sentence = shape.startsWith === undefined ? undefined : `${shape.startsWith}${isBlanks ? ' ' : shape.delimiter}`;
  const fieldCount = fields.length;
  const { time, status } = slots;
  // a field remembers what it took: it is told when nothing can send the line the careful way any more
  const taken = new Float64Array(fieldCount);
  const slotAt = new Uint16Array(fieldCount);

  return (line) => {
    if (line.cutBytes !== undefined || extractor.isMoved?.() === true) return undefined;
    let text = line.bytes;
    if (check.kind !== 'none') {
      const verified = verifyCheck(check, text);
      if (!verified.ok) return undefined;
      text = verified.body;
    }
    if (sentence !== undefined && !text.startsWith(sentence)) return undefined;
    const length = text.length;
    const sample: Sample = { timeMs: line.timeMs, values: {} };
    let at = 0;
    let takenCount = 0;
    let statusText = '';
    let timeFrom = -1;
    let timeTo = -1;
    for (let column = 0; column < count; column++) {
      if (isBlanks) {
        while (at < length && text.charCodeAt(at) === 32) at += 1;
        if (at === length) return undefined;
      }
      const from = at;
      const slot = (slotOf[column] ?? 0) - 1;
      if (slot >= 0 && slot < fieldCount) {
        let code = text.charCodeAt(at);
        while (code === 32) code = text.charCodeAt(++at);
        let negative = false;
        if (code === 45 || code === 43) {
          negative = code === 45;
          code = text.charCodeAt(++at);
        }
        const firstDigit = at;
        let value = 0;
        let fraction = 0;
        for (; code >= 48 && code <= 57; code = text.charCodeAt(++at)) value = value * 10 + code - 48;
        if (code === mark) {
          const point = at;
          code = text.charCodeAt(++at);
          for (; code >= 48 && code <= 57; code = text.charCodeAt(++at)) value = value * 10 + code - 48;
          fraction = at - point - 1;
          // '.5' and '4.' are rare enough for the careful way.
          if (fraction === 0 || point === firstDigit) return undefined;
        }
        // Up to 15 digits both the digits and the power of ten are exact, so that the division rounds as Number() does.
        if (at === firstDigit || at - firstDigit > 15) return undefined;
        if (!isBlanks) while (code === 32) code = text.charCodeAt(++at);
        if (at < length && code !== delimiter) return undefined;
        if (fraction > 0) value /= powersOfTen[fraction] ?? 1;
        slotAt[takenCount] = slot;
        taken[takenCount++] = negative ? -value : value;
      } else {
        // A comment or a prompt in front makes the line special, and so does a byte that is no text.
        const first = text.charCodeAt(at);
        if (column === 0 && sentence === undefined && !(first >= 48 && first <= 57) && !((first | 32) >= 97 && (first | 32) <= 122))
          return undefined;
        for (; at < length; at++) {
          const code = text.charCodeAt(at);
          if (code === delimiter) break;
          if (code < 32 || code > 126) return undefined;
        }
        if (column === 0 && slot < 0 && (first | 32) >= 97 && isSummary(text.slice(from, at))) return undefined;
        // a column that nobody reads has no slot, and neither has a time that is not in the line
        if (slot < 0) {
          // passed over
        } else if (slot === time) {
          timeFrom = from;
          timeTo = at;
        } else if (slot === status) {
          statusText = text.slice(from, at);
        }
      }
      if (column === count - 1) break;
      if (at >= length) return undefined;
      at += 1;
    }
    if (isBlanks) while (at < length && text.charCodeAt(at) === 32) at += 1;
    if (at < length && !isOpen) return undefined;
    for (; at < length; at++) {
      const code = text.charCodeAt(at);
      if (code < 32 || code > 126) return undefined;
    }
    // The clock remembers; it is asked only when nothing can send the line the careful way any more.
    if (timeFrom >= 0) {
      const instrumentMs = clock?.read(text.slice(timeFrom, timeTo));
      if (instrumentMs === undefined) return undefined;
      sample.instrumentMs = instrumentMs;
    }
    for (let nth = 0; nth < takenCount; nth++) fields[slotAt[nth] ?? 0]?.take(taken[nth] ?? 0, sample);
    if (statusText !== '') readStatus(statusText, sample);
    return { kind: 'sample', sample };
  };
}
