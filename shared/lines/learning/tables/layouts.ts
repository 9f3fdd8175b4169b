import { readValue, type NumberStyle } from '../../reading/read-number.ts';

/** Rows on each side of a change that are compared. */
const ROWS_BESIDE = 15;

/**
 * Other column counts that stay for a while: where columns were added or left out, by keeping the values close to those of the
 * rows just before. Nothing is said where two places fit alike.
 */
export function findLayouts(
  splitRows: readonly (readonly string[])[],
  count: number,
  style: NumberStyle,
): { count: number; from: number; shift: number }[] {
  const layouts: { count: number; from: number; shift: number }[] = [];
  const counts = new Map<number, number>();
  for (const row of splitRows) counts.set(row.length, (counts.get(row.length) ?? 0) + 1);
  for (const [other, times] of counts) {
    if (other === count || times < Math.max(5, splitRows.length * 0.06) || other < 3 || Math.abs(other - count) > 3) continue;
    const change = splitRows.findIndex(
      (row, at) => row.length === other && (splitRows[at - 1]?.length === count || splitRows[at + 1]?.length === count),
    );
    const near = (wanted: number): (readonly string[])[] =>
      splitRows
        .map((row, at) => ({ row, away: Math.abs(at - change) }))
        .filter(({ row }) => row.length === wanted)
        .sort((a, b) => a.away - b.away)
        .slice(0, ROWS_BESIDE)
        .map(({ row }) => row);
    const main = near(count);
    const rows = near(other);
    const medians = Array.from({ length: count }, (_, at) => medianOf(main, at, style));
    const shift = other - count;
    const ends: { from: number; cost: number }[] = [];
    for (let from = 0; from <= Math.min(count, other); from++) {
      if (shift < 0 && from - shift > count) continue;
      let cost = 0;
      for (let at = 0; at < count; at++) {
        if (shift < 0 && at >= from && at < from - shift) continue;
        const here = medianOf(rows, at < from ? at : at + shift, style);
        const there = medians[at];
        if (here === undefined && there === undefined) continue;
        if (here === undefined || there === undefined) cost += 3;
        else
          cost += Math.min(
            3,
            Math.abs(Math.log((Math.abs(here) + 1) / (Math.abs(there) + 1))) + (Math.sign(here) * Math.sign(there) < 0 ? 1 : 0),
          );
      }
      ends.push({ from, cost });
    }
    ends.sort((a, b) => a.cost - b.cost);
    const [first, second] = ends;
    if (first !== undefined && first.cost < 1.5 && (second === undefined || second.cost > first.cost + 0.5))
      layouts.push({ count: other, from: first.from, shift });
  }
  return layouts.slice(0, 4);
}

function medianOf(rows: readonly (readonly string[])[], at: number, style: NumberStyle): number | undefined {
  const values: number[] = [];
  for (const row of rows) {
    const read = readValue(row[at] ?? '', style);
    if (read.kind === 'number') values.push(read.value);
  }
  if (values.length < rows.length * 0.4) return undefined;
  values.sort((a, b) => a - b);
  return values[Math.floor(values.length / 2)];
}
