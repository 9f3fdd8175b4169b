/** Boards that have no CO, or no stack, while they warm up: the channel is in the recipe by its name, and is there when it comes. Invented data. */
import { describe, expect, it } from 'vitest';
import { boardRows, judgeBoard, readWith, recipeOf, type BoardRow } from './board-lines.ts';

const WARM = 40;
const late =
  (none: string, text: (row: BoardRow, co: string) => string) =>
  (row: BoardRow): string =>
    text(row, row.at < WARM ? none : `${row.co}`);
const table = (row: BoardRow, co: string): string => `${row.at};${row.o2};${co};${row.stack};${row.air}`;
const head = 'n;O2 %;CO ppm;Stack C;Air C';

describe('CO that comes after the recipe', () => {
  it.each([
    ['---', head, late('---', table)],
    ['n/a behind a key', '', late('n/a', (r, co) => `O2=${r.o2}% CO=${co}${co === 'n/a' ? '' : 'ppm'} TS=${r.stack}C TA=${r.air}C`)],
    ['null in JSON', '', late('null', (r, co) => `{"o2":${r.o2},"co":${co},"stack":${r.stack},"air":${r.air}}`)],
    ['an empty cell', head, late('', table)],
    ['-999', head, late('-999', table)],
    ['a count-down', head, (r: BoardRow) => table(r, r.at < WARM ? `WAIT ${WARM - r.at}` : `${r.co}`)],
  ])('%s at first', (_, first, text) => {
    const rows = boardRows(90);
    const lines = [...(first === '' ? [] : [first]), ...rows.map(text)];
    const { file, live } = judgeBoard(lines);
    for (const recipe of [recipeOf(file), live])
      expect(recipe && readWith(recipe, lines).map(({ values }) => values.co)).toEqual(
        rows.map(({ at, co }) => (at < WARM ? undefined : co)),
      );
  });

  it.each(['---', 'WAIT', '-999'])('O2 and CO both: %s', (none) => {
    const rows = boardRows(90);
    const lines = [head, ...rows.map((r) => `${r.at};${r.at < WARM ? `${none};${none}` : `${r.o2};${r.co}`};${r.stack};${r.air}`)];
    const { live } = judgeBoard(lines);
    const last = rows.at(-1);
    expect(live && readWith(live, lines).at(-1)?.values).toEqual({
      o2: last?.o2,
      co: last?.co,
      stackTemperature: last?.stack,
      airTemperature: last?.air,
    });
  });

  it('an open stack sensor at first', () => {
    const rows = boardRows(90);
    const lines = [head, ...rows.map((r) => `${r.at};${r.o2};${r.co};${r.at < WARM ? 'OPEN' : r.stack};${r.air}`)];
    const { live } = judgeBoard(lines);
    expect(live && readWith(live, lines).at(-1)?.values.stackTemperature).toBe(rows.at(-1)?.stack);
  });

  it('of two CO columns the one with values counts', () => {
    const rows = boardRows(90);
    const lines = ['CO ppm;O2 %;CO ppm;Stack C;Air C', ...rows.map((r) => `;${r.o2};${r.co};${r.stack};${r.air}`)];
    const { file, live } = judgeBoard(lines);
    for (const recipe of [recipeOf(file), live])
      expect(recipe && readWith(recipe, lines).map(({ values }) => values.co)).toEqual(rows.map(({ co }) => co));
  });

  it('a column that holds other words is no CO', () => {
    const lines = [head, ...boardRows(60).map((r) => table(r, ['yes', 'no', 'maybe'][r.at % 3] ?? ''))];
    const { file } = judgeBoard(lines);
    expect(recipeOf(file)?.fields.some(({ channel }) => channel === 'co') ?? false).toBe(false);
  });

  it('where nothing has a value yet, nothing is taken', () => {
    const lines = [head, ...boardRows(20).map((r) => `${r.at};---;---;---;---`)];
    expect(judgeBoard(lines).live).toBeUndefined();
  });
});
