/** Changes of a recipe in its editor: a piece has one role, a role one piece; what is typed is understood or named as wrong. */
import { describe, expect, it } from 'vitest';
import {
  blankRecipe,
  cycleText,
  noValueText,
  parseCycle,
  parseNoValue,
  parsePossible,
  parseStatus,
  possibleText,
  roleAt,
  statusText,
  withDelimiter,
  withField,
  withPossible,
  withRole,
  withShape,
} from '../../../renderer/views/lines/recipe/recipe-edit.ts';
import { placeLabel, placesOf } from '../../../renderer/views/lines/recipe/recipe-places.ts';
import { LineRecipe } from '../../../shared/measurement/recipe.ts';
import type { ShapeOf } from '../../../shared/measurement/recipe-shape.ts';

const made = (...roles: readonly [at: number, role: Parameters<typeof withRole>[2]][]): LineRecipe =>
  roles.reduce((recipe, [at, role]) => withRole(recipe, at, role), blankRecipe('Own'));
const rolesOf = (recipe: LineRecipe) => [0, 1, 2, 3].map((at) => roleAt(recipe, at));

describe('roles of the pieces', () => {
  it('a new recipe has none', () => {
    expect(blankRecipe('Own')).toMatchObject({ name: 'Own', fields: [] });
    expect(rolesOf(blankRecipe('Own'))).toEqual(['none', 'none', 'none', 'none']);
  });
  it('each is given once: a role that goes to another piece leaves the first', () => {
    expect(rolesOf(made([0, 'o2'], [1, 'co']))).toEqual(['o2', 'co', 'none', 'none']);
    expect(rolesOf(made([0, 'o2'], [2, 'o2']))).toEqual(['none', 'none', 'o2', 'none']);
    expect(rolesOf(made([0, 'time'], [2, 'time']))).toEqual(['none', 'none', 'time', 'none']);
    expect(rolesOf(made([0, 'status'], [2, 'status']))).toEqual(['none', 'none', 'status', 'none']);
  });
  it('a piece that gets another role loses the one it had, also when that is none', () => {
    expect(rolesOf(made([0, 'o2'], [0, 'co']))).toEqual(['co', 'none', 'none', 'none']);
    for (const role of ['o2', 'time', 'status'] as const)
      expect(rolesOf(made([0, role], [0, 'none']))).toEqual(['none', 'none', 'none', 'none']);
    expect(made([0, 'time'], [0, 'none']).time).toEqual({ kind: 'arrival' });
    expect(made([0, 'status'], [0, 'o2']).status).toBeUndefined();
  });
  it('the channels are in the order of the app, whichever was given first', () => {
    expect(made([0, 'stackTemperature'], [1, 'co'], [2, 'o2']).fields.map(({ channel }) => channel)).toEqual(
      made([2, 'o2'], [1, 'co'], [0, 'stackTemperature']).fields.map(({ channel }) => channel),
    );
  });
  it('CO begins as ppm, O2 as per cent; a unit that the new role can have stays with its scale', () => {
    expect(made([0, 'co']).fields[0]?.unit).toBe('ppm');
    expect(made([0, 'o2']).fields[0]).toMatchObject({ unit: '%', scale: 1, offset: 0 });
    const fahrenheit = withField(made([0, 'stackTemperature']), 'stackTemperature', { unit: 'F', scale: 0.1, offset: 2, name: 'T1' });
    expect(withRole(fahrenheit, 0, 'airTemperature').fields).toMatchObject([
      { channel: 'airTemperature', unit: 'F', scale: 0.1, offset: 2, name: 'T1' },
    ]);
    expect(withRole(fahrenheit, 0, 'o2').fields[0]?.unit).toBe('%');
  });
  it('the words that a status had stay with it when it moves', () => {
    const status = { ...made([0, 'status']), status: { at: 0, words: { WARM: 'warming-up' as const }, masks: [], radix: 16 as const } };
    expect(withRole(status, 2, 'status').status).toEqual({ at: 2, words: { WARM: 'warming-up' }, masks: [], radix: 16 });
  });
});

