import { describe, expect, it } from 'vitest';
import { areMixed, isHexadecimal, swappedChannels, type Used } from '../../../../shared/lines/learning/judging/contradictions.ts';
import type { ChannelId } from '../../../../shared/measurement/channel.ts';
import type { SentUnit } from '../../../../shared/measurement/sent-unit.ts';
import { columnOf } from './column-of.ts';

const used = (channel: ChannelId, cells: readonly (number | string)[], unit: SentUnit, at = 0): Used => ({
  channel,
  column: columnOf(channel, cells, { unit, at, decimals: 2 }),
  unit,
  scale: 1,
});
const times = <T>(count: number, value: T): T[] => Array.from({ length: count }, () => value);

describe('stack and air temperature that stand over each other', () => {
  const swapped = (stack: readonly (number | string)[], air: readonly (number | string)[], unit: SentUnit = 'C'): boolean =>
    swappedChannels([used('stackTemperature', stack, unit), used('airTemperature', air, unit)]).length > 0;
  it.each([
    ['the room 26 K hotter than the stack in all rows', times(5, 20), times(5, 46), true],
    ['a cold chimney, 24 K cooler than the room', times(5, 0), times(5, 24), false],
    ['in two rows of five', [20, 20, 60, 60, 60], times(5, 46), true],
    ['in one row of five', [20, 60, 60, 60, 60], times(5, 46), false],
    ['in three rows', times(3, 20), times(3, 46), false],
    ['in four rows', times(4, 20), times(4, 46), true],
    ['as they should be', times(5, 220), times(5, 20), false],
  ])('%s', (_, stack, air, is) => expect(swapped(stack, air)).toBe(is));
  it('counts kelvin, whatever the unit: 36 F is 20 K', () => {
    expect(swapped(times(5, 68), times(5, 104), 'F')).toBe(false);
    expect(swapped(times(5, 68), times(5, 115), 'F')).toBe(true);
  });
  it('is said by the names of the two', () =>
    expect(swappedChannels([used('stackTemperature', times(5, 20), 'C'), used('airTemperature', times(5, 200), 'C')])).toEqual([
      ['stackTemperature', 'airTemperature'],
    ]));
});

describe('O2 and CO2 that stand over each other', () => {
  const swapped = (o2: readonly number[], co2: readonly number[]): boolean =>
    swappedChannels([used('o2', o2, '%'), used('co2', co2, '%')]).length > 0;
  // of a fuel with CO2max 15.4: CO2 = 15.4 (1 - O2 / 20.946)
  const o2 = [2, 3, 4, 5, 6, 7, 8, 9];
  const co2 = [13.93, 12.79, 12.06, 11.72, 10.59, 10.25, 9.52, 8.78].map((_, at) => 15.4 * (1 - o2[at]! / 20.946));
  it('by the one CO2max that they give the other way round only', () => {
    expect(swapped(co2, o2)).toBe(true);
    expect(swapped(o2, co2)).toBe(false);
  });
  it('not by seven rows, not by values that move less than 1 %', () => {
    expect(swapped(co2.slice(0, 7), o2.slice(0, 7))).toBe(false);
    const near = o2.map((_, at) => 4 + at * 0.1);
    expect(
      swapped(
        near.map((x) => 15.4 * (1 - x / 20.946)),
        near,
      ),
    ).toBe(false);
  });
  it.each([
    [10, false],
    [11, true],
    [20.5, true],
    [21.5, false],
  ])('a CO2max of %s the other way round: %s', (co2Max, is) =>
    expect(
      swapped(
        o2.map((x) => co2Max * (1 - x / 20.946)),
        o2,
      ),
    ).toBe(is),
  );
  it.each([
    ['air in four rows: 0 % and 20.9 %', [0, 0, 0, 0], [20.9, 20.9, 20.9, 20.9], true],
    ['in three', [0, 0, 0], [20.9, 20.9, 20.9], false],
    ['20.2 % is no air', [0, 0, 0, 0], [20.2, 20.2, 20.2, 20.2], false],
    ['nor 21.6 %', [0, 0, 0, 0], [21.6, 21.6, 21.6, 21.6], false],
    ['nor with 0.6 % beside it', [0.6, 0.6, 0.6, 0.6], [20.9, 20.9, 20.9, 20.9], false],
    ['with 0.5 % it is', [0.5, 0.5, 0.5, 0.5], [20.9, 20.9, 20.9, 20.9], true],
    ['air as it should be', [20.9, 20.9, 20.9, 20.9], [0, 0, 0, 0], false],
    ['four rows of sixty', [...times(4, 0), ...times(56, 5)], [...times(4, 20.9), ...times(56, 11)], false],
  ])('%s', (_, x, y, is) => expect(swapped(x, y)).toBe(is));
});

