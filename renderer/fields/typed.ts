/** What is typed into a field -> nothing, a checked value in inner units, or the sentence that shows what can be typed. Pure. */
import { formatNumber, shownAs, withUnit, type UnitSystem } from '../../shared/format/quantity.ts';
import { parseTypedNumber } from '../../shared/units/parse-number.ts';
import { typedRange } from '../../shared/measurement/typed-range.ts';
import type { QuantityId } from '../../shared/units/quantities.ts';
import { common } from '../../shared/words/common.ts';

const { fieldErrors } = common;

/** Empty is neither a value nor wrong: absent is absent, never zero. */
export type Typed<T = number> = { kind: 'empty' } | { kind: 'value'; value: T } | { kind: 'wrong'; error: string };

/** '1,200' is twelve hundred to some and one point two to others; '0,125' can only be a decimal. */
const MAY_BE_THOUSANDS = /^\D?([1-9]\d{0,2}),(\d{3})$/;

export function typedPlain(text: string): Typed {
  if (text.trim() === '') return { kind: 'empty' };
  const [, thousands, rest] = MAY_BE_THOUSANDS.exec(text.trim()) ?? [];
  if (thousands !== undefined && rest !== undefined)
    return { kind: 'wrong', error: fieldErrors.maybeThousands(`${thousands}${rest}`, `${thousands}.${rest}`) };
  const parsed = parseTypedNumber(text);
  if (parsed.ok) return { kind: 'value', value: parsed.value };
  return { kind: 'wrong', error: parsed.error.code === 'two-separators' ? fieldErrors.twoSeparators : fieldErrors.notANumber };
}

/** A number that has to lie within its limits, both of them allowed. */
export function typedWithin(text: string, { low = -Infinity, high = Infinity }: { low?: number; high?: number }): Typed {
  const typed = typedPlain(text);
  if (typed.kind !== 'value' || (typed.value >= low && typed.value <= high)) return typed;
  const error =
    high === Infinity
      ? fieldErrors.tooLow(String(low))
      : low === -Infinity
        ? fieldErrors.tooHigh(String(high))
        : fieldErrors.outside(String(low), String(high));
  return { kind: 'wrong', error };
}

/** A count: a whole number within its limits, both of them allowed. */
export function typedWhole(text: string, { low, high }: { low: number; high: number }): Typed {
  const typed = typedPlain(text);
  if (typed.kind !== 'value' || (Number.isInteger(typed.value) && typed.value >= low && typed.value <= high)) return typed;
  return { kind: 'wrong', error: fieldErrors.whole(low, high) };
}

export function typedQuantity(text: string, id: QuantityId, units: UnitSystem): Typed {
  const typed = typedPlain(text);
  if (typed.kind !== 'value') return typed;
  const { factor, offset, unit } = shownAs(id, units);
  const value = (typed.value - offset) / factor;
  const [low, high] = typedRange(id) ?? [-Infinity, Infinity];
  if (value >= low && value <= high) return { kind: 'value', value };
  // most often a figure in the other unit
  if (id === 'draft') return { kind: 'wrong', error: fieldErrors.draftUnit(unit) };
  const shown = (inner: number): string => formatNumber(inner * factor + offset, Number.isInteger(inner) ? 0 : 1);
  return { kind: 'wrong', error: fieldErrors.notPossible(withUnit(shown(low), unit), withUnit(shown(high), unit)) };
}

/** A day of the calendar, as ISO 8601 writes it. */
export function typedDay(text: string): Typed<string> {
  const day = text.trim();
  if (day === '') return { kind: 'empty' };
  const date = /^\d{4}-\d{2}-\d{2}$/.test(day) ? new Date(`${day}T00:00:00Z`) : undefined;
  const isDay = date !== undefined && !Number.isNaN(date.getTime()) && date.toISOString().slice(0, 10) === day;
  return isDay ? { kind: 'value', value: day } : { kind: 'wrong', error: fieldErrors.notADay };
}

/** Words as they were typed, blanks and all: a field that is kept while it is typed must not take them away. */
export const plainText = (text: string): Typed<string> => (text.trim() === '' ? { kind: 'empty' } : { kind: 'value', value: text });

/** Words without blanks round them. @param most letters that are kept */
export function typedText(text: string, most = Infinity): Typed<string> {
  const words = text.trim();
  if (words === '') return { kind: 'empty' };
  return words.length > most ? { kind: 'wrong', error: fieldErrors.tooLong(most) } : { kind: 'value', value: words };
}

export const errorOf = (typed: Typed<unknown>): string | undefined => (typed.kind === 'wrong' ? typed.error : undefined);
export const valueOf = <T>(typed: Typed<T>): T | undefined => (typed.kind === 'value' ? typed.value : undefined);
/** @returns whether any of a form's fields holds what cannot be understood: nothing of it may be saved then */
export const isAnyWrong = (fields: Iterable<Typed<unknown>>): boolean => [...fields].some(({ kind }) => kind === 'wrong');
/** A field that is not there */
export const empty: Typed<never> = { kind: 'empty' };
export const textOf = (value: number | string | undefined): string => (value === undefined ? '' : String(value));
