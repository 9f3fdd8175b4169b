import { readValue } from '../../reading/read-number.ts';
import { unitFromText } from '../../unit-spellings.ts';
import { valueForm } from '../../reading/read-cycle.ts';
import { mostFrequent } from './cells.ts';
import type { LinesToLearn } from './lines-to-learn.ts';
import { nameMeaning } from '../names/column-name.ts';
import { makeColumn, styleOf, type Column, type Table } from './table.ts';

/** as many as come without a leap, where only pieces of a long stream are looked at */
const MOST_LINES = 300;
const LONGEST = 24;
/** share of the lines that must look as the line one cycle before */
const AGREEMENT = 0.9;
const WORDS_MATCH_ALL = '*';

type Line = { readonly text: string; readonly kind: string; readonly value: number | undefined };

const plain = { decimal: '.', thousands: 'none' } as const;

/** Texts that come again and again stand for themselves; values for their look; everything else for nothing. */
function linesOf(texts: readonly string[], wordsAreMarks: boolean): Line[] {
  const counts = new Map<string, number>();
  for (const text of texts) counts.set(text.trim(), (counts.get(text.trim()) ?? 0) + 1);
  return texts.map((raw) => {
    const text = raw.trim();
    const form = valueForm(text);
    if (form !== undefined && !(form === WORDS_MATCH_ALL && wordsAreMarks)) {
      const read = readValue(text, plain);
      return { text, kind: form, value: read.kind === 'number' ? read.value : undefined };
    }
    return { text, kind: (counts.get(text) ?? 0) >= 3 ? `"${text}` : '?', value: undefined };
  });
}

const isMark = (kind: string): boolean => kind.startsWith('"');
const alike = (a: string, b: string): boolean => a === b || a === WORDS_MATCH_ALL || b === WORDS_MATCH_ALL;

/** How far a value lies from the one a cycle before; jumps count once, however far. */
function distance(lines: readonly Line[], length: number): { agreement: number; away: number } {
  let same = 0;
  let all = 0;
  let away = 0;
  let values = 0;
  for (let at = length; at < lines.length; at++) {
    const [before, now] = [lines[at - length], lines[at]];
    if (before === undefined || now === undefined) continue;
    all += 1;
    if (alike(before.kind, now.kind)) same += 1;
    if (before.value === undefined || now.value === undefined) continue;
    values += 1;
    away += Math.min(1, Math.abs(Math.log((Math.abs(now.value) + 3) / (Math.abs(before.value) + 3))));
  }
  return { agreement: all === 0 ? 0 : same / all, away: values === 0 ? 1 : away / values };
}

/** The shortest cycle that leaves the values as still as any. */
function cycleLength(lines: readonly Line[]): number | undefined {
  const tries: { length: number; away: number }[] = [];
  for (let length = 2; length <= Math.min(LONGEST, Math.floor(lines.length / 4)); length++) {
    const { agreement, away } = distance(lines, length);
    if (agreement >= AGREEMENT) tries.push({ length, away });
  }
  const least = Math.min(...tries.map(({ away }) => away));
  return tries.find(({ away }) => away <= least * 1.4 + 0.01)?.length;
}

/** Where a reading begins: at a text that comes round, at a clock, behind a silence, or with the first line. */
function startOf(kinds: readonly string[], lines: readonly Line[], gaps: ReadonlySet<number>): number {
  const { length } = kinds;
  const gapPlaces = [...gaps].map((at) => at % length);
  const gap = gapPlaces.length >= 2 ? mostFrequent(gapPlaces) : undefined;
  if (gap !== undefined && gap.count >= gapPlaces.length * 0.7) return gap.item;
  const marks = kinds.map((kind, at) => (isMark(kind) ? at : -1)).filter((at) => at >= 0);
  // Where every value has its own text before it, no text is the first by itself.
  const loneMark = marks.filter((at) => !isMark(kinds[(at + length - 1) % length] ?? ''));
  if (loneMark.length === 1 && loneMark[0] !== undefined) return loneMark[0];
  const times = kinds.map((kind, at) => (kind === '9:9' || kind === '9-9-9' ? at : -1)).filter((at) => at >= 0);
  const firstTime = times.find((at) => !times.includes((at + length - 1) % length));
  if (firstTime !== undefined) return firstTime;
  return lines[0] !== undefined && marks.length > 0 && !isMark(lines[0].kind) ? (marks[0] ?? 0) : 0;
}

/** One value a line without a name of its own: only its place in the cycle says what it is. */
export function cycleTables(toLearn: LinesToLearn, gaps: ReadonlySet<number>): Table[] {
  // '----' may stand for a value, or part the readings.
  const tables = cyclesWith(toLearn, gaps, false);
  return tables.length > 0 ? tables : cyclesWith(toLearn, gaps, true);
}

function cyclesWith({ texts }: LinesToLearn, gaps: ReadonlySet<number>, wordsAreMarks: boolean): Table[] {
  const all = linesOf(texts.slice(0, MOST_LINES), wordsAreMarks);
  const valued = all.filter(({ kind }) => kind.startsWith('9'));
  if (valued.length < 8 || valued.length < all.filter(({ text }) => /\d/.test(text)).length * 0.6) return [];
  // What stands before the first cycle (a banner) is not counted.
  const from = all.findIndex(({ kind }) => kind !== '?');
  const lines = all.slice(from);
  const length = cycleLength(lines);
  if (length === undefined) return [];
  const kindsFrom = (start: number): string[] =>
    Array.from({ length }, (_, place) => {
      const here: string[] = [];
      for (let at = start + place; at < lines.length; at += length) here.push(lines[at]?.kind ?? '?');
      return mostFrequent(here.filter((kind) => kind !== WORDS_MATCH_ALL))?.item ?? '?';
    });
  const begin = startOf(kindsFrom(0), lines, new Set([...gaps].map((at) => at - from)));
  const kinds = kindsFrom(begin);
  if (kinds.includes('?') || kinds.filter((kind) => kind.startsWith('9')).length < 2) return [];

  const rows: (readonly string[])[] = [];
  for (let at = begin; at + length <= lines.length; at += length) {
    const row = lines.slice(at, at + length);
    if (row.every(({ kind }, place) => alike(kind, kinds[place] ?? ''))) rows.push(row.map(({ text }) => text));
  }
  if (rows.length < 3) return [];
  const style = styleOf(
    rows.flatMap((row) => row.filter((_, place) => kinds[place]?.startsWith('9.') === true)),
    false,
  );
  const columns: Column[] = [];
  for (const [place, kind] of kinds.entries()) {
    if (!kind.startsWith('9')) continue;
    // A text between two values may name the second: an echoed question, a title.
    const before = kinds[(place + length - 1) % length] ?? '';
    const name = isMark(before) && Object.keys(nameMeaning(before.slice(1)).roles).length > 0 ? before.slice(1) : '';
    columns.push(
      makeColumn({ at: place, name, unit: unitFromText(kind.replace(/^9(\.9+)?/, '')), texts: rows.map((row) => row[place] ?? ''), style }),
    );
  }
  if (columns.filter((column) => (column.statistics?.share ?? 0) > 0.4).length < 2) return [];
  return [
    {
      shape: { kind: 'cycle', lines: kinds.map((kind) => (isMark(kind) ? { text: kind.slice(1).slice(0, 80) } : { form: kind })) },
      columns,
      rows: rows.length,
      share: Math.min(1, (rows.length * length) / lines.length),
      style,
      check: { kind: 'none' },
      prompts: [],
      reasons: [{ key: 'cycle', count: length }],
      preference: -0.1,
    },
  ];
}
