/** What is read as a figure and what is not, what else may be between the lines, and the quick way for columns. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createLineReader } from '../../../shared/lines/reading/read-line.ts';
import type { LineRecipe } from '../../../shared/measurement/recipe.ts';
import { make, four, readAll, values, commas, good } from './line-recipes.ts';

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
  it('reads nothing under the header of another table, until its own comes again', () => {
    const header = ['Time', 'O2 %', 'CO ppm', 'Tstack C'];
    const recipe = make({
      shape: { kind: 'columns', delimiter: ',', count: 4, header },
      fields: [
        { channel: 'o2', at: 1, unit: '%', name: 'O2 %' },
        { channel: 'co', at: 2, unit: 'ppm', name: 'CO ppm' },
        { channel: 'stackTemperature', at: 3, unit: 'C', name: 'Tstack C' },
      ],
      time: { kind: 'field', at: 0, name: 'Time', format: 'seconds' },
    });
    const other = 'Time,CO2 %,NO ppm,Tboiler C';
    expect(values(readAll(recipe, ['1,4.1,23,212.4', other, '2,12.1,55,70.5', header.join(','), '3,4.1,23,212.4']))).toEqual([
      good,
      'header',
      'no-channel',
      'header',
      good,
    ]);
    // a message of as many words is no header
    expect(values(readAll(recipe, ['1,4.1,23,212.4', 'zeroing,please,wait,now', '2,4.1,23,212.4']))).toEqual([good, 'header', good]);
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
