import { MM_PER_INCH } from './convert.ts';
import { err, ok, type Result } from '../result.ts';

export type LengthUnit = 'mm' | 'inch';
export type LengthRefusal = { key: 'length-empty' } | { key: 'length-unclear' | 'length-fraction-mm'; text: string };

const vulgar: Readonly<Record<string, string>> = { '½': '1/2', '¼': '1/4', '¾': '3/4', '⅛': '1/8', '⅜': '3/8', '⅝': '5/8', '⅞': '7/8' };
const shape = /^([+-]?)(?:(\d+)(?: |-))?(\d+)\/(\d+)$|^([+-]?\d+(?:[.,]\d+)?|[+-]?[.,]\d+)$/;

/**
 * Length from what people write on a sheet: '5/32', '1 1/16', '3/16 in', '4 mm', '4,5', '0.16"'.
 * A plain number without a unit is in the unit of the sheet. A fraction is inches; on a sheet in mm it needs its unit written behind it, for
 * there '1/2' may be half a millimetre as well as half an inch.
 *
 * @returns mm
 */
export function parseLengthMm(typed: string, sheetUnit: LengthUnit): Result<number, LengthRefusal> {
  let text = typed.trim().toLowerCase();
  if (text === '') return err({ key: 'length-empty' });
  for (const [sign, plain] of Object.entries(vulgar)) text = text.replace(sign, ` ${plain}`);
  const unitMatch = /\s*(mm|in\.?|inch(?:es)?|"|″)$/.exec(text);
  const unit: LengthUnit | undefined = unitMatch ? (unitMatch[1] === 'mm' ? 'mm' : 'inch') : undefined;
  const figure = (unitMatch ? text.slice(0, unitMatch.index) : text)
    .trim()
    .replace('−', '-')
    .replace(/\s*\/\s*/, '/')
    .replace(/\s+/g, ' ');
  const match = shape.exec(figure);
  if (!match) return err({ key: 'length-unclear', text: typed });
  const [, sign, whole, top, bottom, plain] = match;
  if (plain !== undefined) {
    const value = Number(plain.replace(',', '.'));
    return ok((unit ?? sheetUnit) === 'inch' ? value * MM_PER_INCH : value);
  }
  if ((unit ?? sheetUnit) === 'mm') return err({ key: 'length-fraction-mm', text: typed });
  const parts = Number(bottom);
  // 5/0 is no length, and 1 5/4 is a slip of the hand
  if (parts === 0 || (whole !== undefined && Number(top) >= parts)) return err({ key: 'length-unclear', text: typed });
  const value = (sign === '-' ? -1 : 1) * (Number(whole ?? 0) + Number(top) / parts);
  return ok(value * MM_PER_INCH);
}

const greatestDivisor = (a: number, b: number): number => (b === 0 ? a : greatestDivisor(b, a % b));

/**
 * In inches, the nearest mark of a ruler: '5/32', '1 1/16'. `exact` says whether the mark is the value (to 0.05 mm).
 *
 * @param parts marks to the inch: 32 on a common ruler, 64 on a fine one
 */
export function inchFraction(mm: number, parts: 32 | 64 = 32): { text: string; exact: boolean } {
  const marks = Math.round((Math.abs(mm) / MM_PER_INCH) * parts);
  const whole = Math.floor(marks / parts);
  const rest = marks % parts;
  const divisor = greatestDivisor(rest, parts);
  const fraction = rest === 0 ? '' : `${rest / divisor}/${parts / divisor}`;
  const size = [whole > 0 || fraction === '' ? String(whole) : '', fraction].filter(Boolean).join(' ');
  const exact = Math.abs((marks / parts) * MM_PER_INCH - Math.abs(mm)) < 0.05;
  return { text: mm < 0 && marks > 0 ? `−${size}` : size, exact };
}

/** As it is shown: '4.0 mm' or '5/32 in' ('about' when the value lies between two marks of the ruler). */
export function formatLength(mm: number, unit: LengthUnit): string {
  if (unit === 'mm') return `${mm.toFixed(1).replace('-', '−')}\u2009mm`;
  const { text, exact } = inchFraction(mm);
  return `${exact ? '' : 'about '}${text}\u2009in`;
}
