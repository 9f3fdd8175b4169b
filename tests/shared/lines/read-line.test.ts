import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createLineReader } from '../../../shared/lines/reading/read-line.ts';
import type { LineRecipe, LineRecipeInput } from '../../../shared/measurement/recipe.ts';
import { checkRecipe } from '../../../shared/measurement/check-recipe.ts';
import type { LineRead } from '../../../shared/lines/reading/line-read.ts';

const make = (rest: Omit<LineRecipeInput, 'format' | 'version' | 'name'>): LineRecipe => {
  const checked = checkRecipe({ format: 'flueside-recipe', version: 1, name: 'test', ...rest });
  if (!checked.ok) throw new Error(checked.error.detail);
  return checked.value;
};
const four = (at: readonly (number | string | { start: number; end: number })[]): LineRecipeInput['fields'] =>
  (['o2', 'co', 'stackTemperature', 'airTemperature'] as const).slice(0, at.length).map((channel, index) => ({
    channel,
    at: at[index] ?? 0,
    unit: channel === 'o2' ? ('%' as const) : channel === 'co' ? ('ppm' as const) : ('C' as const),
  }));
const readAll = (recipe: LineRecipe, lines: readonly string[]): LineRead[] => {
  const reader = createLineReader(recipe);
  // A first line is judged milder; these tests are about the others.
  reader.read({ timeMs: -1000, bytes: '' });
  const reads = lines.map((bytes, at) => reader.read({ timeMs: at * 1000, bytes }));
  const rest = reader.end();
  return rest === undefined ? reads : [...reads, rest];
};
const values = (reads: readonly LineRead[]): unknown[] =>
  reads.map((read) =>
    read.kind === 'sample' ? read.sample.values : read.kind === 'part' ? 'part' : read.kind === 'ignored' ? read.why : read.reason,
  );
const commas = make({ shape: { kind: 'columns', delimiter: ',', count: 3 }, fields: four([0, 1, 2]) });
const good = { o2: 4.1, co: 23, stackTemperature: 212.4 };

