/** Multipliers beside a unit and names that come twice: nothing of it gives a figure without a word. */
import { describe, expect, it } from 'vitest';
import { learn } from '../../../../shared/lines/learn.ts';
import { createLineReader } from '../../../../shared/lines/reading/read-line.ts';
import { shippedRecipes } from '../../../../shared/lines/shipped-recipes.ts';
import { LineRecipe } from '../../../../shared/measurement/recipe.ts';
import type { Sample } from '../../../../shared/measurement/sample.ts';
import { burnerRows } from '../shapes/corpus.ts';

const rows = burnerRows(40, 3);
type Row = (typeof rows)[number];
const stamped = (lines: readonly string[]) => lines.map((bytes, at) => ({ bytes, timeMs: at * 1000 }));

/** What the first proposal asks about, and what its recipe makes of the last line. */
function learnt(lines: readonly string[]): { asks: string[]; values: Sample['values']; scales: Record<string, number> } {
  const [proposal] = learn(stamped(lines)).proposals;
  if (proposal === undefined) return { asks: ['nothing'], values: {}, scales: {} };
  const reader = createLineReader(proposal.recipe);
  const reads = stamped(lines).map((line) => reader.read(line));
  const last = reads.at(-1);
  return {
    asks: proposal.isOpen
      ? [...new Set(proposal.columns.flatMap(({ evidence }) => evidence.filter(({ side }) => side === 'open').map(({ key }) => key)))]
      : [],
    values: last?.kind === 'sample' ? last.sample.values : {},
    scales: Object.fromEntries(proposal.recipe.fields.map(({ channel, scale }) => [channel, scale])),
  };
}
const table = (names: string, cells: (row: Row) => string, units?: string): string[] => [
  `time,${names}`,
  ...(units === undefined ? [] : [`s,${units}`]),
  ...rows.map((row, at) => `${at},${cells(row)}`),
];
const withCo = (name: string, factor: number, decimals: number) =>
  learnt(
    table(
      `O2 %,${name},T stack [C],T air [C]`,
      ({ o2, co, stack, air }) => `${o2.toFixed(1)},${(co * factor).toFixed(decimals)},${stack.toFixed(1)},${air.toFixed(1)}`,
    ),
  );
const co = rows.at(-1)?.co ?? 0;

describe('a multiplier beside a unit', () => {
  it.each(['CO 10^3 ppm', 'CO [10^3 ppm]', 'CO 10³ ppm', 'CO [1E3 ppm]'])('%s means one thing and is read so', (name) => {
    const { asks, values, scales } = withCo(name, 1e-3, 4);
    expect(asks).toEqual([]);
    expect(scales['co']).toBe(1000);
    expect(values.co).toBeCloseTo(co, 0);
  });

  it.each(['CO x1000 ppm', 'CO x 1000 ppm', 'CO *1000 ppm', 'CO ×1000 ppm', 'CO [x1000 ppm]', 'CO_x1000_ppm'])(
    '%s is taken times 1000 in the question, and is asked about',
    (name) => {
      const { asks, values } = withCo(name, 1e-3, 4);
      expect(asks).toEqual(['factor-in-name']);
      expect(values.co).toBeCloseTo(co, 0);
    },
  );

  it.each(['CO ppm x 10', 'CO ppm x10', 'CO [ppm*10]', 'CO×10', 'CO_x10', 'CO 10 ppm', 'CO ppm/10', 'CO [0.1 ppm]', 'CO kppm'])(
    '%s can be read two ways: no figure, and a question',
    (name) => {
      const { asks, values } = withCo(name, 10, 0);
      expect(asks).toEqual(['factor-in-name']);
      expect(values.co).toBeUndefined();
      expect(values.o2).toBeDefined();
    },
  );

  it.each([
    ['O2 1/10 %', []],
    ['O2 10^-1 %', []],
    ['O2 [% x10]', ['factor-in-name']],
    ['O2 [0.1 %]', ['factor-in-name']],
    ['O2 ‰', ['factor-in-name']],
  ])('%s', (name, wanted) => {
    const { asks, values } = learnt(
      table(`${name},CO ppm,T stack [C],T air [C]`, (row) =>
        [(row.o2 * 10).toFixed(0), row.co.toFixed(0), row.stack.toFixed(1), row.air.toFixed(1)].join(','),
      ),
    );
    expect(asks).toEqual(wanted);
    if (wanted.length === 0) expect(values.o2).toBeCloseTo(rows.at(-1)?.o2 ?? 0, 0);
    else expect(values.o2).toBeUndefined();
  });

  it('in a row of units, and in tenths of a degree', () => {
    const cells = ({ o2, co: sent, stack, air }: Row): string =>
      [o2.toFixed(1), (sent / 1000).toFixed(4), (stack * 10).toFixed(0), air.toFixed(1)].join(',');
    const { asks, values } = learnt(table('O2,CO,T stack,T air', cells, '%,10^3 ppm,1/10 degC,C'));
    expect(asks).toEqual([]);
    expect(values.co).toBeCloseTo(co, 0);
    expect(values.stackTemperature).toBeCloseTo(rows.at(-1)?.stack ?? 0, 1);
  });

  it('behind a value is not passed over', () => {
    const lines = rows.map((row) => `O2: ${row.o2.toFixed(1)} %; CO: ${(row.co / 10).toFixed(1)} x10; Tstack: ${row.stack.toFixed(1)} C`);
    expect(learnt(lines).values.co).toBeUndefined();
    expect(learnt(rows.map((row) => `{"o2":${row.o2.toFixed(1)},"co_x10":${(row.co * 10).toFixed(0)},"t_stack_c":210.5}`))).toMatchObject({
      asks: ['factor-in-name'],
      values: { o2: expect.any(Number) as number },
    });
  });

  it('is none in the names of a reference, a sensor or a number', () => {
    for (const name of ['CO 3% O2', 'CO @ 10 % O2', 'CO ref 10 %']) expect(withCo(name, 1, 0).asks, name).toEqual([]);
    for (const name of ['CO 1 ppm', 'CO ppm', 'CO (dry) ppm']) expect(withCo(name, 1, 0).values.co, name).toBeCloseTo(co, -0.5);
  });
});

