import { problem, type Problem } from '../problem.ts';
import { err, ok, type Result } from '../result.ts';
import { unitsTexts } from '../words/core/units.ts';

/** What a keyboard, a copied table or another language writes for a minus. */
const MINUS = /[\u2212\u2012\u2013\uFE63\uFF0D]/g;
const NUMBER = /^[+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE][+-]?\d{1,3})?$/;
const ONLY_DIGITS_AND_SEPARATORS = /^[+-]?[\d.,'’\s]+$/;

/**
 * A number as a person types it: '4.5' and '4,5' are the same, a true minus counts as minus.
 * Two separators ('1,234.5', '1.2.3') are refused because nobody can know which of them is the decimal one.
 * Nothing else is guessed: no units, no words, no empty text.
 *
 * @returns a finite number, or `two-separators` or `not-a-number`
 */
export function parseTypedNumber(text: string): Result<number, Problem> {
  const trimmed = text.trim().replace(MINUS, '-');
  if (!NUMBER.test(trimmed)) {
    const separators = trimmed.replace(/[^.,'’\s]/g, '').length;
    const shown = text.trim() === '' ? unitsTexts.fieldEmpty : `"${text.trim().slice(0, 40)}"`;
    if (separators >= 2 && ONLY_DIGITS_AND_SEPARATORS.test(trimmed) && /\d/.test(trimmed)) return err(problem('two-separators', shown));
    return err(problem('not-a-number', shown));
  }
  const value = Number(trimmed.replace(',', '.'));
  return Number.isFinite(value) ? ok(value === 0 ? 0 : value) : err(problem('not-a-number', `"${text.trim().slice(0, 40)}"`));
}