describe('reading lines by shape', () => {
  it('columns', () => {
    expect(
      values(readAll(commas, ['4.1,23,212.4', ' 4.1 , 23 ,+212.4 ', '4.1,23', '4.1,23,212.4,9', 'O2,CO,T', '# note', '4.1,23,212.4,'])),
    ).toEqual([good, good, 'too-few-fields', 'too-many-fields', 'header', 'comment', good]);
  });
  it('blanks with padding', () =>
    expect(
      values(
        readAll(make({ shape: { kind: 'columns', delimiter: 'blanks', count: 4 }, fields: four([0, 1, 2]) }), [
          '  4.1   0023  +212.4  -0.05',
        ]),
      ),
    ).toEqual([good]));
  it('quoted columns (RFC 4180)', () =>
    expect(
      values(
        readAll(make({ shape: { kind: 'columns', delimiter: ',', count: 4, quoted: true }, fields: four([1, 2, 3]) }), [
          '"a ""b"", c","4.1",23,"212.4"',
        ]),
      ),
    ).toEqual([good]));
  it('key=value with glued units', () => {
    const recipe = make({
      shape: { kind: 'keyed', separator: '=', between: 'blank' },
      fields: four(['O2', 'CO', 'TS']),
      status: { at: 'ST' },
    });
    expect(
      values(
        readAll(recipe, [
          'O2=4.1% CO=23ppm TS=212.4C ST=OK',
          'TS=212.4C CO=23ppm O2=4.1%',
          'O2= 4.1 % CO= 23 ppm TS= 212.4 C',
          'XX=1 YY=2',
        ]),
      ),
    ).toEqual([good, good, good, 'no-channel']);
  });
  it('a unit in the line wins over the recipe: 414.32 degF is 212.4 degC', () => {
    const recipe = make({ shape: { kind: 'keyed', separator: '=', between: 'blank' }, fields: four(['O2', 'CO', 'TS']) });
    expect(values(readAll(recipe, ['O2=4.1% CO=23ppm TS=414.32F']))).toEqual([good]);
  });
  it('JSON', () => {
    const recipe = make({ shape: { kind: 'json' }, fields: four(['gas.o2', 'gas.co', 't.0']) });
    expect(
      values(
        readAll(recipe, [
          '{"gas":{"o2":"4.1","co":23},"t":[212.4]}',
          '{"gas":{"o2":4.1',
          '{"other":1}',
          '{"gas":{"o2":null,"co":23},"t":[1e3]}',
        ]),
      ),
    ).toEqual([good, 'undecodable', 'no-channel', { co: 23, stackTemperature: 1000 }]);
  });
  it('JSON does not read inherited members', () =>
    expect(values(readAll(make({ shape: { kind: 'json' }, fields: four(['__proto__', 'constructor', 'toString']) }), ['{"a":1}']))).toEqual(
      ['no-channel'],
    ));
  it('one value per line, joined half way, with a hole', () => {
    const recipe = make({
      shape: { kind: 'tagged', delimiter: 'blanks', gather: { order: ['A', 'B', 'C'] } },
      fields: four(['A.1', 'B.1', 'C.1']),
    });
    const reads = readAll(recipe, ['C 212.4', 'A 4.1', 'B 23', 'C 212.4', 'A 4.2', 'C 212.5', 'A 4.3', 'B 24']);
    expect(values(reads)).toEqual([
      'part',
      'part',
      'part',
      good,
      'part',
      { o2: 4.2, stackTemperature: 212.5 },
      'part',
      'part',
      { o2: 4.3, co: 24 },
    ]);
    expect(reads[3]).toMatchObject({ sample: { timeMs: 1000 } });
  });
  it('does not take the mean at the end of a log for a reading', () => {
    const recipe = make({
      shape: { kind: 'columns', delimiter: ';', count: 4 },
      time: { kind: 'field', at: 0, format: 'clock' },
      fields: [
        { channel: 'o2', at: 1, unit: '%' },
        { channel: 'co', at: 2, unit: 'ppm' },
        { channel: 'stackTemperature', at: 3, unit: 'C' },
      ],
    });
    const reads = readAll(recipe, ['12:00:01;4.1;23;212.4', 'Mean;4.3;25;211.0', '--:--:--;4.1;23;212.4']);
    expect(values(reads)).toEqual([good, 'banner', good]);
  });
  it('one value per line without names: nothing is read while lines are missing', () => {
    const recipe = make({
      shape: { kind: 'cycle', lines: [{ form: '9.9' }, { form: '9' }, { form: '9.9' }] },
      fields: [
        { channel: 'o2', at: 0, unit: '%' },
        { channel: 'co', at: 1, unit: 'ppm' },
        { channel: 'stackTemperature', at: 2, unit: 'C' },
      ],
    });
    const reads = values(readAll(recipe, ['4.1', '23', '212.4', '4.1', '212.4', '4.2', '24', '212.5', '4.3', '25', '212.6']));
    expect(reads.filter((read) => typeof read === 'object')).toEqual([good, { o2: 4.3, co: 25, stackTemperature: 212.6 }]);
  });
  it.each([
    ['markup', '<>', '<r><o2 unit="%">4.1</o2><v n="co">23</v><t value="212.4" unit="C"/></r>'],
    ['attributes', '<>', '<r o2="4.1" co=\'23\' t="212.4"/>'],
    ['the value before its name', 'after', '4.1 %o2 23 ppm co 212.4 C t'],
  ])('%s', (_, separator, line) => {
    const recipe = make({ shape: { kind: 'keyed', separator, between: 'blank' }, fields: four(['o2', 'co', 't']) });
    expect(values(readAll(recipe, [line]))).toEqual([good]);
  });
  it('fixed width', () => {
    const recipe = make({
      shape: { kind: 'fixed', length: 13 },
      fields: [
        { channel: 'o2', at: { start: 0, end: 4 }, unit: '%', scale: 0.01 },
        { channel: 'co', at: { start: 4, end: 8 }, unit: 'ppm' },
        { channel: 'stackTemperature', at: { start: 8, end: 13 }, unit: 'C', scale: 0.1 },
      ],
    });
    expect(values(readAll(recipe, ['0410002302124', '041000230212', '04100023021240']))).toEqual([
      good,
      'too-few-fields',
      'too-many-fields',
    ]);
  });
  it('registers in hex pairs, with their LRC', () => {
    // 01 03 06 00 29 00 17 08 4C: 41 tenths, 23, 2124 tenths; sum 9E, two's complement 62 (by hand)
    const recipe = make({
      shape: { kind: 'registers' },
      fields: [
        { channel: 'o2', at: 0, unit: '%', scale: 0.1 },
        { channel: 'co', at: 1, unit: 'ppm' },
        { channel: 'stackTemperature', at: 2, unit: 'C', scale: 0.1 },
      ],
      check: { kind: 'lrc', lead: '', skip: 1, overPairs: true },
    });
    expect(values(readAll(recipe, [':01030600290017084C62', ':01030600290017084C63']))).toEqual([good, 'wrong-check']);
  });
  it('a pattern, and one that a backtracking engine would never finish', () => {
    const recipe = make({
      shape: { kind: 'pattern', pattern: 'O2 is (?P<o2>[0-9.]+), CO (?P<co>\\d+), flue (?P<t>[0-9.]+)' },
      fields: four(['o2', 'co', 't']),
    });
    expect(values(readAll(recipe, ['** O2 is 4.1, CO 23, flue 212.4', 'nothing']))).toEqual([good, 'no-match']);
    const hostile = make({ shape: { kind: 'pattern', pattern: '^(?P<o2>(a+)+)+b$' }, fields: [{ channel: 'o2', at: 'o2', unit: '%' }] });
    expect(values(readAll(hostile, ['a'.repeat(1000)]))).toEqual(['no-match']);
    const broken = make({ shape: { kind: 'pattern', pattern: '(?P<o2>[' }, fields: [{ channel: 'o2', at: 'o2', unit: '%' }] });
    expect(values(readAll(broken, ['4.1']))).toEqual(['no-match']);
  });
});

