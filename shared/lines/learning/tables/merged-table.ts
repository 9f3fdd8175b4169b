import { mostFrequent } from './cells.ts';
import type { LinesToLearn } from './lines-to-learn.ts';
import { nameMeaning } from '../names/column-name.ts';
import { solveIdentity } from '../judging/identity.ts';
import { makeColumn, type Table } from './table.ts';

const style = { decimal: ',', thousands: 'none' } as const;
const MOST_CELLS = 14;

/** Every way to choose `count` of the places so that no two touch. */
function* choices(places: readonly number[], count: number, from = 0): Generator<number[]> {
  if (count === 0) {
    yield [];
    return;
  }
  for (let at = from; at < places.length; at++) {
    const place = places[at] ?? 0;
    for (const rest of choices(places, count - 1, at + 1)) if (rest[0] !== place + 1) yield [place, ...rest];
  }
}

/**
 * The comma as delimiter and as decimal mark: '12:01:07,4,1,23,212,4'. Only the header's count of names tells how many numbers
 * there are; which cells belong together follows from what the named columns can be. Without a header it is not decided.
 */
export function mergedTables({ texts, withDigits }: LinesToLearn): Table[] {
  const split = texts.map((text) => text.split(','));
  const names = split.find(
    (cells) =>
      cells.length >= 2 &&
      cells.every((cell) => !/^\s*[+-]?\d/.test(cell)) &&
      cells.some((cell) => Object.keys(nameMeaning(cell).roles).length > 0),
  );
  if (names === undefined) return [];
  const data = split.filter((cells) => cells.length > names.length && cells.filter((cell) => /^\s*[+-]?\d/.test(cell)).length >= 3);
  const count = mostFrequent(data.map((cells) => cells.length))?.item ?? 0;
  const rows = data.filter((cells) => cells.length === count);
  const merges = count - names.length;
  if (merges < 1 || count > MOST_CELLS || rows.length < Math.max(4, withDigits * 0.4)) return [];
  // Behind a decimal comma stand digits only, always as many.
  const isFraction = (at: number): boolean =>
    rows.every((cells) => /^\d{1,3}$/.test(cells[at] ?? '') && cells[at]?.length === rows[0]?.[at]?.length);
  const isWhole = (at: number): boolean => rows.every((cells) => /^\s*[+-]?\d+$/.test(cells[at] ?? ''));
  const places = Array.from({ length: count - 1 }, (_, at) => at).filter((at) => isWhole(at) && isFraction(at + 1));
  let best: { table: Table; score: number } | undefined;
  for (const chosen of choices(places, merges)) {
    const groups: number[][] = [];
    for (let at = 0; at < count; at++) {
      groups.push(chosen.includes(at) ? [at, at + 1] : [at]);
      if (chosen.includes(at)) at += 1;
    }
    const columns = groups.map((cells, index) =>
      makeColumn({
        at: `c${index + 1}`,
        name: names[index]?.trim() ?? '',
        texts: rows.map((row) => cells.map((at) => row[at] ?? '').join(',')),
        style,
      }),
    );
    const pattern = `^${groups.map((cells, index) => `(?P<c${index + 1}>${cells.map(() => '[^,]*').join(',')})`).join(',')}$`;
    const table: Table = {
      shape: { kind: 'pattern', pattern },
      columns,
      rows: rows.length,
      share: Math.min(1, rows.length / Math.max(1, withDigits)),
      style,
      check: { kind: 'none' },
      prompts: [],
      reasons: [{ key: 'comma-twice', count, names: names.length }],
      preference: 0.4,
    };
    const score = solveIdentity(table)?.best.score ?? -Infinity;
    if (best === undefined || score > best.score) best = { table, score };
  }
  return best === undefined ? [] : [best.table];
}
