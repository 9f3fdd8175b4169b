import { describe, expect, it } from 'vitest';
import { drySide, withNumbering, withOpenShortNames } from '../../../../shared/lines/learning/judging/unclear-names.ts';
import { columnOf } from './column-of.ts';

const values = [1.5, 2.5, 3.5, 4.5];
const named = (...names: readonly string[]) => names.map((name, at) => columnOf(name, values, { at }));
/** names that are taken for empty only here */
const openIn = (...names: readonly string[]): string[] => {
  const columns = named(...names);
  return withOpenShortNames(columns).flatMap((column, at) =>
    column === columns[at] ? [] : [column.meaning.isEmpty === true ? column.name : '?'],
  );
};

describe('a short name that nobody knows', () => {
  it('is left to its values, beside O2 and CO with their names', () =>
    expect(openIn('O2 %', 'CO ppm', 'Qz', 'QzWv')).toEqual(['Qz', 'QzWv']));
  it('is not where O2 or CO has no name', () => {
    expect(openIn('O2 %', 'Qz')).toEqual([]);
    expect(openIn('CO ppm', 'Qz')).toEqual([]);
  });
  it('is one of four letters at most', () => expect(openIn('O2 %', 'CO ppm', 'QzWvk')).toEqual([]));
  it('is none that is known, or that has a unit no channel has', () => expect(openIn('O2 %', 'CO ppm', 'NO', 'Q kg', 'Qz V')).toEqual([]));
  it('is not in a table of more than ten columns', () => {
    const more = (count: number) => Array.from({ length: count }, (_, at) => `Qz${at}`);
    expect(openIn('O2 %', 'CO ppm', ...more(8))).toHaveLength(8);
    expect(openIn('O2 %', 'CO ppm', ...more(9))).toEqual([]);
  });
});

describe("'No' over numbers", () => {
  const rolesOf = (cells: readonly number[], name = 'No', decimals = 0) =>
    withNumbering([columnOf(name, cells, { decimals })])[0]!.meaning.roles;
  it('that count is the number of the record', () => {
    expect(rolesOf([7, 8, 9, 10, 11])).toEqual({ counter: 3 });
    expect(rolesOf([10, 20, 30, 40])).toEqual({ counter: 3 });
    // a line lost on the way, one of five
    expect(rolesOf([1, 2, 3, 4, 6, 7])).toEqual({ counter: 3 });
  });
  it.each([
    ['that go up and down', [50, 52, 51, 53, 50], 0],
    ['that go down', [50, 49, 48, 47], 0],
    ['that stay', [50, 50, 50, 50], 0],
    ['with decimals', [1.0, 2.0, 3.0, 4.0], 1],
    ['that are three', [1, 2, 3], 0],
    ['with two of six steps longer', [1, 2, 4, 5, 6, 8, 9], 0],
  ])('%s is not', (_, cells, decimals) => expect(rolesOf(cells, 'No', decimals).no).toBeDefined());
  it('with a unit of a gas is not', () => expect(rolesOf([7, 8, 9, 10, 11], 'NO ppm').no).toBeDefined());
});

describe('of one gas said more than once', () => {
  it.each([
    ['the dry one counts', ['O2 wet', 'O2 dry', 'O2'], [1]],
    ['where none is said to be dry, the one that is not wet', ['O2 wet', 'O2'], [1]],
    ['a wet one alone is all there is', ['O2 wet'], [0]],
    ['two that say nothing stay two', ['O2', 'O2'], [0, 1]],
  ])('%s', (_, names, left) =>
    expect(
      drySide(
        named(...names),
        names.map((__, at) => at),
      ),
    ).toEqual(left),
  );
});
