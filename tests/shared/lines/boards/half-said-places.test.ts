/** 'TA' and 'AT' beside a stack that is named: the air, whatever else the board sends. Invented data. */
import { describe, expect, it } from 'vitest';
import { boardRows, judgeBoard, readWith, recipeOf, type BoardRow } from './board-lines.ts';

const boards: readonly (readonly [string, string, (row: BoardRow) => string])[] = [
  ['CO without a sensor', 'O2 %;CO ppm;NO ppm;FT C;AT C', (r) => `${r.o2};---;${60 + (r.at % 3)};${r.stack};${r.air}`],
  [
    'pressure of the pump',
    'O2 %;CO ppm;FT C;AT C;Pump bar',
    (r) => `${r.o2};${r.co};${r.stack};${r.air};${(11.8 + (r.at % 3) / 100).toFixed(2)}`,
  ],
  ['O2 of 25 %, not calibrated', 'O2 %;CO ppm;FT C;AT C', (r) => `${(r.o2 * 1.19).toFixed(1)};${r.co};${r.stack};${r.air}`],
  [
    'degF, said for none',
    'Time;O2 %;CO ppm;FT;AT',
    (r) =>
      `10:00:${String(r.at % 60).padStart(2, '0')};${r.o2};${r.co};${(r.stack * 1.8 + 32).toFixed(1)};${(r.air * 1.8 + 32).toFixed(1)}`,
  ],
  ['keys with units', '', (r) => `O2=${r.o2}% ${r.at > 40 ? `NO=${60 + (r.at % 3)}` : `CO=${r.co}`}ppm TS=${r.stack}C TA=${r.air}C`],
];

describe('half a word for the air, beside a named stack', () => {
  it.each(boards)('%s', (_, head, text) => {
    const rows = boardRows(90);
    const lines = [...(head === '' ? [] : [head]), ...rows.map(text)];
    const { file, live } = judgeBoard(lines);
    for (const recipe of [recipeOf(file), live])
      expect(recipe && readWith(recipe, lines).map(({ values }) => values.airTemperature)).toEqual(
        rows.map(({ air }) => expect.closeTo(air, 1) as number),
      );
  });

  it('does not take the first of two numbered temperatures for the stack after a few lines', () => {
    const lines = ['O2 %;CO ppm;T1 °C;T2 °C', ...boardRows(90).map((r) => `${r.o2};${r.co};${(60 + r.at / 10).toFixed(1)};${r.stack}`)];
    expect(judgeBoard(lines).live).toBeUndefined();
  });

  it('what is as hot as a boiler is no air', () => {
    const lines = ['O2 %;CO ppm;NO ppm;FT C;AT C', ...boardRows(90).map((r) => `${r.o2};---;60;${r.stack};${72 + (r.at % 4)}`)];
    const { file, live } = judgeBoard(lines);
    for (const recipe of [recipeOf(file), live])
      expect(recipe?.fields.some(({ channel }) => channel === 'airTemperature') ?? false).toBe(false);
  });
});

describe('the pressure of the oil pump', () => {
  it.each(['Oil pressure bar', 'Pump pressure [bar]', 'Öldruck [bar]', 'P_oil bar'])('%s', (name) => {
    const rows = boardRows(60);
    const lines = [`O2 %;CO ppm;Stack C;Air C;${name}`, ...rows.map((r) => `${r.o2};${r.co};${r.stack};${r.air};11.8${r.at % 4}`)];
    const { file } = judgeBoard(lines);
    const recipe = recipeOf(file);
    const [sample] = recipe === undefined ? [] : readWith(recipe, lines);
    expect(sample?.values).toEqual({
      o2: rows[0]?.o2,
      co: rows[0]?.co,
      stackTemperature: rows[0]?.stack,
      airTemperature: rows[0]?.air,
      pumpPressure: 1_180_000,
    });
  });
});