describe('one name, two values', () => {
  it.each([
    ['=', (r: Row) => `O2=${r.o2.toFixed(1)} O2=20.9 CO=${r.co.toFixed(0)} Tstack=${r.stack.toFixed(1)}C`],
    [':', (r: Row) => `O2: ${r.o2.toFixed(1)} %, O2: 20.9 %, CO: ${r.co.toFixed(0)} ppm, Tstack: ${r.stack.toFixed(1)} C`],
    ['blanks', (r: Row) => `O2 ${r.o2.toFixed(1)} % O2 20.9 % CO ${r.co.toFixed(0)} ppm Tstack ${r.stack.toFixed(1)} C`],
    ['markup', (r: Row) => `<s><o2>${r.o2.toFixed(1)}</o2><o2>20.9</o2><co>${r.co.toFixed(0)}</co><stack unit="C">210.5</stack></s>`],
    ['JSON', (r: Row) => `{"o2":${r.o2.toFixed(1)},"o2":20.9,"co":${r.co.toFixed(0)},"t_stack_c":${r.stack.toFixed(1)}}`],
  ])('with %s is asked about', (_, line) => {
    const { asks } = learnt(rows.map(line));
    expect(asks.some((key) => key === 'two-values' || key === 'rival')).toBe(true);
  });

  const keyed = shippedRecipes['key-value'] as LineRecipe;
  const json = shippedRecipes['json-lines'] as LineRecipe;
  const only = (recipe: LineRecipe, bytes: string): Pick<Sample, 'values' | 'absent'> => {
    const reader = createLineReader(recipe);
    const read = reader.read({ bytes, timeMs: 0 });
    expect(reader.readWithSpans({ bytes, timeMs: 0 }).kind).toBe(read.kind);
    return read.kind === 'sample' ? { values: read.sample.values, absent: read.sample.absent } : { values: {}, absent: {} };
  };

  it('gives no value of that channel through a saved recipe, and says why', () => {
    expect(only(keyed, 'O2=9 O2=20.9 CO=12')).toEqual({ values: { co: 12 }, absent: { o2: 'two-values' } });
    expect(only(keyed, 'O2=9 o2=20.9 O2=9 CO=12')).toEqual({ values: { co: 12 }, absent: { o2: 'two-values' } });
    expect(only(json, '{"o2":9,"o2":20.9,"co":12}')).toEqual({ values: { co: 12 }, absent: { o2: 'two-values' } });
    expect(only(json, '{"a":{"o2":1},"o2":9,"co":12,"b":[{"o2":3},{"o2":4}]}')).toEqual({ values: { o2: 9, co: 12 }, absent: undefined });
    expect(only(json, '{"x":"\\"o2\\":1","o2":9,"co":12,"o2" : 9}')).toEqual({ values: { o2: 9, co: 12 }, absent: undefined });
  });

  it('is one value where both are the same', () => {
    expect(only(keyed, 'O2=9 O2= 9 CO=12').values).toEqual({ o2: 9, co: 12 });
  });

  it('a header that moves the columns and has a name twice gives no value of it', () => {
    const recipe = LineRecipe.parse({
      format: 'flueside-recipe',
      version: 1,
      name: 'x',
      shape: { kind: 'columns', delimiter: ',', count: 3, header: ['t', 'O2', 'CO'] },
      fields: [
        { channel: 'o2', at: 1, unit: '%', name: 'O2' },
        { channel: 'co', at: 2, unit: 'ppm', name: 'CO' },
      ],
    });
    const reader = createLineReader(recipe);
    const values = ['t,O2,CO', '0,5.1,12', 't,O2,CO,O2', '1,5.2,13,20.9'].map((bytes, at) => {
      const read = reader.read({ bytes, timeMs: at });
      return read.kind === 'sample' ? read.sample.values : undefined;
    });
    expect(values).toEqual([undefined, { o2: 5.1, co: 12 }, undefined, { co: 13 }]);
  });

  it.each(['CO ppm af', 'CO ppm (af)', 'CO korr', 'CO cor', 'CO und', 'CO rel', 'CO rif', 'CO calc', 'CO rapporté', "CO exempt d'air"])(
    '%s is not the measured CO',
    (name) => {
      expect(withCo(name, 1.3, 0).values.co).toBeUndefined();
    },
  );
});

it('CO that only its values tell is asked about where they may be per cent: 0.153 without a unit may be 1 530 ppm', () => {
  const two = (count: number): string => String(count).padStart(2, '0');
  const plain = (co: (ppm: number) => string) =>
    learnt(
      Array.from({ length: 200 }, (_, at) => {
        const wave = Math.sin(at * 1.7);
        const cells = [5 + 0.05 * wave, 210 + 0.05 * at, 20 + 0.1 * Math.sin(at * 0.9)].map((one) => one.toFixed(1));
        return `12:${two(Math.floor(at / 60))}:${two(at % 60)},${cells[0]},${co(153 + 3 * wave)},${cells[1]},${cells[2]}`;
      }),
    );
  expect(plain((ppm) => (ppm / 1000).toFixed(3)).asks).toEqual(['unit-missing']);
  expect(plain((ppm) => ppm.toFixed(0)).asks).toEqual([]);
});
