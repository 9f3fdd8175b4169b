/** A board that writes its head again from time to time, joined between two heads: the recipe came from the values alone. Invented data. */
import { describe, expect, it } from 'vitest';
import { boardRows, judgeBoard, readWith } from './board-lines.ts';

const rows = boardRows(90);
const plain = rows.map((r) => `${r.o2};${r.co};${r.stack.toFixed(1)};${r.air.toFixed(1)}`);
const after = (head: string) => {
  const { live } = judgeBoard(plain);
  expect(live?.shape.kind === 'columns' && live.shape.header).toBe(undefined);
  return live === undefined ? undefined : readWith(live, [...plain.slice(0, 50), head, ...plain.slice(50, 51)]).map(({ values }) => values);
};

describe('a head after the recipe', () => {
  it('that says the same changes nothing', () => {
    const { o2, co, stack, air } = rows[50] ?? boardRows(1)[0]!;
    expect(after('O2 %;CO ppm;Stack C;Air C')?.at(-1)).toEqual({ o2, co, stackTemperature: stack, airTemperature: air });
    expect(after('a;b;c;d')?.at(-1)).toEqual({ o2, co, stackTemperature: stack, airTemperature: air });
  });

  it.each(['NO ppm', 'CO corr. ppm', 'CO2 ppm', 'CO mg/kWh'])('ends CO where it names the column %s, and nothing else', (name) => {
    const { o2, stack, air } = rows[50] ?? boardRows(1)[0]!;
    const values = after(`O2 %;${name};Stack C;Air C`);
    expect(values?.at(-2)?.co).toBe(rows[49]?.co);
    expect(values?.at(-1)).toEqual({ o2, stackTemperature: stack, airTemperature: air });
  });

  it('gives the temperatures their places and their unit', () => {
    const { stack, air } = rows[50] ?? boardRows(1)[0]!;
    const swapped = after('O2 %;CO ppm;Air C;Stack C')?.at(-1);
    expect([swapped?.stackTemperature, swapped?.airTemperature]).toEqual([air, undefined]);
    const inF = after('O2 %;CO ppm;Stack F;Air F')?.at(-1);
    expect(inF?.stackTemperature).toBeCloseTo((stack - 32) / 1.8, 1);
  });
});
