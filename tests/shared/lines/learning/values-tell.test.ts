import { describe, expect, it } from 'vitest';
import { co2Relation, isAirFree, isNet, scaledColumn, shareOf } from '../../../../shared/lines/learning/judging/relations.ts';
import { isEfficiency } from '../../../../shared/lines/learning/judging/stack-loss.ts';
import { columnOf } from './column-of.ts';

const o2Of = (...values: number[]) => columnOf('O2', values, { unit: '%' });

describe('the CO2max that O2 and CO2 of the same rows give', () => {
  // CO2 / (1 - O2/20.946): 12.0 at 3.491 % O2 is 14.4; at half the oxygen of air CO2max is twice the CO2
  const half = 20.946 / 2;
  it('is the median of the rows, with the distance from the low to the high ones', () => {
    const relation = co2Relation(columnOf('O2', [half, half, half], { decimals: 3 }), columnOf('CO2', [7.5, 7.7, 8]));
    expect(relation?.co2Max).toBeCloseTo(15.4, 6);
    expect(relation?.spread).toBeCloseTo(1, 6);
  });
  it('needs three rows with flue gas: near air, and below what a cell shows, a row says nothing', () => {
    expect(co2Relation(o2Of(5, 6), columnOf('CO2', [11, 10]))).toBeUndefined();
    expect(co2Relation(o2Of(5, 6, 17), columnOf('CO2', [11, 10, 2.8]))).toBeUndefined();
    expect(co2Relation(o2Of(5, 6, -0.5), columnOf('CO2', [11, 10, 15]))).toBeUndefined();
    expect(co2Relation(o2Of(5, 6, 16.9), columnOf('CO2', [11, 10, 2.9]))).toBeDefined();
    expect(co2Relation(o2Of(5, 6, -0.4), columnOf('CO2', [11, 10, 15]))).toBeDefined();
  });
  it('tells the middle of eleven rows, and the distance from the second to the tenth', () => {
    const co2 = [1, 7, 7.1, 7.2, 7.3, 7.4, 7.5, 7.6, 7.7, 8, 10];
    const relation = co2Relation(
      columnOf(
        'O2',
        co2.map(() => half),
        { decimals: 3 },
      ),
      columnOf('CO2', co2),
    );
    expect(relation?.co2Max).toBeCloseTo(14.8, 6);
    expect(relation?.spread).toBeCloseTo(2, 6);
  });
  it('leaves out rows where one of the two has no value', () => {
    expect(co2Relation(columnOf('O2', ['5.0', '---', '6.0']), columnOf('CO2', [11, 10, 10]))).toBeUndefined();
  });
});

it('a share is that of the rows with both values, of three at least', () => {
  const [a, b] = [columnOf('a', [1, 2, 3, 4]), columnOf('b', [1, 2, 3, 5])];
  expect(shareOf(a, b, (x, y) => x === y)).toBe(0.75);
  expect(shareOf(columnOf('a', [1, 2, 3]), columnOf('b', [1, 2, 4]), (x, y) => x === y)).toBeCloseTo(2 / 3, 12);
  expect(shareOf(columnOf('a', [1, 2]), columnOf('b', [1, 2]), (x, y) => x === y)).toBe(0);
});