describe('what is no number', () => {
  it('is absent with its reason, never zero and never the last value', () => {
    const [read] = readAll(commas, ['OL,>2000,']);
    expect(read).toMatchObject({
      kind: 'sample',
      sample: {
        values: {},
        absent: { o2: 'over-range', co: 'over-range', stackTemperature: 'blank' },
        bounds: { co: { kind: 'above', value: 2000 } },
      },
    });
  });
  it('knows the numbers that mean no number (SCPI-99: 9.9E37, 9.91E37)', () => {
    expect(readAll(commas, ['9.9E37,9.91E37,-9.9E37'])[0]).toMatchObject({
      sample: { values: {}, absent: { o2: 'over-range', co: 'not-a-number', stackTemperature: 'under-range' } },
    });
    const own = make({
      shape: { kind: 'columns', delimiter: ',', count: 3 },
      fields: four([0, 1, 2]),
      sentinels: [{ value: 9999, means: 'over-range', channel: 'co' }],
    });
    expect(readAll(own, ['4.1,9999,212.4'])[0]).toMatchObject({
      sample: { values: { o2: 4.1, stackTemperature: 212.4 }, absent: { co: 'over-range' } },
    });
  });
  it('leaves a CO of 9999 alone where no recipe says otherwise, but not an O2 of 9999', () => {
    expect(readAll(commas, ['9999,9999,212.4'])[0]).toMatchObject({ sample: { values: { co: 9999 }, absent: { o2: 'over-range' } } });
  });
  it('rejects a line of noise, and a line in which nothing is readable', () => {
    expect(values(readAll(commas, ['4.1,2\u00003,212.4', '4x,2y,3z']))).toEqual(['unprintable', 'not-a-number']);
  });
  it('keeps to the valid range of the recipe', () => {
    const recipe = make({
      shape: { kind: 'columns', delimiter: ',', count: 1 },
      fields: [{ channel: 'o2', at: 0, unit: '%', valid: [0, 21] }],
    });
    expect(readAll(recipe, ['25.0', '-1'])).toMatchObject([
      { sample: { absent: { o2: 'over-range' } } },
      { sample: { absent: { o2: 'under-range' } } },
    ]);
  });
});

