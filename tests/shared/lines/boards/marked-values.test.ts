/** Boards that mark a value that is none, by a word or a sign beside it. Invented data. */
import { describe, expect, it } from 'vitest';
import { boardRows, judgeBoard, readWith, recipeOf, type BoardRow } from './board-lines.ts';

const rows = boardRows(90);
const isBad = (r: BoardRow): boolean => r.at < 10;
const keyed = (co: (r: BoardRow) => string) => (r: BoardRow) => `O2=${r.o2}% CO=${co(r)} TS=${r.stack}C TA=${r.air}C`;

describe('a mark at CO while its cell warms up', () => {
  it.each([
    ['a star before it', keyed((r) => (isBad(r) ? '*12ppm' : `${r.co}ppm`))],
    ['a sign behind it', keyed((r) => (isBad(r) ? '12!ppm' : `${r.co}ppm`))],
    [
      'a word behind every value',
      (r: BoardRow) => `O2=${r.o2}% OK CO=${isBad(r) ? '0ppm WARM' : `${r.co}ppm OK`} TS=${r.stack}C OK TA=${r.air}C OK`,
    ],
  ])('%s: not read, and not left out for the whole run', (_, text) => {
    const lines = rows.map(text);
    const { file, live } = judgeBoard(lines);
    for (const recipe of [recipeOf(file), live]) {
      if (recipe === undefined) continue;
      const co = readWith(recipe, lines).map(({ values }) => values.co);
      expect(co.slice(-60)).toEqual(rows.slice(-60).map((r) => r.co));
      expect(readWith(recipe, lines.slice(0, 10)).flatMap(({ values }) => values.co ?? [])).toEqual([]);
    }
  });

  it('a word in a column beside it', () => {
    const lines = [
      'O2 %;O2 st;CO ppm;CO st;Stack C;Air C',
      ...rows.map((r) => `${r.o2};OK;${isBad(r) ? '0;WARM' : `${r.co};OK`};${r.stack};${r.air}`),
    ];
    const { file, live } = judgeBoard(lines);
    for (const recipe of [recipeOf(file), live])
      expect(recipe && readWith(recipe, lines).map(({ values }) => values.co)).toEqual(rows.map((r) => (isBad(r) ? undefined : r.co)));
  });
});