describe('a column of CO as if without the air', () => {
  // CO x 20.946 / (20.946 - O2): x 1.3136 at 5 %, x 1.9136 at 10 %, x 1.1055 at 2 %, x 2.5 at 12.5676 %
  const o2 = o2Of(5, 10, 2, 5);
  const co = columnOf('CO', [100, 50, 200, 200], { decimals: 0 });
  it('is known by its relation to O2 and CO', () =>
    expect(isAirFree(o2, co, columnOf('x', [131, 96, 221, 263], { decimals: 0 }))).toBe(true));
  it('may be 4 % and 1 ppm off, not more', () => {
    expect(isAirFree(o2, co, columnOf('x', [137, 100, 231, 274], { decimals: 0 }))).toBe(true);
    expect(isAirFree(o2, co, columnOf('x', [140, 103, 236, 281], { decimals: 0 }))).toBe(false);
    expect(isAirFree(o2, co, columnOf('x', [123, 89, 208, 248], { decimals: 0 }))).toBe(false);
  });
  it('at 1 000 ppm the 4 % count, at 10 ppm the 1 ppm', () => {
    const [many, few] = [columnOf('CO', [1000, 1000, 1000, 1000]), columnOf('CO', [10, 10, 10, 10])];
    const at5 = o2Of(5, 5, 5, 5);
    const four = (value: number) => columnOf('x', [value, value, value, value]);
    expect([1368, 1372].map((value) => isAirFree(at5, many, four(value)))).toEqual([true, false]);
    expect([14.6, 15.2].map((value) => isAirFree(at5, few, four(value)))).toEqual([true, false]);
    expect([3.9, 2.9].map((value) => isAirFree(at5, columnOf('CO', [3, 3, 3, 3]), four(value)))).toEqual([true, false]);
  });
  it('holds in four rows of five or fewer for another column, and is not asked of a row without one of the three', () => {
    const all = columnOf('CO', [100, 100, 100, 100, 100]);
    const five = o2Of(5, 5, 5, 5, 5);
    expect(isAirFree(five, all, columnOf('x', [131.4, 131.4, 131.4, 131.4, 200]))).toBe(false);
    for (const place of [0, 1, 2]) {
      const cells = [
        [5, 5, 5, 5, 5],
        [100, 100, 100, 100, 100],
        [131.4, 131.4, 131.4, 131.4, 200],
      ].map((row, at) => [...row.slice(0, 4), at === place ? '---' : row[4]!]);
      expect(isAirFree(columnOf('O2', cells[0]!), columnOf('CO', cells[1]!), columnOf('x', cells[2]!))).toBe(true);
    }
  });
  it('needs four rows between 0.5 and 17 % O2, and more than 3 ppm', () => {
    expect(isAirFree(o2Of(5, 10, 2), columnOf('CO', [100, 50, 200]), columnOf('x', [131.4, 95.7, 221.1]))).toBe(false);
    expect(isAirFree(o2Of(5, 10, 2, 17.1), columnOf('CO', [100, 50, 200, 20]), columnOf('x', [131.4, 95.7, 221.1, 108.9]))).toBe(false);
    expect(isAirFree(o2Of(5, 10, 2, 0.4), columnOf('CO', [100, 50, 200, 20]), columnOf('x', [131.4, 95.7, 221.1, 20.4]))).toBe(false);
    expect(isAirFree(o2Of(5, 10, 2, 17), columnOf('CO', [100, 50, 200, 20]), columnOf('x', [131.4, 95.7, 221.1, 106.2]))).toBe(true);
    expect(isAirFree(o2Of(5, 10, 2, 0.5), columnOf('CO', [100, 50, 200, 100]), columnOf('x', [131.4, 95.7, 221.1, 102.4]))).toBe(true);
    expect(isAirFree(o2, columnOf('CO', [2, 1, 2, 2]), columnOf('x', [2.6, 1.9, 2.2, 2.6]))).toBe(false);
  });
});

describe('a column of the net stack temperature', () => {
  const [stack, air] = [columnOf('stack', [200, 210, 220, 230]), columnOf('air', [20, 20.5, 21, 21.5])];
  it('is stack less air, to the tenth that was sent', () => {
    expect(isNet(stack, air, columnOf('x', [180, 189.5, 199, 208.5]))).toBe(true);
    expect(isNet(stack, air, columnOf('x', [180.1, 189.6, 199.1, 208.6]))).toBe(true);
    expect(isNet(stack, air, columnOf('x', [180.3, 189.8, 199.3, 208.8]))).toBe(false);
  });
  it('or to the whole degree', () => {
    expect(isNet(stack, air, columnOf('x', [181, 190, 200, 209], { decimals: 0 }))).toBe(true);
    expect(isNet(stack, air, columnOf('x', [182, 191, 201, 210], { decimals: 0 }))).toBe(false);
  });
});

it('a factor changes the values; what was not there stays away', () => {
  const column = columnOf('x', ['2.0', '---', '3.0']);
  expect(scaledColumn(column, 0.5).values).toEqual([1, undefined, 1.5]);
  expect(scaledColumn(column, 1)).toBe(column);
});

