/** Boards that send whole numbers. Where they write the unit, the number is in that unit: no tenths are guessed. Invented data, shapes from memory. */
import { describe, expect, it } from 'vitest';
import { boardRows, judgeBoard, readWith, recipeOf, type BoardRow } from './board-lines.ts';

const boards: readonly (readonly [string, readonly string[], (row: BoardRow) => string])[] = [
  [
    'O2 in ppm',
    ['O2_ppm,CO_ppm,flue_K,room_K'],
    (r) => `${Math.round(r.o2 * 1e4)},${r.co},${(r.stack + 273.15).toFixed(1)},${r.air + 273.15}`,
  ],
  ['O2 in whole %', ['O2 %,CO ppm,Stack C,Air C'], (r) => `${Math.round(r.o2)},${r.co},${Math.round(r.stack)},${Math.round(r.air)}`],
  ['O2 in whole % behind a key', [], (r) => `O2=${Math.round(r.o2)}% CO=${r.co}ppm TS=${Math.round(r.stack)}C TAIR=${Math.round(r.air)}C`],
  ['whole degrees and O2 in ppm', [], (r) => `O2=${Math.round(r.o2 * 1e4)}ppm CO=${r.co}ppm TS=${Math.round(r.stack)}C`],
];
/** an instrument with few lines a minute: nothing moves in small steps */
const paces: readonly (readonly [string, number])[] = [
  ['a line a second', 1],
  ['a line in eight seconds', 8],
];

describe('whole numbers with their unit are read as they are', () => {
  it.each(boards.flatMap(([name, head, text]) => paces.map(([pace, every]) => [`${name}, ${pace}`, head, text, every] as const)))(
    '%s',
    (_, head, text, every) => {
      const rows = boardRows(40 * every).filter(({ at }) => at % every === 0);
      const lines = [...head, ...rows.map(text)];
      const { file, live } = judgeBoard(lines);
      for (const recipe of [recipeOf(file), live]) {
        expect(recipe).toBeDefined();
        if (recipe === undefined) continue;
        const samples = readWith(recipe, lines);
        expect(samples).toHaveLength(rows.length);
        for (const [at, { values }] of samples.entries()) {
          expect(Math.abs((values.o2 ?? Number.NaN) - (rows[at]?.o2 ?? 0))).toBeLessThanOrEqual(0.51);
          expect(Math.abs((values.stackTemperature ?? Number.NaN) - (rows[at]?.stack ?? 0))).toBeLessThanOrEqual(0.51);
        }
      }
    },
  );

  it('asks where O2 is a whole number without a unit: 19 may be 19 % or 1.9 %', () => {
    for (const scale of [1, 10]) {
      const lines = boardRows(60).map((r) => `{"o2":${Math.round(r.o2 * scale)},"co":${r.co},"stack":${r.stack},"air":${r.air}}`);
      const { file, live } = judgeBoard(lines);
      expect([file.kind, live]).toEqual(['ask', undefined]);
    }
  });
});
