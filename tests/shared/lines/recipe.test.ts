import { describe, expect, it } from 'vitest';
import { createLineReader } from '../../../shared/lines/reading/read-line.ts';
import { shippedRecipes } from '../../../shared/lines/shipped-recipes.ts';
import { LineRecipe } from '../../../shared/measurement/recipe.ts';
import { checkRecipe } from '../../../shared/measurement/check-recipe.ts';

const minimal = {
  format: 'flueside-recipe',
  version: 1,
  name: 'mine',
  shape: { kind: 'columns', delimiter: ',' },
  fields: [{ channel: 'o2', at: 0, unit: '%' }],
};

describe('recipe documents', () => {
  it('fills in safe defaults', () => {
    const checked = checkRecipe(minimal);
    expect(checked).toMatchObject({
      ok: true,
      value: {
        framing: { baud: 9600, dataBits: 8, parity: 'none', stopBits: 1, flow: 'none', longestLine: 1024 },
        time: { kind: 'arrival' },
        check: { kind: 'none' },
        decimal: '.',
        thousands: 'none',
      },
    });
    if (checked.ok) expect(checked.value.polling).toBeUndefined();
  });
  it.each([
    ['another format', { ...minimal, format: 'other' }],
    ['a later version', { ...minimal, version: 2 }],
    ['no field', { ...minimal, fields: [] }],
    ['a channel twice', { ...minimal, fields: [minimal.fields[0], minimal.fields[0]] }],
    ['oxygen in degrees', { ...minimal, fields: [{ channel: 'o2', at: 0, unit: 'C' }] }],
    ['a key in columns', { ...minimal, fields: [{ channel: 'o2', at: 'O2', unit: '%' }] }],
    ['a scale of nothing', { ...minimal, fields: [{ channel: 'o2', at: 0, unit: '%', scale: 0 }] }],
    ['a line of a megabyte', { ...minimal, framing: { longestLine: 1_000_000 } }],
    [
      'a fixed place past the end',
      { ...minimal, shape: { kind: 'fixed', length: 5 }, fields: [{ channel: 'o2', at: { start: 3, end: 9 }, unit: '%' }] },
    ],
    ['an endless poll', { ...minimal, polling: { command: 'X', intervalMs: 0 } }],
    ['nothing', undefined],
  ])('refuses %s with a Problem', (_, candidate) =>
    expect(checkRecipe(candidate)).toMatchObject({ ok: false, error: { code: 'recipe-invalid' } }),
  );

  it('drops keys that it does not know', () => expect(checkRecipe({ ...minimal, surprise: 1 })).toEqual(checkRecipe(minimal)));
  it('ships recipes that survive being written and read', () => {
    for (const recipe of Object.values(shippedRecipes)) {
      expect(checkRecipe(JSON.parse(JSON.stringify(recipe)))).toEqual({ ok: true, value: LineRecipe.parse(recipe) });
    }
  });
});

describe('shipped recipes read a line of their shape', () => {
  const sum = (text: string): string =>
    [...text]
      .reduce((total, char) => total ^ char.charCodeAt(0), 0)
      .toString(16)
      .toUpperCase()
      .padStart(2, '0');
  it.each<[string, string[]]>([
    ['comma-columns', ['0,4.1,23,212.4,21.5']],
    ['semicolon-columns', ['12:01:07;4,1;23;212,4;21,5']],
    ['blank-columns', ['  4.1  0023  +212.4  21.5']],
    ['tab-columns', ['12:01:07\t4.1\t23\t212.4\t21.5']],
    ['key-value', ['O2=4.1% CO=23ppm TS=212.4C TA=21.5C ST=OK']],
    ['json-lines', ['{"o2":4.1,"co":23,"stack":212.4,"air":21.5}']],
    ['tagged-lines', ['A 04.1', 'B 0023', 'C 212.4', 'D 21.5']],
    ['checked-sentence', [`$XXABC,4.1,23,212.4,21.5*${sum('XXABC,4.1,23,212.4,21.5')}`]],
    // 41 tenths = 0029, 23 = 0017, 2124 = 084C, 215 = 00D7; the bytes add up to 0x177, two's complement 89 (by hand)
    ['hex-registers', [':01030800290017084C00D789']],
    ['polled-columns', ['READ?', '4.1,23,212.4,21.5']],
  ])('%s', (name, lines) => {
    const recipe = shippedRecipes[name];
    if (recipe === undefined) throw new Error(`no recipe ${name}`);
    const reader = createLineReader(recipe);
    const reads = lines.map((bytes) => reader.read({ timeMs: 0, bytes }));
    expect(reads.at(-1)).toMatchObject({
      kind: 'sample',
      sample: { values: { o2: 4.1, co: 23, stackTemperature: 212.4, airTemperature: 21.5 } },
    });
  });
  it('has a line for every one of them', () => expect(Object.keys(shippedRecipes).length).toBe(10));
});
