/** CO of a thousand and more, written with a mark between the digits: it must not go missing just when it is high. Invented data. */
import { describe, expect, it } from 'vitest';
import { boardRows, judgeBoard, readWith, recipeOf } from './board-lines.ts';

const high = boardRows(60).map((row) => ({ ...row, co: 1090 + row.at * 3 }));
const point = (co: number): string => co.toLocaleString('en-US');
const comma = (value: number): string => value.toFixed(1).replace('.', ',');

describe('CO above 999 ppm with a thousands mark', () => {
  it.each([
    ['all quoted', '"O2 %","CO ppm","Stack C","Air C"', '"'],
    ['quoted where needed', 'O2 %,CO ppm,Stack C,Air C', ''],
  ])('in a table with commas, %s', (_, head, quote) => {
    const lines = [
      head,
      ...high.map((r) =>
        [r.o2, `"${point(r.co)}"`, r.stack, r.air].map((cell, at) => (at === 1 ? cell : `${quote}${cell}${quote}`)).join(','),
      ),
    ];
    const { file, live } = judgeBoard(lines);
    for (const recipe of [recipeOf(file), live])
      expect(recipe && readWith(recipe, lines).map(({ values }) => values.co)).toEqual(high.map(({ co }) => co));
  });

  const early = boardRows(40);
  it.each([
    [
      'decimal comma, semicolons',
      (r: (typeof early)[number]) => `${comma(r.o2)};${r.co};${comma(r.stack)};${comma(r.air)}`,
      '4,1;1.098;200,1;21,2',
    ],
    [
      'decimal point, tabs',
      (r: (typeof early)[number]) => [r.o2.toFixed(1), r.co, r.stack.toFixed(1), r.air.toFixed(1)].join('\t'),
      '4.1\t1,098\t200.1\t21.2',
    ],
    [
      'keys',
      (r: (typeof early)[number]) =>
        `O2: ${r.o2.toFixed(1)} %  CO: ${r.co} ppm  Flue: ${r.stack.toFixed(1)} °C  Air: ${r.air.toFixed(1)} °C`,
      'O2: 4.1 %  CO: 1,098 ppm  Flue: 200.1 °C  Air: 21.2 °C',
    ],
  ])('that comes live for the first time: %s', (_, text, later) => {
    const head = later.includes('ppm') ? [] : [later.includes(';') ? 'O2 %;CO ppm;Stack C;Air C' : 'O2 %\tCO ppm\tStack C\tAir C'];
    const { live } = judgeBoard([...head, ...early.map(text)]);
    expect(live && readWith(live, [later])[0]?.values).toEqual({ o2: 4.1, co: 1098, stackTemperature: 200.1, airTemperature: 21.2 });
  });

  it('a value below one is no thousand', () => {
    const { live } = judgeBoard(['O2 %;CO ppm;Stack C;Air C;Draft hPa', ...early.map((r) => `${r.o2};${r.co};${r.stack};${r.air};-0.123`)]);
    expect(live && readWith(live, ['4.1;38;200.1;21.2;-0,123'])[0]?.values.draft).toBe(-12.3);
  });

  const blank = (co: number): string => point(co).replace(',', ' ');
  it.each([
    ['behind its name', (r: (typeof high)[number]) => `O2 ${r.o2.toFixed(1)} %  CO ${blank(r.co)} ppm  Flue ${r.stack.toFixed(1)} °C`],
    ['between bars', (r: (typeof high)[number]) => `O2 ${r.o2.toFixed(1)} % | CO ${blank(r.co)} ppm | Flue ${r.stack.toFixed(1)} °C`],
    ['before its name', (r: (typeof high)[number]) => `${r.o2.toFixed(1)} % O2  ${blank(r.co)} ppm CO  ${r.stack.toFixed(1)} °C flue`],
    ['without a unit', (r: (typeof high)[number]) => `O2 ${r.o2.toFixed(1)} CO ${blank(r.co)} Flue ${r.stack.toFixed(1)} °C`],
  ])('parted by a blank, %s: never the digits before or after it alone', (_, text) => {
    const lines = high.map(text);
    const { file, live } = judgeBoard(lines);
    for (const recipe of [recipeOf(file), live])
      for (const [at, { values }] of (recipe === undefined ? [] : readWith(recipe, lines)).entries())
        if (values.co !== undefined) expect(values.co).toBe(high[at]?.co);
  });
  it('parted by a blank, once the lines are known', () => {
    const { live } = judgeBoard(
      early.map((r) => `O2 ${r.o2.toFixed(1)} %  CO ${r.co} ppm  Flue ${r.stack.toFixed(1)} °C  Air ${r.air.toFixed(1)} °C`),
    );
    expect(live).toBeDefined();
    const co = (text: string) => readWith(live!, [`O2 4.1 %  CO ${text}  Flue 200.1 °C  Air 21.2 °C`])[0]?.values.co;
    expect(co('998 ppm')).toBe(998);
    for (const mark of [' ', '\u00a0', '\u2009', '\u202f']) expect(co(`1${mark}398 ppm`)).toBe(1398);
    expect(co('12 398.5 ppm')).toBe(12_398.5);
    // a second figure behind it, of which nothing is known, is none of its digits
    expect(co('23 ppm 231.4')).toBe(23);
    expect(co('23 231.4')).toBe(23);
  });
});
