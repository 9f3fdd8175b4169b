import { describe, expect, it } from 'vitest';
import { contradicts, exclusion, isSwapped } from '../../../../shared/lines/learning/judging/exclusion.ts';
import type { JudgedRole } from '../../../../shared/lines/learning/judging/judged-role.ts';
import type { Column } from '../../../../shared/lines/learning/tables/table.ts';
import type { SentUnit } from '../../../../shared/measurement/sent-unit.ts';
import { columnOf } from './column-of.ts';

/** five lines around a value, with the median on it */
const around = (value: number): number[] => [value, value * 0.99, value, value * 1.01, value];
const whyNot = (column: Column, role: JudgedRole, isClock = false) => exclusion(column, isClock, role)?.key;

describe('what speaks against a column being a channel', () => {
  it.each([
    ['nothing', columnOf('O2 %', around(4)), 'o2', undefined],
    ['a unit of another quantity', columnOf('O2', around(4), { unit: 'C' }), 'o2', 'foreign-unit'],
    ['a unit that no channel has', columnOf('O2 kg/s', around(4)), 'o2', 'foreign-unit'],
    ['a name that says it is another', columnOf('CO2 %', around(4)), 'o2', 'other-name'],
    ['a name that nobody knows', columnOf('flux capacity', around(4)), 'o2', 'unknown-name'],
    ['words', columnOf('O2', ['lean', 'rich', 'lean', 'rich']), 'o2', 'text'],
    ['nothing sent', columnOf('O2', ['', ' ', '', '']), 'o2', 'empty'],
    ['base sixteen', columnOf('O2', ['01c4', '01f0', '0200', '0210']), 'o2', 'hexadecimal'],
    ['one value in four lines without a name', columnOf('', [4, 4, 4, 4]), 'o2', 'constant'],
    ['one value in three lines', columnOf('', [4, 4, 4]), 'o2', undefined],
    ['one value, though with its name', columnOf('O2', [4, 4, 4, 4]), 'o2', undefined],
  ] as [string, Column, JudgedRole, string | undefined][])('%s', (_, column, role, why) => expect(whyNot(column, role)).toBe(why));
  it('the clock is no channel', () => expect(whyNot(columnOf('O2 %', around(4)), 'o2', true)).toBe('clock'));
  it('a key that came twice with two values is none', () =>
    expect(whyNot({ ...columnOf('O2 %', around(4)), isTwofold: true }, 'o2')).toBe('two-values'));
  it.each([
    // the middle of what was read, in the unit of the column, and whether a channel can show it
    ['o2', 'O2', '%', 25, true],
    ['o2', 'O2', '%', 26, false],
    ['o2', 'O2', '%', -1.4, true],
    ['o2', 'O2', '%', -1.6, false],
    ['o2', 'O2', 'ppm', 250_000, true],
    ['o2', 'O2', 'ppm', 260_000, false],
    ['co', 'CO', 'ppm', 199_000, true],
    ['co', 'CO', 'ppm', 201_000, false],
    ['co', 'CO', undefined, 59_000, true],
    ['co', 'CO', undefined, 61_000, false],
    ['co2', 'CO2', '%', 39, true],
    ['co2', 'CO2', '%', 41, false],
    ['stack', 'T stack', 'C', 1390, true],
    ['stack', 'T stack', 'C', 1410, false],
    ['stack', 'T stack', 'F', 2540, true],
    ['stack', 'T stack', 'F', 2570, false],
    ['stack', 'T stack', undefined, 2590, true],
    ['stack', 'T stack', undefined, 2610, false],
    ['stack', 'T stack', undefined, -46, false],
    ['air', 'T air', 'C', 74, true],
    ['air', 'T air', 'C', 76, false],
  ] as [JudgedRole, string, SentUnit | undefined, number, boolean][])('%s, %s in %s: %s is possible: %s', (role, name, unit, value, is) =>
    expect(whyNot(columnOf(name, around(value), { unit, decimals: 2 }), role)).toBe(is ? undefined : 'impossible'),
  );
});

it.each([
  ['o2', 'O2', '%', 4, undefined],
  ['o2', 'O2', '%', 22.5, 'values-contradict'],
  ['o2', 'O2', '%', -0.9, undefined],
  ['o2', 'O2', '%', -1.1, 'values-contradict'],
  // 400 ppm O2: per cent was meant, or it is CO
  ['o2', 'O2', 'ppm', 400, 'values-contradict'],
  ['o2', 'O2', 'ppm', 40_000, undefined],
  ['co', 'CO', 'ppm', 19_000, undefined],
  ['co', 'CO', 'ppm', 21_000, 'values-contradict'],
  ['co', 'CO', '%', 1.9, undefined],
  ['co', 'CO', '%', 2.1, 'values-contradict'],
  ['co', 'CO', 'ppm', -140, undefined],
  ['co', 'CO', 'ppm', -160, 'values-contradict'],
  ['co2', 'CO2', '%', 19, undefined],
  ['co2', 'CO2', '%', 20.5, 'values-contradict'],
  ['stack', 'T stack', 'C', 1190, undefined],
  ['stack', 'T stack', 'C', 1210, 'values-contradict'],
  ['air', 'T air', 'C', 59, undefined],
  ['air', 'T air', 'C', 61, 'values-contradict'],
  ['air', 'T air', 'F', 120, undefined],
  ['air', 'T air', 'F', 145, 'values-contradict'],
  ['o2', 'O2', 'C', 4, 'unit-contradicts'],
  ['air', 'T air', undefined, 500, undefined],
] as [JudgedRole, string, SentUnit | undefined, number, string | undefined][])(
  '%s, %s in %s around %s against its unit: %s',
  (role, name, unit, value, why) => expect(contradicts(columnOf(name, around(value), { unit, decimals: 3 }), role)).toBe(why),
);

it.each([
  ['O2', 'C', 'o2', true],
  ['T stack', '%', 'stack', true],
  ['T air', 'ppm', 'air', true],
  ['O2', '%', 'o2', false],
  ['O2', 'Pa', 'o2', false],
  ['x', 'C', 'o2', false],
] as [string, SentUnit, JudgedRole, boolean][])('%s in %s, name and unit mixed up: %s %s', (name, unit, role, is) =>
  expect(isSwapped(columnOf(name, around(4), { unit }), role)).toBe(is),
);
