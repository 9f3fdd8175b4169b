/** Reads the tables in tests/golden/tables. */
import { readFileSync } from 'node:fs';

const folder = new URL('../../golden/tables/', import.meta.url);
const goldenText = (name: string): string => readFileSync(new URL(name, folder), 'utf8');
export const goldenJson = <T>(name: string): T => JSON.parse(goldenText(name)) as T;

/** Rows of a plain CSV with a header; cells in quotes may hold commas. */
export function goldenCsv(name: string): Record<string, string>[] {
  const [header = [], ...rows] = goldenText(name)
    .trim()
    .split(/\r?\n/)
    .map((line) => [...line.matchAll(/("([^"]*)"|[^,]*)(?:,|$)/g)].slice(0, -1).map((cell) => cell[2] ?? cell[1] ?? ''));
  return rows.map((row) => Object.fromEntries(header.map((column, index) => [column, row[index] ?? ''])));
}