describe('units', () => {
  it.each([
    // ice and boiling point of water; 0 K; definitions
    ['stackTemperature', 'F', '212', 100],
    ['stackTemperature', 'F', '32', 0],
    ['stackTemperature', 'K', '273.15', 0],
    ['o2', 'fraction', '0.041', 4.1],
    ['co', '%', '0.0125', 125],
    // 28.01 g/mol in 22.414 L/mol: 1 ppm CO is 1.25 mg/m3 at 0 degC and 101.325 kPa
    ['co', 'mg/m3', '125', 100],
    ['draft', 'mbar', '-0.05', -5],
    ['draft', 'inH2O', '-0.02', -4.98],
  ] as const)('%s in %s: %s is %d inside', (channel, unit, text, inner) => {
    const recipe = make({ shape: { kind: 'columns', delimiter: ',', count: 1 }, fields: [{ channel, at: 0, unit }] });
    const read = readAll(recipe, [text])[0];
    expect(read?.kind === 'sample' ? read.sample.values[channel] : read).toBeCloseTo(inner, 1);
  });
});

describe('the stream around the values', () => {
  it('follows a row of units that comes again with other units, and back again', () => {
    const lines = ['%,ppm,°C', '4.1,23,212.4', '%,ppm,°F', '4.1,23,414.32', '%,%,mbar', '4.1,0.0023,1.4', '%,ppm,°C', '4.1,23,212.4'];
    const reads = readAll(commas, lines);
    expect(values(reads)).toEqual(['units', good, 'units', good, 'units', { o2: 4.1, co: 23 }, 'units', good]);
    // a unit that a channel cannot have makes no figure of it
    expect(reads[5]?.kind === 'sample' && reads[5].sample.absent).toEqual({ stackTemperature: 'not-a-number' });
    const reader = createLineReader(commas);
    const spans = lines.map((bytes, at) => reader.readWithSpans({ timeMs: at * 1000, bytes }));
    expect(spans[3]?.kind === 'sample' && spans[3].spans?.at(-1)).toEqual({ channel: 'stackTemperature', start: 7, end: 13 });
  });

  it('believes the recipe over the first row of units: a person may have said otherwise', () => {
    expect(values(readAll(commas, ['%,ppm,°F', '4.1,23,212.4', '%,ppm,°F', '4.1,23,212.4']))).toEqual(['units', good, 'units', good]);
  });

  it('follows a header that moves the columns, and refuses a count that no header explains', () => {
    const recipe = make({
      shape: { kind: 'columns', delimiter: ',', count: 3, header: ['O2', 'CO', 'T'] },
      fields: [
        { channel: 'o2', at: 0, unit: '%', name: 'O2' },
        { channel: 'co', at: 1, unit: 'ppm', name: 'CO' },
        { channel: 'stackTemperature', at: 2, unit: 'C', name: 'T' },
      ],
    });
    expect(values(readAll(recipe, ['4.1,23,212.4', '4.1,7,23,212.4', 'O2,NO,CO,T', '4.1,7,23,212.4', '4.1,23,212.4']))).toEqual([
      good,
      'too-many-fields',
      'header',
      good,
      'too-few-fields',
    ]);
  });
  it('strips printer commands and framing bytes, knows prompts and echoes', () => {
    const recipe = make({
      shape: { kind: 'columns', delimiter: ',', count: 3 },
      fields: four([0, 1, 2]),
      ignore: { prompts: ['> '], prefixes: ['READ?'] },
    });
    expect(values(readAll(recipe, ['\u001b@\u001b!\u00014.1,23,212.4', '\u00024.1,23,212.4\u0003', '> 4.1,23,212.4', 'READ?']))).toEqual([
      good,
      good,
      good,
      'echo',
    ]);
  });
  it('decodes the degree sign and the minus sign of every code page', () => {
    const shape = { kind: 'columns', delimiter: ',', count: 1 } as const;
    const fields = [{ channel: 'stackTemperature' as const, at: 0, unit: 'C' as const }];
    const one = (encoding: 'latin1' | 'utf8' | 'cp437', bytes: string): unknown =>
      values(readAll(make({ shape, fields, framing: { encoding } }), [bytes]))[0];
    expect(one('latin1', '212.4\u00b0C')).toEqual({ stackTemperature: 212.4 });
    expect(one('utf8', '212.4\u00c2\u00b0C')).toEqual({ stackTemperature: 212.4 });
    expect(one('cp437', '212.4\u00f8C')).toEqual({ stackTemperature: 212.4 });
    expect(one('utf8', '\u00e2\u0088\u00924.5')).toEqual({ stackTemperature: -4.5 });
  });
  it('maps status words and flags to states, and shows what it does not know', () => {
    const recipe = make({
      shape: { kind: 'columns', delimiter: ',', count: 4 },
      fields: four([0, 1, 2]),
      status: { at: 3, masks: [{ mask: 4, equals: 4, state: 'purge' }] },
    });
    const reads = readAll(recipe, ['4.1,23,212.4,OK', '4.1,23,212.4,ZERO', '4.1,23,212.4,LOBAT', '4.1,23,212.4,0x04']);
    expect(reads.map((read) => (read.kind === 'sample' ? (read.sample.state ?? read.sample.words) : read.kind))).toEqual([
      'measuring',
      'zeroing',
      'LOBAT',
      'purge',
    ]);
  });
  it('does not count a first line that was cut', () => {
    const reader = createLineReader(commas);
    expect(reader.read({ timeMs: 0, bytes: '3,212.4' })).toEqual({ kind: 'ignored', why: 'first-line' });
    expect(createLineReader(commas, { dropFirstLine: true }).read({ timeMs: 0, bytes: '4.1,23,212.4' })).toEqual({
      kind: 'ignored',
      why: 'first-line',
    });
  });
  it('says where each field is in the line', () => {
    const read = createLineReader(commas).readWithSpans({ timeMs: 0, bytes: '\u0002 4.1,  23,4.1' });
    expect(read.kind === 'sample' ? read.spans : read).toEqual([
      { channel: 'o2', start: 2, end: 5 },
      { channel: 'co', start: 8, end: 10 },
      { channel: 'stackTemperature', start: 11, end: 14 },
    ]);
  });
  it('keeps the instrument clock as a difference and leaves the arrival time alone', () => {
    const recipe = make({
      shape: { kind: 'columns', delimiter: ',', count: 4 },
      fields: four([1, 2, 3]),
      time: { kind: 'field', at: 0, format: 'clock' },
    });
    expect(readAll(recipe, ['23:59:59,4.1,23,212.4', '00:00:02,4.1,23,212.4'])).toMatchObject([
      { sample: { timeMs: 0, instrumentMs: 0 } },
      { sample: { timeMs: 1000, instrumentMs: 3000 } },
    ]);
  });
});

