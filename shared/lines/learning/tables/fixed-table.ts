import { mostFrequent } from './cells.ts';
import type { LinesToLearn } from './lines-to-learn.ts';
import { makeColumn, type Column, type Table } from './table.ts';

const plain = { decimal: '.', thousands: 'none' } as const;
const MOST_TABLES = 10;

/** Per character place: how often it changes from line to line, and its most frequent character. */
type Place = { readonly rate: number; readonly usual: string; readonly isDigit: boolean };

function placesOf(lines: readonly string[], length: number): Place[] {
  return Array.from({ length }, (_, at) => {
    let changes = 0;
    let digits = 0;
    for (let row = 0; row < lines.length; row++) {
      const char = lines[row]?.charAt(at) ?? '';
      if (char >= '0' && char <= '9') digits += 1;
      if (row > 0 && char !== lines[row - 1]?.charAt(at)) changes += 1;
    }
    const usual = mostFrequent(lines.map((line) => line.charAt(at)));
    return {
      rate: changes / Math.max(1, lines.length - 1),
      usual: usual !== undefined && usual.count > lines.length * 0.9 ? usual.item : '',
      isDigit: digits > lines.length * 0.5,
    };
  });
}

/**
 * Where fields may begin. Inside a number each digit changes at least as often as the one before it; where the rate falls, a new
 * number begins. A zero, a sign or a blank that never changes behind a digit may begin one too.
 */
function boundaries(places: readonly Place[]): { sure: number[]; maybe: number[] } {
  const sure: number[] = [];
  const maybe: number[] = [];
  for (let at = 1; at < places.length; at++) {
    const before = places[at - 1];
    const here = places[at];
    if (before === undefined || here === undefined) continue;
    const isAfterPoint = before.usual === '.' || before.usual === ',';
    if (here.usual === '.' || here.usual === ',' || isAfterPoint) continue;
    if (before.isDigit && (here.usual === ' ' || here.usual === '+' || here.usual === '-')) sure.push(at);
    else if (before.isDigit && before.rate > here.rate + 0.08) sure.push(at);
    else if (before.isDigit && here.usual === '0' && before.usual !== '0') maybe.push(at);
    else if (before.isDigit && here.isDigit && before.rate > 0 && here.rate < before.rate) maybe.push(at);
  }
  return { sure, maybe };
}

/** Lines without delimiters, every value at its own characters. */
export function fixedTables({ texts: asSent, withDigits }: LinesToLearn): Table[] {
  // A sign that begins every line is no part of the first number: '>' would make a bound of it.
  const sign = mostFrequent(asSent.filter((text) => /\d/.test(text)).map((text) => /^[>!@*:#$?]/.exec(text)?.[0] ?? ''));
  const prompt = sign !== undefined && sign.item !== '' && sign.count > withDigits * 0.8 ? sign.item : '';
  const texts = prompt === '' ? asSent : asSent.map((text) => (text.startsWith(prompt) ? text.slice(1) : text));
  const numeric = texts.filter(
    (text) => /^[\s0-9.,+-]*\d{6,}[\s0-9.,+-]*$/.test(text) || /^[A-Za-z$#>!@*:]?[0-9.+-]{9,}\s*\S?$/.test(text.trim()),
  );
  const length = mostFrequent(numeric.map((text) => text.trimEnd().length))?.item ?? 0;
  const lines = numeric.map((text) => text.trimEnd()).filter((text) => text.length === length);
  if (lines.length < 5 || lines.length < withDigits * 0.4 || length < 8 || length > 120) return [];
  const places = placesOf(lines, length);
  const { sure, maybe } = boundaries(places);
  const optional = maybe.slice(0, 4);
  const tables: Table[] = [];
  const cache = new Map<string, Column>();
  const columnAt = (start: number, end: number): Column => {
    const key = `${start} ${end}`;
    const before = cache.get(key);
    if (before !== undefined) return before;
    const cells = lines.map((line) => line.slice(start, end));
    const hasPoint = places.slice(start, end).some(({ usual }) => usual === '.' || usual === ',');
    const column = makeColumn({
      at: { start, end },
      name: '',
      texts: cells,
      style: plain,
      ...(hasPoint ? {} : { scales: [0.1, 1, 0.01] }),
    });
    cache.set(key, column);
    return column;
  };
  for (let choice = 0; choice < 1 << optional.length && tables.length < MOST_TABLES; choice++) {
    const cuts = [0, ...new Set([...sure, ...optional.filter((_, bit) => (choice & (1 << bit)) !== 0)])].sort((a, b) => a - b);
    const columns = cuts.map((start, at) => columnAt(start, cuts[at + 1] ?? length)).filter((column) => column.statistics !== undefined);
    if (columns.length < 2 || columns.length > 24) continue;
    tables.push({
      shape: { kind: 'fixed', length },
      columns,
      rows: lines.length,
      share: Math.min(1, lines.length / Math.max(1, withDigits)),
      style: plain,
      check: { kind: 'none' },
      prompts: prompt === '' ? [] : [prompt],
      reasons: [{ key: 'fixed', length, count: columns.length }],
      preference: -0.2,
    });
  }
  return tables;
}
