/** Boards that write the least and the most behind a value: 'O2=5.1%(min 4.8 max 5.4)'. The value is read, or asked about; it is not left out without a word. Invented data. */
import { describe, expect, it } from 'vitest';
import { boardRows, judgeBoard, readWith, recipeOf, type BoardRow } from './board-lines.ts';

const rows = boardRows(90);
const span = (value: number, by: number) => `min ${(value - by).toFixed(1)} max ${(value + by).toFixed(1)}`;
const temperatures = (r: BoardRow) => `TS=${r.stack}C TA=${r.air}C`;

describe('what comes in brackets behind a value', () => {
  it.each([
    ['least and most', (r: BoardRow) => `O2=${r.o2}%(${span(r.o2, 0.3)}) CO=${r.co}ppm(${span(r.co, 3)}) ${temperatures(r)}`],
    ['with commas', (r: BoardRow) => `O2=${r.o2}%(${span(r.o2, 0.3)}),CO=${r.co}ppm(${span(r.co, 3)}),TS=${r.stack}C,TA=${r.air}C`],
    ['a mean', (r: BoardRow) => `O2=${r.o2}%(avg ${r.o2}) CO=${r.co}ppm(avg: ${r.co}) ${temperatures(r)}`],
    [
      'a mean, in German',
      (r: BoardRow) => `O2=${r.o2} % [Mittel ${r.o2}]; CO=${r.co} ppm [Mittel ${r.co}]; TS=${r.stack} C; TA=${r.air} C`,
    ],
    [
      'figures without a word',
      (r: BoardRow) => `O2=${r.o2}%(${r.o2 - 1}/${r.o2 + 1}) CO=${r.co}ppm(${r.co - 1}/${r.co + 1}) ${temperatures(r)}`,
    ],
  ])('%s: O2 and CO are read', (_, text) => {
    const lines = rows.map(text);
    const { file, live } = judgeBoard(lines);
    for (const recipe of [recipeOf(file), live]) {
      expect(recipe).toBeDefined();
      const samples = readWith(recipe!, lines);
      expect(samples.map(({ values }) => [values.o2, values.co])).toEqual(rows.map(({ o2, co }) => [o2, co]));
    }
  });

  it('a least value is no stack temperature', () => {
    const lines = rows.map(
      (r) => `O2: ${r.o2} % (min: ${r.o2 - 1}, max: ${r.o2 + 1}), CO: ${r.co} ppm (min: ${r.co - 3}, max: ${r.co + 3})`,
    );
    const { file, live } = judgeBoard(lines);
    for (const recipe of [recipeOf(file), live]) {
      if (recipe === undefined) continue;
      expect(readWith(recipe, lines).flatMap(({ values }) => values.stackTemperature ?? [])).toEqual([]);
    }
    expect(file.kind === 'refuse' ? [] : file.proposal.columns.flatMap(({ taken }) => taken ?? [])).toEqual(['o2', 'co']);
  });

  it.each([
    ['a reference', (r: BoardRow) => `CO=${r.co}ppm(3%O2)`],
    ['a word of its own', (r: BoardRow) => `CO=${r.co}ppm~${r.at % 7 === 0 ? 'rising' : 'even'}`],
  ])('CO with %s behind it is not left out without a question', (_, co) => {
    const lines = rows.map((r) => `O2=${r.o2}%;${co(r)};TS=${r.stack}C;TA=${r.air}C`);
    const { file, live } = judgeBoard(lines);
    expect(file.kind).toBe('ask');
    expect(live).toBeUndefined();
    expect(
      file.kind === 'refuse' ? [] : file.proposal.columns.filter(({ sureness }) => sureness === 'look').map(({ name }) => name),
    ).toEqual(['CO']);
  });
});
