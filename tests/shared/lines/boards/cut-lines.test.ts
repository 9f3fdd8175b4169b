/** The first line of a file or a connection begins anywhere, the last one of a file ends anywhere: half a number is no reading. Invented data. */
import { describe, expect, it } from 'vitest';
import { isWholeLike } from '../../../../shared/lines/last-line.ts';
import { boardRows, judgeBoard, readWith, recipeOf, type BoardRow } from './board-lines.ts';

const rows = boardRows(60);
const shapes: readonly (readonly [string, (r: BoardRow) => string])[] = [
  ['columns', (r) => `${r.o2};${r.co};${r.stack};${r.air}`],
  ['the stack first', (r) => `${(r.stack + 100).toFixed(1)},${r.air},${r.o2},${r.co}`],
  ['values before their names', (r) => `${r.o2} % O2 ${r.co} ppm CO ${r.stack} C stack`],
  ['keys', (r) => `O2=${r.o2}% CO=${r.co}ppm TS=${r.stack}C TA=${r.air}C`],
];
const all = { o2: (r: BoardRow) => r.o2, co: (r: BoardRow) => r.co };

describe.each(shapes)('%s', (_, text) => {
  it.each([1, 2, 3])('%i characters off the front of the first line', (cut) => {
    const lines = rows.map((r, at) => (at === 0 ? text(r).slice(cut) : text(r)));
    const { file, live } = judgeBoard(lines);
    expect(live).toBeDefined();
    for (const recipe of [recipeOf(file), live]) {
      if (recipe === undefined) continue;
      const first = readWith(recipe, lines)[0];
      const isSecond = first?.values.o2 === rows[1]?.o2;
      const row = rows[isSecond ? 1 : 0]!;
      for (const channel of ['o2', 'co'] as const) expect([undefined, all[channel](row)]).toContain(first?.values[channel]);
      const stack = first?.values.stackTemperature;
      expect([undefined, row.stack, Number((row.stack + 100).toFixed(1))]).toContain(stack);
    }
  });

  it('a whole first line is read', () => {
    const lines = rows.map(text);
    const { file, live } = judgeBoard(lines);
    for (const recipe of [recipeOf(file), live]) expect(recipe && readWith(recipe, lines)).toHaveLength(rows.length);
  });

  it.each([1, 2, 3, 4])('%i characters off the end of a last line without its end', (cut) => {
    const lines = rows.map(text);
    expect(isWholeLike((lines.at(-1) ?? '').slice(0, -cut), lines.slice(0, -1))).toBe(false);
  });

  it('a whole last line without its end is read', () => {
    const lines = rows.map(text);
    expect(isWholeLike(lines.at(-1) ?? '', lines.slice(0, -1))).toBe(true);
  });
});

it('a head and one reading without an end are whole: nothing says otherwise', () => {
  expect(isWholeLike('4.1;12', ['O2 %;CO ppm'])).toBe(true);
});
