/** One change of an appliance in words, with units: as of a visit (edit-words.ts). */
import { formatIsoDay } from '../format/date.ts';
import { formatNumber, withUnit, type UnitSystem } from '../format/quantity.ts';
import type { ApplianceEdit } from '../tuning/visit/appliance-edits.ts';
import { BTU_PER_KWH } from '../units/convert.ts';
import { common } from '../words/common.ts';
import { applianceEditWords as words, editWords } from '../words/records/edits.ts';
import { recordWords } from '../words/paper/technical-record.ts';
import { startWords } from '../words/visit/screens/start.ts';
import { clipped, type EditText } from './edit-words.ts';

/** @param digits how much finer than the plate is usually written */
export const powerText = (kw: number, units: UnitSystem, digits = 0): string =>
  units === 'us' ? withUnit(formatNumber(kw * BTU_PER_KWH, digits - 2), 'Btu/h') : withUnit(formatNumber(kw, digits + 1), 'kW');

export function applianceEditText({ path, before, after }: Pick<ApplianceEdit, 'path' | 'before' | 'after'>, units: UnitSystem): EditText {
  const key = path.join('.');
  const field = words.fields[key] ?? key;
  if (before === undefined && after === undefined) return { field, before: words.withPerson, after: words.withPerson };
  const write = (digits: number): Omit<EditText, 'field'> => ({
    before: valueText(key, before, units, digits),
    after: valueText(key, after, units, digits),
  });
  const usual = write(0);
  // a change is not to look like none
  return { field, ...(usual.before === usual.after ? write(2) : usual) };
}

function valueText(key: string, value: ApplianceEdit['before'], units: UnitSystem, digits: number): string {
  if (value === undefined) return editWords.absent;
  if (typeof value === 'number') return /Kw$/.test(key) ? powerText(value, units, digits) : String(value);
  if (typeof value === 'boolean') return words.said[key] ?? (value ? editWords.yes : editWords.no);
  const text = typeof value === 'string' ? value : JSON.stringify(value);
  switch (key) {
    case 'kind':
      return wordOf(startWords.applianceKinds, text);
    case 'flueGas':
      return wordOf(recordWords.flueGases, text);
    case 'tank':
      return wordOf(recordWords.tanks, text);
    case 'fuelId':
      return wordOf(common.fuels, text);
    case 'nextDue':
      return formatIsoDay(text);
    default:
      return clipped(text);
  }
}

const wordOf = (table: Readonly<Record<string, string>>, value: string): string => table[value] ?? value;
