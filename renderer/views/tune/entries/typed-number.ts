/** A typed field -> a number in inner units, or the sentence that shows what can be typed. Empty is neither. Pure. */
import { parseTypedNumber } from '../../../../shared/units/parse-number.ts';
import type { QuantityId } from '../../../../shared/units/quantities.ts';
import { common } from '../../../../shared/words/common.ts';
import { shownAs, type UnitSystem } from '../../../../shared/format/quantity.ts';

export type Typed = { kind: 'empty' } | { kind: 'number'; value: number } | { kind: 'wrong'; error: string };

export function typedPlain(text: string): Typed {
  if (text.trim() === '') return { kind: 'empty' };
  const parsed = parseTypedNumber(text);
  if (parsed.ok) return { kind: 'number', value: parsed.value };
  return {
    kind: 'wrong',
    error: parsed.error.code === 'two-separators' ? common.fieldErrors.twoSeparators : common.fieldErrors.notANumber,
  };
}

export function typedQuantity(text: string, id: QuantityId, units: UnitSystem): Typed {
  const typed = typedPlain(text);
  if (typed.kind !== 'number') return typed;
  const { factor, offset, unit } = shownAs(id, units);
  const value = (typed.value - offset) / factor;
  // a figure in the other unit: nobody has a chimney that pulls like this
  if (id === 'draft' && Math.abs(value) > MOST_DRAFT_PA) return { kind: 'wrong', error: common.fieldErrors.draftUnit(unit) };
  return { kind: 'number', value };
}

/** 2 in w.c.: beyond what a residential or light commercial chimney or fan gives. Common practice. */
const MOST_DRAFT_PA = 500;

export const errorOf = (typed: Typed): string | undefined => (typed.kind === 'wrong' ? typed.error : undefined);
export const valueOf = (typed: Typed): number | undefined => (typed.kind === 'number' ? typed.value : undefined);
