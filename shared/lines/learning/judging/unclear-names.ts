/** Names that need a second look at the whole table before they count. */
import { isNumbering } from './contradictions.ts';
import { isStrong } from './judged-role.ts';
import type { Column } from '../tables/table.ts';

/** Short forms that nobody knows, beside O2 and CO with their names: what they are is left to their values. */
const LONGEST_SHORT = 4;
const MOST_OF_A_SLIP = 10;
export function withOpenShortNames(columns: readonly Column[]): readonly Column[] {
  const isFlue = (['o2', 'co'] as const).every((role) => columns.some((column) => isStrong(column, role)));
  if (!isFlue || columns.length > MOST_OF_A_SLIP) return columns;
  return columns.map((column) => {
    const { name, meaning, foreign } = column;
    const isUnknown = name.length <= LONGEST_SHORT && Object.keys(meaning.roles).length === 0;
    return isUnknown && foreign === undefined && meaning.excludedBy === undefined
      ? { ...column, meaning: { ...meaning, isEmpty: true } }
      : column;
  });
}

/** 'No' over numbers that count is the number of the record, not nitric oxide. */
export const withNumbering = (columns: readonly Column[]): readonly Column[] =>
  columns.map((column) => {
    const { no, counter } = column.meaning.roles;
    const isRecord = no !== undefined && counter !== undefined && column.unit === undefined && isNumbering(column);
    return isRecord ? { ...column, meaning: { ...column.meaning, roles: { counter: 3 } } } : column;
  });

/** Of one gas said wet and dry, or dry and nothing, the dry one counts: the channels are dry. */
export function drySide(columns: readonly Column[], candidates: readonly number[]): readonly number[] {
  const dry = candidates.filter((index) => columns[index]?.meaning.isDry === true);
  if (dry.length > 0) return dry;
  const rest = candidates.filter((index) => columns[index]?.meaning.isWet !== true);
  return rest.length > 0 ? rest : candidates;
}
