/** A person's answers about columns: each changes its own column, and what another one was taken for stays. */
import { describe, expect, it } from 'vitest';
import type { LineRecipe } from '../../../shared/measurement/recipe.ts';
import { checkRecipe } from '../../../shared/measurement/check-recipe.ts';
import { columnsOfRecipe, withAnswers } from '../../../shared/pipeline/propose.ts';
import { commaRecipe } from '../../helpers/comma-recipe.ts';

const plain = commaRecipe('as learned', ['o2', 'co', 'stackTemperature']);
const [o2, co, stack] = plain.fields as [LineRecipe['fields'][0], LineRecipe['fields'][0], LineRecipe['fields'][0]];
const recipe: LineRecipe = {
  ...plain,
  // a column with a factor of its own
  fields: [o2, { ...co, name: 'Kohlenmonoxid', scale: 10, offset: 2 }, stack],
  sentinels: [
    { value: 9999, means: 'over-range', channel: 'co' },
    { value: -40, means: 'under-range', channel: 'stackTemperature' },
    { value: 65_535, means: 'error' },
  ],
};
const channelsOf = (made: LineRecipe | undefined): unknown =>
  made?.fields.map(({ channel, at, unit }) => `${channel} ${at as number} ${unit}`).sort();

describe('an answer about a column', () => {
  it('that says what it was taken for already changes nothing, its factor neither', () => {
    const made = withAnswers(recipe, [{ at: 1, channel: 'co' }]);
    expect([...(made?.fields ?? [])].sort((a, b) => (a.at as number) - (b.at as number))).toEqual(recipe.fields);
    expect(withAnswers(recipe, [{ at: 1, channel: 'co', unit: 'ppm' }])?.fields).toEqual(made?.fields);
    expect(made?.sentinels).toEqual(recipe.sentinels);
  });

  it('with another unit, or for another channel, forgets the factor that belonged to what it was, and keeps the name', () => {
    expect(withAnswers(recipe, [{ at: 1, channel: 'co', unit: '%' }])?.fields).toContainEqual({
      ...co,
      name: 'Kohlenmonoxid',
      unit: '%',
      scale: 1,
      offset: 0,
    });
    expect(withAnswers(recipe, [{ at: 1, channel: 'no' }])?.fields).toContainEqual({
      ...co,
      channel: 'no',
      name: 'Kohlenmonoxid',
      scale: 1,
      offset: 0,
    });
  });

  it('takes a unit that the channel can have: the one that was said, else the one before, else the usual', () => {
    const unitAfter = (answer: Parameters<typeof withAnswers>[1][0]): string | undefined =>
      withAnswers(recipe, [answer])?.fields.find(({ at }) => at === answer.at)?.unit;
    expect(unitAfter({ at: 2, channel: 'airTemperature', unit: 'F' })).toBe('F');
    expect(unitAfter({ at: 2, channel: 'airTemperature' })).toBe('C');
    expect(unitAfter({ at: 2, channel: 'draft' })).toBe('Pa');
    expect(unitAfter({ at: 2, channel: 'draft', unit: 'C' })).toBe('Pa');
  });

  it('gives a channel one column: the one that was answered last', () => {
    expect(channelsOf(withAnswers(recipe, [{ at: 2, channel: 'o2' }]))).toEqual(['co 1 ppm', 'o2 2 %']);
    expect(
      channelsOf(
        withAnswers(recipe, [
          { at: 5, channel: 'airTemperature' },
          { at: 6, channel: 'airTemperature', unit: 'F' },
        ]),
      ),
    ).toEqual(['airTemperature 6 F', 'co 1 ppm', 'o2 0 %', 'stackTemperature 2 C']);
  });

  it('takes a column out, with the numbers that meant no value there; those of every column stay', () => {
    const made = withAnswers(recipe, [{ at: 1, channel: 'none' }]);
    expect(channelsOf(made)).toEqual(['o2 0 %', 'stackTemperature 2 C']);
    expect(made?.sentinels).toEqual([recipe.sentinels[1], recipe.sentinels[2]]);
    expect(
      withAnswers(
        recipe,
        [0, 1, 2].map((at) => ({ at, channel: 'none' as const })),
      ),
    ).toBeUndefined();
  });

  it('leaves a recipe that can be used, and the one before as it was', () => {
    const before = JSON.stringify(recipe);
    for (const channel of ['o2', 'draft', 'aux1', 'ambientCo', 'none'] as const) {
      const made = withAnswers(recipe, [{ at: 2, channel }]);
      expect(checkRecipe(made).ok, channel).toBe(true);
    }
    expect(JSON.stringify(recipe)).toBe(before);
  });
});

it('the columns of a recipe that a person chose say what they are taken for, and are sure', () => {
  expect(columnsOfRecipe(recipe).map(({ at, name, taken, unit, sureness }) => [at, name, taken, unit, sureness])).toEqual([
    [0, '', 'o2', '%', 'sure'],
    [1, 'Kohlenmonoxid', 'co', 'ppm', 'sure'],
    [2, '', 'stackTemperature', 'C', 'sure'],
  ]);
});

describe('a recipe that cannot be right is refused', () => {
  const flawed: [string, object][] = [
    ['two columns for one channel', { fields: [o2, { ...o2, at: 5 }] }],
    ['a place that its shape has not', { fields: [{ ...o2, at: 'oxygen' }] }],
    ['a unit that its channel has not', { fields: [{ ...o2, unit: 'C' }] }],
    ['a range that holds nothing', { fields: [{ ...o2, valid: [5, 5] }] }],
    ['a range upside down', { fields: [{ ...o2, valid: [5, 1] }] }],
    ['no channel at all', { fields: [] }],
    ['a place of time that its shape has not', { time: { kind: 'field', at: 'clock', format: 'seconds' } }],
  ];
  it.each(flawed)('%s', (_, more) =>
    expect(checkRecipe({ ...plain, ...more })).toMatchObject({ ok: false, error: { code: 'recipe-invalid' } }),
  );
  it('and one with a range that holds something is taken', () =>
    expect(checkRecipe({ ...plain, fields: [{ ...o2, valid: [0, 21] }] }).ok).toBe(true));
  it.each([
    [{ start: 0, end: 4 }, true],
    [{ start: 4, end: 4 }, false],
    [{ start: 5, end: 4 }, false],
    [{ start: 6, end: 10 }, true],
    [{ start: 6, end: 11 }, false],
  ])('in lines of ten signs, a column at %j: %s', (at, isTaken) => {
    expect(checkRecipe({ ...plain, shape: { kind: 'fixed', length: 10 }, fields: [{ ...o2, at }] }).ok).toBe(isTaken);
  });
});
