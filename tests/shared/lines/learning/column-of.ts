import { makeColumn, type Column } from '../../../../shared/lines/learning/tables/table.ts';
import type { SentUnit } from '../../../../shared/measurement/sent-unit.ts';

/** A column as a table of lines gives it; numbers are written with `decimals`. */
export const columnOf = (
  name: string,
  cells: readonly (number | string)[],
  { unit, decimals = 1, at = 0 }: { unit?: SentUnit | undefined; decimals?: number; at?: number } = {},
): Column =>
  makeColumn({
    at,
    name,
    unit,
    texts: cells.map((cell) => (typeof cell === 'string' ? cell : cell.toFixed(decimals))),
    style: { decimal: '.', thousands: 'none' },
  });