describe('lines of two instruments', () => {
  const turns = (period: readonly number[], count: number): number[] =>
    Array.from({ length: count }, (_, at) => period[at % period.length]!);
  const mixed = (channel: ChannelId, values: readonly number[], unit: SentUnit): boolean => {
    const one = used(channel, values, unit);
    return areMixed([one], [one.column]);
  };
  it.each([
    ['O2 by turns, 0.6 % apart', 'o2', turns([4, 4.6], 12), '%', true],
    ['O2 by turns, 0.4 % apart', 'o2', turns([4, 4.4], 12), '%', false],
    ['in eleven lines', 'o2', turns([4, 4.6], 11), '%', false],
    ['every third line', 'o2', turns([4, 5, 6], 12), '%', true],
    ['every fourth line', 'o2', turns([4, 5, 6, 7], 16), '%', true],
    ['every fifth line', 'o2', turns([4, 6, 8, 10, 12], 20), '%', false],
    ['CO by turns, 16 ppm apart', 'co', turns([40, 56], 12), 'ppm', true],
    ['CO by turns, 14 ppm apart', 'co', turns([40, 54], 12), 'ppm', false],
    ['stack by turns, 9 K apart', 'stackTemperature', turns([200, 209], 12), 'C', true],
    ['stack by turns, 7 K apart', 'stackTemperature', turns([200, 207], 12), 'C', false],
    ['draft by turns', 'draft', turns([-5, -25], 12), 'Pa', false],
    ['one ramp', 'o2', Array.from({ length: 12 }, (_, at) => 2 + at), '%', false],
  ] as const)('%s', (_, channel, values, unit, is) => expect(mixed(channel, values, unit)).toBe(is));

  const withTag = (tags: readonly string[], values: readonly number[] = tags.map(() => 4)): boolean => {
    const one = used('o2', values, '%', 1);
    return areMixed([one], [columnOf('', tags, { at: 0 }), one.column]);
  };
  it.each([
    ['a word in front that changes in most lines', ['A', 'B', 'A', 'B', 'A'], true],
    ['three lines', ['A', 'B', 'A'], false],
    ['the same word', ['A', 'A', 'A', 'A'], false],
    ['a word that changes once', ['A', 'A', 'A', 'B', 'B'], false],
    ['another word in each of nine lines', [...'ABCDEFGHI'], false],
    ['numbers', ['1', '2', '1', '2'], false],
  ])('%s', (_, tags, is) => expect(withTag(tags)).toBe(is));
  it('a word that changes seldom, and O2 leaps with it: rows of another kind', () => {
    const tags = ['Row', 'Row', 'Row', 'Row', 'Limit', 'Row', 'Row', 'Row'];
    expect(withTag(tags, [4, 4, 4, 4, 9, 4, 4, 4])).toBe(true);
    expect(withTag(tags, [4, 4, 4, 4, 4.4, 4, 4, 4])).toBe(false);
    expect(
      withTag(
        tags.map((tag) => (tag === 'Row' ? 'OK' : 'PURGE')),
        [4, 4, 4, 4, 20.9, 4, 4, 4],
      ),
    ).toBe(false);
  });
  it('a word behind the values says nothing', () => {
    const one = used('o2', [4, 4, 4, 4, 4], '%', 0);
    expect(areMixed([one], [one.column, columnOf('', ['A', 'B', 'A', 'B', 'A'], { at: 1 })])).toBe(false);
  });
});

it.each([
  [['01c4', '01f0', '0200', '0210'], true],
  [['0x1c', '0x20', '0x21', '0x22'], true],
  [['01c4', '01f0', '0200'], false],
  [['01c4', '1f0', '0200', '0210'], false],
  [['0194', '0190', '0200', '0210'], false],
  [['01g4', '01f0', '0200', '0210'], false],
  // one of seven has a letter, one of six
  [['01c4', '0111', '0112', '0113', '0114', '0115', '0116'], false],
])('base sixteen: %j is %s', (cells, is) => expect(isHexadecimal(columnOf('', cells))).toBe(is));
