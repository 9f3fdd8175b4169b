/** How each item of the set-up sheet is typed and written, by the person's units. Pure. */
import { formatLength, inchFraction, parseLengthMm, type LengthUnit } from '../../../../../shared/units/length.ts';
import { setUpItems, type SetUpItem } from '../../../../../shared/tuning/set-up/set-up-sheet.ts';
import type { QuantityId } from '../../../../../shared/units/quantities.ts';
import { lengthRefusal } from '../../../../../shared/words/visit/refusals.ts';
import { type Typed, typedPlain, typedQuantity } from '../../../../fields/typed.ts';
import { formatNumber, shownAs, type UnitSystem } from '../../../../../shared/format/quantity.ts';

export type ItemField = {
  unit: string;
  write: (inner: number) => string;
  read: (text: string) => Typed<number>;
  readTolerance: (text: string) => Typed<number>;
};

const trimmed = (value: number, decimals: number): string =>
  formatNumber(Number(value.toFixed(decimals)), decimals).replace(/\.?0+$/, (tail) => (tail.startsWith('.') ? '' : tail));
const trim = (value: number, decimals: number): string => (decimals === 0 ? formatNumber(value, 0) : trimmed(value, decimals));

function lengthField(unit: LengthUnit): ItemField {
  const read = (text: string): Typed<number> => {
    if (text.trim() === '') return { kind: 'empty' };
    const parsed = parseLengthMm(text, unit);
    return parsed.ok ? { kind: 'value', value: parsed.value } : { kind: 'wrong', error: lengthRefusal(parsed.error) };
  };
  const write = (mm: number): string => {
    if (unit === 'mm') return trim(mm, 1);
    const { text, exact } = inchFraction(mm);
    // between two marks of the ruler the decimal says more than the nearest mark
    return exact ? text : trim(mm / 25.4, 3);
  };
  return { unit: unit === 'mm' ? 'mm' : 'in', write, read, readTolerance: read };
}

const quantityField = (id: QuantityId, units: UnitSystem): ItemField => {
  const { unit, factor, offset, decimals } = shownAs(id, units);
  return {
    unit,
    write: (inner) => trim(inner * factor + offset, decimals),
    read: (text) => typedQuantity(text, id, units),
    readTolerance: (text) => typedQuantity(text, id, units),
  };
};
const plainField = (unit: string): ItemField => ({
  unit,
  write: (inner) => trim(inner, 2),
  read: (text) => typedPlain(text),
  readTolerance: (text) => typedPlain(text),
});

const PA_PER_IN_HG = 3386.389;
/** Vacuum is read in inches of mercury in US units, else in bar. @source 3386.389 Pa: NIST SP 811, Appendix B.8 (inch of mercury, conventional) */
function vacuumField(units: UnitSystem): ItemField {
  const [unit, pa] = units === 'us' ? ['in Hg', PA_PER_IN_HG] : ['bar', 100_000];
  const read = (text: string): Typed<number> => {
    const typed = typedPlain(text);
    return typed.kind === 'value' ? { kind: 'value', value: typed.value * pa } : typed;
  };
  return { unit, write: (inner) => trim(inner / pa, 2), read, readTolerance: read };
}

export function fieldOf(item: SetUpItem, units: UnitSystem, lengthUnit: LengthUnit): ItemField {
  if (item === 'vacuumPa') return vacuumField(units);
  switch (setUpItems[item].quantity) {
    case 'length':
      return lengthField(lengthUnit);
    case 'flow':
      return quantityField('nozzleFlow', units);
    case 'pressure':
      return quantityField('pumpPressure', units);
    case 'angle':
      return plainField('°');
    case 'percent':
      return plainField('%');
    case 'time':
      return plainField('s');
    case 'scale':
      return plainField('');
  }
}

/** A value in words: '4.5 mm', '5/32 in', '0.85 gph'. */
export const writtenItem = (item: SetUpItem, value: number, units: UnitSystem, lengthUnit: LengthUnit): string => {
  if (setUpItems[item].quantity === 'length') return formatLength(value, lengthUnit);
  const { unit, write } = fieldOf(item, units, lengthUnit);
  return unit === '' ? write(value) : `${write(value)}\u2009${unit}`;
};
