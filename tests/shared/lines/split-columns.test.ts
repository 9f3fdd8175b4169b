/** A line into its columns, by each delimiter: texts without blanks around them, and where each begins. */
import { describe, expect, it } from 'vitest';
import { splitColumns } from '../../../shared/lines/reading/split-columns.ts';

const texts = (line: string, delimiter: string, quoted = false): readonly string[] => splitColumns(line, delimiter, quoted).texts;

describe('columns of a line', () => {
  it.each([
    [',', '4.1, 23,,210', ['4.1', '23', '', '210']],
    [';', ' 4,1 ;23; 210 ', ['4,1', '23', '210']],
    ['\t', '4.1\t23\t\t210', ['4.1', '23', '', '210']],
    [' | ', '4.1 | 23 | 210', ['4.1', '23', '210']],
    ['blanks', '  4.1   23\t210 ', ['4.1', '23', '210']],
    ['comma-or-semicolon', '4.1, 23;210,,x', ['4.1', '23', '210', '', 'x']],
    ['comma-or-semicolon', '4.1', ['4.1']],
    [',', '', ['']],
    ['blanks', '   ', []],
    // a blank that does not break stands around figures on some displays
    [',', '\u00a04.1\u00a0,\t23', ['4.1', '23']],
  ])('by %j of %j', (delimiter, line, expected) => {
    expect(texts(line, delimiter)).toEqual(expected);
  });
  it.each([',', ';', '\t', ' | ', 'blanks', 'comma-or-semicolon'])('by %j: each begins where it is found in the line', (delimiter) => {
    const joint = delimiter === 'blanks' ? '  ' : delimiter === 'comma-or-semicolon' ? ';' : delimiter;
    const line = ['4.1', ' 23 ', '210'].join(joint);
    const { texts: found, starts } = splitColumns(line, delimiter);
    expect(found).toEqual(['4.1', '23', '210']);
    expect(starts.map((from, at) => line.slice(from, from + found[at]!.length))).toEqual(found);
  });
});

// RFC 4180, 2.5 to 2.7: fields in quotes may hold the delimiter; a quote inside is doubled
describe('quoted columns', () => {
  it.each([
    ['"4,1",23,"a ""b"" c",5', ['4,1', '23', 'a "b" c', '5']],
    ['4.1,"23"', ['4.1', '23']],
    ['"","x"', ['', 'x']],
    ['" 4.1 ",23', ['4.1', '23']],
    [' "4.1" , 23', ['4.1', '23']],
    ['"never closed,23', ['never closed,23']],
    ['"4.1",', ['4.1', '']],
  ])('of %j', (line, expected) => {
    expect(texts(line, ',', true)).toEqual(expected);
  });
  it('begin behind their quote', () => {
    expect(splitColumns('"4,1","23",5', ',', true).starts).toEqual([1, 7, 11]);
  });
  it('are text like any other where the recipe knows no quotes', () => {
    expect(texts('"4,1",23', ',')).toEqual(['"4', '1"', '23']);
    expect(texts('4.1,23', ',', true)).toEqual(['4.1', '23']);
  });
});