describe('the range that a value can have', () => {
  it.each([
    ['0 to 1000', [0, 1000]],
    ['-20..60', [-20, 60]],
    ['−20 60', [-20, 60]],
    ['0,5; 2,5', [0.5, 2.5]],
    ['', 'none'],
    ['  ', 'none'],
    ['5 to 5', undefined],
    ['9 to 5', undefined],
    ['5', undefined],
    ['a to b', undefined],
  ])('“%s” is %j', (text, range) => expect(parsePossible(text)).toEqual(range));
  it('is written as it is read, given to its own channel, and taken away', () => {
    const ranged = withPossible(made([0, 'o2'], [1, 'co']), 'co', [-5, 1000]);
    expect(ranged.fields.map(({ valid }) => valid)).toEqual([undefined, [-5, 1000]]);
    expect(possibleText(ranged.fields[1]!)).toBe('−5 to 1000');
    expect(parsePossible(possibleText(ranged.fields[1]!))).toEqual([-5, 1000]);
    expect(possibleText({})).toBe('');
    expect(withPossible(ranged, 'co', 'none').fields.every((field) => !('valid' in field))).toBe(true);
  });
});

describe('another shape', () => {
  const full = { ...made([0, 'o2'], [1, 'time'], [2, 'status']) };
  it.each(['keyed', 'tagged', 'cycle', 'json', 'fixed', 'registers', 'pattern'] as const)(
    '%s takes nothing of the places with it',
    (kind) => {
      const next = withShape(full, kind);
      expect(next).toMatchObject({ shape: { kind }, fields: [], time: { kind: 'arrival' }, name: 'Own' });
      expect(next.status).toBeUndefined();
      // what is proposed is a shape that can be used once it has a field
      const at = { keyed: 'O2', json: 'O2', pattern: 'o2', fixed: { start: 0, end: 4 }, tagged: 'A.1' }[kind as 'keyed'] ?? 0;
      expect(LineRecipe.safeParse(withRole(next, at, 'o2')).error?.issues).toBeUndefined();
      expect(withShape(next, 'columns').shape).toEqual({ kind: 'columns', delimiter: ',', layouts: [], quoted: false });
    },
  );
  it('the same one again changes nothing', () => expect(withShape(full, 'columns')).toBe(full));
  it('another sign to split at forgets the header that was learned, and nothing else', () => {
    const learned = { ...full, shape: { ...full.shape, quoted: true, count: 4 } as ShapeOf<'columns'> };
    expect(withDelimiter(learned, ';')).toEqual({ ...learned, shape: { kind: 'columns', delimiter: ';', layouts: [], quoted: true } });
    const tagged = withShape(full, 'tagged');
    expect(withDelimiter(tagged, ';').shape).toEqual({ ...tagged.shape, delimiter: ';' });
    const json = withShape(full, 'json');
    expect(withDelimiter(json, ';')).toBe(json);
  });
  it('a cycle is typed and written in one line; words in quotes are text', () => {
    const shape = parseCycle('9.9 % | "----"| 9 ppm');
    expect(shape.lines).toEqual([{ form: '9.9 %' }, { text: '----' }, { form: '9 ppm' }]);
    expect(parseCycle(cycleText(shape))).toEqual(shape);
    expect(parseCycle(Array.from({ length: 60 }, () => '9').join('|')).lines).toHaveLength(48);
  });
});

