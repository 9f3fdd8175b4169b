/** CSV as RFC 4180 has it: CRLF, quotes doubled. Cells that a spreadsheet would run as a formula are defused. */

/** `semicolon` goes with a decimal comma, as spreadsheets in many languages want it. */
export type CsvStyle = 'comma' | 'semicolon';

/** In front of a semicolon file, so that spreadsheets take it for UTF-8. */
export const BYTE_ORDER_MARK = '\ufeff';

/** @returns one row with its end; absent cells are empty, never 0 */
export function csvRow(cells: readonly (string | number | undefined)[], style: CsvStyle): string {
  const between = style === 'comma' ? ',' : ';';
  let row = '';
  for (let at = 0; at < cells.length; at++) row += at === 0 ? csvCell(cells[at], style) : between + csvCell(cells[at], style);
  return `${row}\r\n`;
}

/** What a spreadsheet skips before it looks whether a formula begins, then the signs one begins with, in full width too. */
const FORMULA = /^[\s\p{Cc}\p{Cf}]*[=+\-@\uff1d\uff0b\uff0d\uff20]|^[\t\r\n]/u;

/** nothing to defuse and nothing to quote: a time, a plain word behind a digit */
const PLAIN = /^(?:\d[\w:.+-]*)?$/;

function csvCell(cell: string | number | undefined, style: CsvStyle): string {
  if (cell === undefined) return '';
  if (typeof cell === 'number') {
    const text = String(cell);
    return style === 'comma' ? text : text.replace('.', ',');
  }
  if (PLAIN.test(cell)) return cell;
  const bare = cell.replaceAll('\0', '');
  const safe = FORMULA.test(bare) ? `'${bare}` : bare;
  return /[",;\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
