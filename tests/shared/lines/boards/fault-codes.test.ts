/** Numbers that boards send for 'no value' and that a gas or a chimney can have too: -1, and the 85 degC a one-wire sensor has before its first conversion. Invented data. */
import { describe, expect, it } from 'vitest';
import { createLineReader } from '../../../../shared/lines/reading/read-line.ts';
import { LineRecipe } from '../../../../shared/measurement/recipe.ts';
import { boardRows, judgeBoard, readWith, recipeOf, type BoardRow } from './board-lines.ts';

const rows = boardRows(90);
type Cells = { readonly o2: string; readonly co: string; readonly stack: string };
const shapes: readonly (readonly [string, readonly string[], (r: BoardRow, cells: Cells) => string])[] = [
  ['keys', [], (r, { o2, co, stack }) => `O2=${o2}% CO=${co}ppm TS=${stack}C TA=${r.air}C`],
  ['a head', ['n;O2 %;CO ppm;Stack C;Air C'], (r, { o2, co, stack }) => `${r.at};${o2};${co};${stack};${r.air}`],
  ['columns without names', [], (r, { o2, co, stack }) => `${r.at};${o2};${co};${stack};${r.air}`],
];
type Fault = (r: BoardRow) => Partial<Cells> | undefined;
const faults: readonly (readonly [string, Fault])[] = [
  ['CO -1 at first', (r) => (r.at < 8 ? { co: '-1' } : undefined)],
  ['CO -1 in between', (r) => (r.at >= 55 && r.at < 70 ? { co: '-1' } : undefined)],
  ['O2 -1 in between', (r) => (r.at >= 55 && r.at < 70 ? { o2: '-1' } : undefined)],
  ['stack -1 in between', (r) => (r.at >= 55 && r.at < 62 ? { stack: '-1' } : undefined)],
  ['stack 85 at first', (r) => (r.at < 2 ? { stack: '85.00' } : undefined)],
  ['stack 85 in between', (r) => (r.at >= 55 && r.at < 58 ? { stack: '85.00' } : undefined)],
];

describe.each(shapes)('%s', (_, head, text) => {
  it.each(faults)('%s is no reading', (_name, fault) => {
    const cells = rows.map((r) => ({ o2: `${r.o2}`, co: `${r.co}`, stack: r.stack.toFixed(2), ...fault(r) }));
    const lines = [...head, ...rows.map((r, at) => text(r, cells[at]!))];
    const { file, live } = judgeBoard(lines);
    const expected = rows.map((r) => {
      const wrong = fault(r);
      return [
        wrong?.o2 === undefined ? r.o2 : undefined,
        wrong?.co === undefined ? r.co : undefined,
        wrong?.stack === undefined ? r.stack : undefined,
      ];
    });
    expect(live).toBeDefined();
    for (const recipe of [recipeOf(file), live]) {
      if (recipe === undefined) continue;
      const samples = readWith(recipe, lines);
      expect(samples.map(({ values }) => [values.o2, values.co, values.stackTemperature])).toEqual(expected);
      for (const [at, { absent }] of samples.entries())
        expect(Object.keys(absent ?? {})).toHaveLength(fault(rows[at]!) === undefined ? 0 : 1);
    }
  });
});

describe('what is a value stays one', () => {
  it('a CO cell that drifts around nought', () => {
    const co = (at: number) => [0, 1, -1, 0, -1, -2, 3][at % 7]!;
    const lines = rows.map((r) => `O2=${r.o2}% CO=${co(r.at)}ppm TS=${r.stack}C TA=${r.air}C`);
    const { live } = judgeBoard(lines);
    expect(live && readWith(live, lines).map(({ values }) => values.co)).toEqual(rows.map(({ at }) => co(at)));
  });

  it('a stack that warms up through 85', () => {
    const stack = (at: number) => 60 + at;
    const lines = rows.map((r) => `O2=${r.o2}% CO=${r.co}ppm TS=${stack(r.at).toFixed(1)}C TA=${r.air}C`);
    const { live } = judgeBoard(lines);
    expect(live && readWith(live, lines).map(({ values }) => values.stackTemperature)).toEqual(rows.map(({ at }) => stack(at)));
  });

  it('air of a frosty room that comes to -1', () => {
    const air = (at: number) => (-20 + Math.floor(at / 4)) / 10;
    const lines = rows.map((r) => `O2=${r.o2}% CO=${r.co}ppm TS=${r.stack}C TA=${air(r.at)}C`);
    const { live } = judgeBoard(lines);
    expect(live && readWith(live, lines).map(({ values }) => values.airTemperature)).toEqual(rows.map(({ at }) => air(at)));
  });
});

it('says the same whether the line view is open or not', () => {
  const recipe = LineRecipe.parse({
    format: 'flueside-recipe',
    version: 1,
    name: 'columns',
    shape: { kind: 'columns', delimiter: ',', count: 3 },
    fields: [
      { channel: 'co', at: 0, unit: 'ppm' },
      { channel: 'o2', at: 1, unit: '%' },
      { channel: 'stackTemperature', at: 2, unit: 'C' },
    ],
  });
  const lines = ['200,5,180', '3,5,180,9', '-1,5,180'].map((bytes, number) => ({ number, timeMs: number * 1000, bytes }));
  const [plain, watched] = [createLineReader(recipe), createLineReader(recipe)];
  const samples = lines.map((line) =>
    [plain.read(line), watched.readWithSpans(line)].map((read) => (read.kind === 'sample' ? read.sample : read.kind)),
  );
  for (const [one, other] of samples) expect(one).toEqual(other);
  expect(samples.at(-1)?.[0]).toMatchObject({ absent: { co: 'error' } });
});

it('a draft of -1 Pa is one', () => {
  const lines = rows.map((r, at) => `O2=${r.o2}% CO=${r.co}ppm TS=${r.stack}C Draft=${at % 9 === 4 ? -1 : 8 + (at % 3)}Pa`);
  const recipe = recipeOf(judgeBoard(lines).file);
  expect(recipe?.fields.map(({ channel }) => channel)).toContain('draft');
  expect(readWith(recipe!, lines).filter(({ values }) => values.draft === -1)).toHaveLength(10);
});