describe('the quick way for columns', () => {
  it('gives what the careful way gives', () => {
    const cell = fc.oneof(
      fc.constantFrom(
        '',
        ' ',
        '4.1',
        ' 4.1 ',
        '-0.05',
        '+23',
        '.5',
        '4.',
        '1e3',
        '0x1F',
        'OL',
        '>2000',
        '212.4C',
        '4,1',
        '1,234',
        '--',
        '4 1',
        '12:01:07',
        '\u00e9',
        '\u0000',
        '\t',
        '999999999999999999',
        '9.91E37',
        '-',
      ),
      fc.double({ min: -1e6, max: 1e6, noNaN: true }).map((value) => value.toFixed(2)),
    );
    const build = (delimiter: string, count: number | undefined, isTimed: boolean): [LineRecipe, LineRecipe] => {
      const time = isTimed ? { kind: 'field' as const, at: 0, format: 'seconds' as const } : { kind: 'arrival' as const };
      const rest = { fields: four([1, 3]), time, status: { at: 4 } };
      // A word of its own keeps a recipe off the quick way.
      return [
        make({ shape: { kind: 'columns', delimiter, count }, ...rest }),
        make({ shape: { kind: 'columns', delimiter, count }, ...rest, words: { 'never sent': 'error' } }),
      ];
    };
    fc.assert(
      fc.property(
        fc.array(fc.array(cell, { minLength: 3, maxLength: 8 }), { maxLength: 8 }),
        fc.constantFrom(',', ';', 'blanks', '\t'),
        fc.constantFrom(5, undefined),
        fc.boolean(),
        (rows, delimiter, count, isTimed) => {
          const [quick, careful] = build(delimiter, count, isTimed);
          const lines = rows.map((cells) => cells.join(delimiter === 'blanks' ? '  ' : delimiter));
          expect(readAll(quick, lines)).toEqual(readAll(careful, lines));
        },
      ),
      { numRuns: 500 },
    );
  });
});