describe('a column of the efficiency', () => {
  // loss of oil, Annex 2 of the 1. BImSchV: net K x (0.68 / (21 - O2) + 0.007)
  // 4 %, 200 K: 9.4; 4 %, 100 K: 4.7; 13 %, 100 K: 9.2; 11 %, 200 K: 15.0
  const o2 = o2Of(4, 4, 13, 11);
  const stack = columnOf('stack', [220, 120, 120, 220]);
  const air = columnOf('air', [20, 20, 20, 20]);
  const inC = { stack, air, unit: 'C' as const };
  const efficiency = (...values: number[]) => columnOf('x', values);
  it('adds up to 100 with the loss', () => expect(isEfficiency(o2, inC, efficiency(90.6, 95.3, 90.8, 85))).toBe(true));
  it('is no other column of about 90', () => expect(isEfficiency(o2, inC, efficiency(90.6, 90.6, 90.6, 90.6))).toBe(false));
  it('is known by temperatures in F too, and not by a unit that is none of a temperature', () => {
    const inF = { stack: columnOf('stack', [428, 248, 248, 428]), air: columnOf('air', [68, 68, 68, 68]), unit: 'F' as const };
    expect(isEfficiency(o2, inF, efficiency(90.6, 95.3, 90.8, 85))).toBe(true);
    expect(isEfficiency(o2, { ...inF, unit: 'C' }, efficiency(90.6, 95.3, 90.8, 85))).toBe(false);
    expect(isEfficiency(o2, { ...inC, unit: 'Pa' }, efficiency(90.6, 95.3, 90.8, 85))).toBe(false);
  });
  it.each([
    ['on the higher heating value of oil, 6 lower', [84.6, 89.3, 84.8, 79], true],
    ['on that of gas, 10 to 12 lower', [78.1, 82.8, 78.3, 72.5], true],
    ['14 lower', [76.6, 81.3, 76.8, 71], false],
    ['1 higher', [91.6, 96.3, 91.8, 86], true],
    ['2 higher', [92.6, 97.3, 92.8, 87], false],
    ['sums that lie 1.4 apart', [90.6, 95.3, 90.8, 86.4], true],
    ['sums that lie 1.7 apart', [90.6, 95.3, 90.8, 86.7], false],
  ])('%s', (_, values, is) => expect(isEfficiency(o2, inC, efficiency(...values))).toBe(is));
  it('has one or two decimals', () => {
    expect(isEfficiency(o2, inC, columnOf('x', [91, 95, 91, 85], { decimals: 0 }))).toBe(false);
    expect(isEfficiency(o2, inC, columnOf('x', [90.6, 95.3, 90.8, 85], { decimals: 2 }))).toBe(true);
    expect(isEfficiency(o2, inC, columnOf('x', [90.6, 95.3, 90.8, 85], { decimals: 3 }))).toBe(false);
  });
  it('is 55 % at least', () => {
    // 10 %: 0.0688 of the net temperature; 600 K: 41.3, 700 K: 48.2
    const at10 = o2Of(10, 10, 10, 10);
    const hot = (c: number) => ({ ...inC, stack: columnOf('stack', [c, c, c, c]) });
    expect(isEfficiency(at10, hot(620), efficiency(58.7, 58.7, 58.7, 58.7))).toBe(true);
    expect(isEfficiency(at10, hot(720), efficiency(51.8, 51.8, 51.8, 51.8))).toBe(false);
  });
  it('is not told by three rows, nor by rows near air or without a flame', () => {
    expect(isEfficiency(o2Of(4, 4, 13), inC, efficiency(90.6, 95.3, 90.8))).toBe(false);
    // 15.1 % is left out, 15 % is not: 100 K x (0.68 / 6 + 0.007) is 12.0
    expect(
      isEfficiency(o2Of(4, 4, 13, 15.1), { ...inC, stack: columnOf('stack', [220, 120, 120, 120]) }, efficiency(90.6, 95.3, 90.8, 87.8)),
    ).toBe(false);
    expect(
      isEfficiency(o2Of(4, 4, 13, 15), { ...inC, stack: columnOf('stack', [220, 120, 120, 120]) }, efficiency(90.6, 95.3, 90.8, 88)),
    ).toBe(true);
    expect(isEfficiency(o2, { ...inC, stack: columnOf('stack', [220, 120, 120, 20]) }, efficiency(90.6, 95.3, 90.8, 99.9))).toBe(false);
  });
});