describe('what means no value', () => {
  it('words and numbers, for one channel or for all, are read as they are written', () => {
    const read = parseNoValue('---- = blank\n-999 = not fitted\nco 9999 = over range\nHIGH CO = over-range\n\n');
    expect(read).toEqual({
      words: { '----': 'blank', 'HIGH CO': 'over-range' },
      sentinels: [
        { value: -999, means: 'not-fitted' },
        { value: 9999, means: 'over-range', channel: 'co' },
      ],
    });
    expect(parseNoValue(noValueText({ ...blankRecipe('Own'), ...(read as object) }))).toEqual(read);
  });
  it('a word with a sign of equality in it is taken up to the last one; a word that is no channel is a word', () => {
    expect(parseNoValue('A=B = error')).toMatchObject({ words: { 'A=B': 'error' } });
    expect(parseNoValue('err 7 = error')).toMatchObject({ words: { 'err 7': 'error' }, sentinels: [] });
    expect(parseNoValue('CO 7 = Error')).toMatchObject({ sentinels: [{ value: 7, channel: 'co', means: 'error' }] });
  });
  it.each(['----', '= blank', '---- = nothing', `${'x'.repeat(41)} = blank`])('“%s” is named as wrong', (line) => {
    expect(parseNoValue(`OK = blank\n${line}`)).toEqual({ wrong: line });
  });
  it('the status has words of its own', () => {
    const read = parseStatus('WARM = warming up\nM = measuring\n');
    expect(read).toEqual({ words: { WARM: 'warming-up', M: 'measuring' } });
    const recipe = { ...made([0, 'status']) };
    expect(statusText({ ...recipe, status: { ...recipe.status!, ...(read as Pick<NonNullable<LineRecipe['status']>, 'words'>) } })).toBe(
      'WARM = warming up\nM = measuring',
    );
    expect(statusText(blankRecipe('Own'))).toBe('');
    for (const wrong of ['WARM', '= hold', 'WARM = blank', `${'x'.repeat(41)} = hold`]) expect(parseStatus(wrong)).toEqual({ wrong });
  });
});

describe('the pieces of a line, with an example of each', () => {
  const pieces = (recipe: LineRecipe, ...lines: string[]) => placesOf(recipe, lines).map(({ label, example }) => [label, example]);
  it('columns are counted from one, by the line that has the most digits, the newest of them', () => {
    expect(pieces(blankRecipe('Own'), 'O2,CO,T', '5.1,20,200', '5.2,21,201', 'ready,,')).toEqual([
      ['1', '5.2'],
      ['2', '21'],
      ['3', '201'],
    ]);
  });
  it('keys, paths and groups are called as the instrument calls them', () => {
    expect(pieces(withShape(blankRecipe('Own'), 'keyed'), 'O2=5.1 CO=20', 'O2=5.2')).toEqual([
      ['O2', '5.2'],
      ['CO', '20'],
    ]);
    expect(pieces(withShape(blankRecipe('Own'), 'json'), 'x {"gas":{"o2":5.1,"co":[20,21]}}')).toEqual([
      ['gas.o2', '5.1'],
      ['gas.co.0', '20'],
      ['gas.co.1', '21'],
    ]);
    expect(pieces(withShape(blankRecipe('Own'), 'json'), '{"o2":5.', 'no')).toEqual([]);
    expect(pieces(withShape(blankRecipe('Own'), 'pattern'), '5.1')).toEqual([['o2', '']]);
  });
  it('tagged lines give a piece for each place after each tag that is gathered', () => {
    expect(pieces(withShape(blankRecipe('Own'), 'tagged'), 'A 5.1 %', 'Z 7', 'B 20')).toEqual([
      ['A.1', '5.1'],
      ['A.2', '%'],
      ['B.1', '20'],
    ]);
  });
  it('registers are words of four hexadecimal digits after the bytes that are left out; the check byte is none', () => {
    // 0x0033 is 51, 0x0014 is 20
    expect(pieces(withShape(blankRecipe('Own'), 'registers'), ':010304003300149F')).toEqual([
      ['1', '51'],
      ['2', '20'],
    ]);
  });
  it('a piece that the recipe uses and the lines do not have is there all the same, in its place', () => {
    expect(pieces(made([4, 'o2'], [3, 'time']), '1,2')).toEqual([
      ['1', '1'],
      ['2', '2'],
      ['4', ''],
      ['5', ''],
    ]);
    const fixed = withRole(withShape(blankRecipe('Own'), 'fixed'), { start: 2, end: 5 }, 'o2');
    expect(pieces(fixed, 'ab5.1cd')).toEqual([['3 to 5', '5.1']]);
    expect(placeLabel('O2')).toBe('O2');
  });
});
