/** CSV as RFC 4180 has it: CRLF, quotes doubled. Cells that a spreadsheet would run as a formula are defused. */

/** `semicolon` goes with a decimal comma, as spreadsheets in many languages want it. */
export type CsvStyle = 'comma' | 'semicolon';

/** In front of a semicolon file, so that spreadsheets take it for UTF-8. */
export const BYTE_ORDER_MARK = '\ufeff';

/** @returns one row with its end; absent cells are empty, never 0 */
export function csvRow(cells: readonly (string | number | undefined)[], style: CsvStyle): string {
  return `${cells.map((cell) => csvCell(cell, style)).join(style === 'comma' ? ',' : ';')}\r\n`;
}

function csvCell(cell: string | number | undefined, style: CsvStyle): string {
  if (cell === undefined) return '';
  if (typeof cell === 'number') {
    const text = String(cell);
    return style === 'comma' ? text : text.replace('.', ',');
  }
  const safe = /^[=+\-@\t\r]/.test(cell) ? `'${cell}` : cell;
  return /[",;\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
