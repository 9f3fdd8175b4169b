/** CSV as RFC 4180 has it: CRLF, quotes doubled. Cells that a spreadsheet would run as a formula are defused. */

/** `semicolon` goes with a decimal comma, as spreadsheets in many languages want it. */
export type CsvStyle = 'comma' | 'semicolon';

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

/** ISO 8601 with the zone that the run was captured in: `2026-03-04T10:11:12.345+01:00`. */
export function timeText(wallMs: number, zoneMinutes: number): string {
  const local = new Date(wallMs + zoneMinutes * 60_000).toISOString().slice(0, -1);
  const sign = zoneMinutes < 0 ? '-' : '+';
  const minutes = Math.abs(zoneMinutes);
  const two = (value: number): string => String(value).padStart(2, '0');
  return `${local}${sign}${two(Math.floor(minutes / 60))}:${two(minutes % 60)}`;
}
