import { describe, expect, it } from 'vitest';
import { rejectionTexts } from '../../../shared/words/core/lines.ts';
import { make, four, readAll, values, commas, good } from './line-recipes.ts';

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
  it.each([
    ['JSON', { kind: 'json' }, '{"other":1}'],
    ['keys', { kind: 'keyed', separator: '=', between: 'blank' }, 'XX=1 YY=2'],
  ] as const)('a line of %s with none of the keys is told apart', (_, shape, line) => {
    const [read] = readAll(make({ shape, fields: four(['O2', 'CO', 'TS']) }), [line]);
    expect(read).toMatchObject({ kind: 'rejected', reason: 'no-channel', detail: rejectionTexts.noKey });
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
