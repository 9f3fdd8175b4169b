import type { LineRecipe } from '../../measurement/recipe.ts';
import type { SentUnit } from '../../measurement/sent-unit.ts';
import type { AbsentReason } from '../../measurement/sample.ts';
import { absentReason } from './absent-words.ts';
import { unitFromText } from '../unit-spellings.ts';

export type NumberStyle = Pick<LineRecipe, 'decimal' | 'thousands'>;

/** What was sent in place of a value. `unit` only when the text itself names it. */
export type ReadValue =
  | { kind: 'number'; value: number; unit?: SentUnit | undefined }
  | { kind: 'bound'; bound: 'above' | 'below'; value: number; unit?: SentUnit | undefined }
  | { kind: 'absent'; why: AbsentReason }
  | { kind: 'unknown' };

const unknownValue: ReadValue = { kind: 'unknown' };
const thousandsMarks = {
  none: undefined,
  blank: /(?<=\d)[\u0020\u00a0\u2009\u202f](?=\d{3}(?!\d))/g,
  apostrophe: /(?<=\d)['\u2019](?=\d{3}(?!\d))/g,
  // nothing below one has thousands: 0,123 is a decimal comma
  comma: /(?<=\d)(?<!(?:^|\D)0),(?=\d{3}(?!\d))/g,
  point: /(?<=\d)(?<!(?:^|\D)0)\.(?=\d{3}(?!\d))/g,
  underscore: /(?<=\d)_(?=\d{3}(?!\d))/g,
} as const;

/** Inside one value a blank before three digits parts thousands; with a point after them and no unit they may be two figures. */
const blankGroups = /^[+-]?\d{1,3}(?:[\u0020\u00a0\u2009\u202f]\d{3})+(?!\d)(?![.,]\d+\s*$)/;
const shapeOfNumber = /^([+-]?)\s*(\d+(?:[.,]\d*)?|[.,]\d+)(?:[eEdD]([+-]?\d{1,3}))?(-?)/;

/** Longest text that is looked at; no value is written longer. */
const LONGEST_VALUE = 64;

/** A mark that parts thousands as well says nothing alone; else a number with none but the decimal mark is just that. */
export const hasOwnDecimal = ({ decimal, thousands }: NumberStyle): boolean => thousands !== (decimal === ',' ? 'comma' : 'point');

/** Digits with the recipe's own mark and nothing else: nearly every value. */
export function plainNumber(text: string, decimal: string): number | undefined {
  const mark = decimal.charCodeAt(0);
  let at = 0;
  const first = text.charCodeAt(0);
  if (first === 43 || first === 45) at = 1;
  const from = at;
  let value = 0;
  let divisor = 0;
  for (; at < text.length; at++) {
    const code = text.charCodeAt(at);
    if (code >= 48 && code <= 57) {
      value = value * 10 + code - 48;
      divisor *= 10;
    } else if (code === mark && divisor === 0 && at > from) divisor = 1;
    else return undefined;
  }
  // Up to 15 digits both parts are exact, so that the division rounds as Number() does.
  if (at === from || at - from > 15 || divisor === 1) return undefined;
  if (divisor > 0) value /= divisor;
  return first === 45 ? -value : value;
}

/** Not of the value: a check behind a star or a hash that no recipe verifies, the mark of a whole number in line protocols ('23i'). */
const foreignTail = /^i$|[*#][0-9A-Fa-f]{2,8}$/;
const withoutForeignTail = (rest: string): string =>
  rest !== '' && (rest === 'i' || rest.includes('*') || rest.includes('#')) ? rest.replace(foreignTail, '').trim() : rest;

/** The least, the most or the mean beside a value says nothing about the value itself. Other brackets may: a reference, a limit, another unit. */
const sideNote = /\s*[([]\s*(?:min|max|avg|mean|average|mittel|moy|moyenne|media|med|gem)(?![a-z])[^()[\]]*[)\]]$/i;

/** A text in a value's place: number, bound ('>2000'), word, or nothing known. Never throws; time is linear in the text. */
export function readValue(raw: string, style: NumberStyle): ReadValue {
  const plain = plainNumber(raw, style.decimal);
  if (plain !== undefined && hasOwnDecimal(style)) return { kind: 'number', value: plain };
  let text = raw.trim();
  if (text.length > LONGEST_VALUE) return unknownValue;
  if (text.endsWith(')') || text.endsWith(']')) text = text.replace(sideNote, '');
  if (text.length >= 2 && text.startsWith('"') && text.endsWith('"')) text = text.slice(1, -1).trim();
  if (text === '') return { kind: 'absent', why: 'blank' };
  if (text.charCodeAt(0) > 127 || text.charCodeAt(text.length - 1) > 127)
    text = text.replace(/^[\u2212\u2012\u2013]/, '-').replace(/[\u2212]$/, '-');

  let bound: 'above' | 'below' | undefined;
  const first = text.charCodeAt(0);
  if ((first === 60 || first === 62 || first === 0x2264 || first === 0x2265) && /\d/.test(text)) {
    bound = first === 62 || first === 0x2265 ? 'above' : 'below';
    text = text.replace(/^[<>\u2264\u2265]=?\s*/, '');
  }
  let negative = false;
  const bracketed = first !== 40 ? null : /^\(\s*(\d[^()]*)\)(.*)$/.exec(text);
  if (bracketed !== null) {
    negative = true;
    text = `${bracketed[1] ?? ''}${bracketed[2] ?? ''}`;
  }
  // CO of 1 398 ppm comes long after the recipe was learned from values below a thousand: it must not go missing then
  text = text.replace(blankGroups, (groups) => groups.replace(thousandsMarks.blank, ''));
  const marks = thousandsMarks[style.thousands];
  if (marks !== undefined) text = text.replace(marks, '');

  const found = shapeOfNumber.exec(text);
  if (found === null) {
    const why = absentReason(text);
    return why === undefined ? unknownValue : { kind: 'absent', why };
  }
  const [whole, sign = '', digits = '', exponent, trailingMinus] = found;
  const mark = digits.includes(',') ? ',' : digits.includes('.') ? '.' : undefined;
  // The other decimal mark (a changed locale) is followed where it can't be a thousands mark.
  if (mark !== undefined && mark !== style.decimal && /^[1-9]\d{0,2}[.,]\d{3}$/.test(digits)) return unknownValue;
  const rest = withoutForeignTail(text.slice(whole.length).trim());
  let unit: SentUnit | undefined;
  if (rest !== '') {
    unit = unitFromText(rest);
    if (unit === undefined) {
      const why = absentReason(text);
      return why === undefined ? unknownValue : { kind: 'absent', why };
    }
  }
  const magnitude = Number(`${mark === ',' ? digits.replace(',', '.') : digits}${exponent === undefined ? '' : `e${exponent}`}`);
  if (!Number.isFinite(magnitude)) return unknownValue;
  if (trailingMinus === '-' || sign === '-') negative = !negative;
  const value = negative ? -magnitude : magnitude;
  return bound === undefined ? { kind: 'number', value, unit } : { kind: 'bound', bound, value, unit };
}
