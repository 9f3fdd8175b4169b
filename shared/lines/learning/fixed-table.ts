import type { LinesToLearn } from './columns-table.ts';
import type { Table } from './table.ts';

/** Lines without delimiters, every value at its own characters. */
export function fixedTables(_lines: LinesToLearn): Table[] {
  return [];
}
