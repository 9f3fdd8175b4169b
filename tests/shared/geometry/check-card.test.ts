/** What a figures card says against itself, one contradiction at a time; and what an impossible length is. */
import { describe, expect, it } from 'vitest';
import { checkCard, checkFigure, limitsOf, readFigure, unlikely, type FiguresCard } from '../../../shared/geometry/figures-card.ts';
import { trainingCards } from '../../../shared/geometry/training-cards.ts';

const plain: FiguresCard = {
  format: 'flueside-figures-card',
  version: 1,
  name: 'Card',
  revision: 1,
  source: { document: 'sheet' },
  lengthUnit: 'mm',
  heads: ['No. 2', 'No. 3'],
  tubeEnds: ['conical'],
  arrangements: ['two'],
  figures: [],
  training: false,
};
type Figure = FiguresCard['figures'][number];
const gap = (holdsFor?: Figure['for']): Figure => ({
  item: 'electrodeGap',
  figure: { nominal: '4', tolerance: '0.5' },
  ...(holdsFor && { for: holdsFor }),
});
const problems = (...figures: Figure[]) => checkCard({ ...plain, figures });
const keys = (...figures: Figure[]): string[] => problems(...figures).map(({ key }) => key);

describe('figures of one part', () => {
  it('may be given for each head, and once for every burner beside them', () => {
    expect(keys(gap({ head: 'No. 2' }), gap({ head: 'No. 3' }), gap())).toEqual([]);
    expect(keys(gap(), { ...gap(), item: 'tipToMetal' })).toEqual([]);
  });
  it('the same one twice is said', () => {
    expect(problems(gap(), gap())).toEqual([{ key: 'figure-twice', item: 'electrodeGap' }]);
    expect(keys(gap({ head: 'No. 2' }), gap({ head: 'No. 2' }))).toEqual(['figure-twice']);
    expect(keys(gap({ arrangement: 'two' }), gap({ arrangement: 'two' }))).toEqual(['figure-twice']);
  });
  it('two that hold for one burner, neither of them closer, leave open which counts', () => {
    const rivals = keys(gap({ head: 'No. 2' }), gap({ tubeEnd: 'conical' }));
    expect(rivals).toEqual(['figure-unclear']);
    // the one that names more is the closer one; two heads cannot be in one burner
    expect(keys(gap({ head: 'No. 2' }), gap({ head: 'No. 2', tubeEnd: 'conical' }))).toEqual([]);
    expect(keys(gap({ head: 'No. 2', tubeEnd: 'conical' }), gap({ head: 'No. 3', arrangement: 'two' }))).toEqual([]);
    expect(keys(gap({ head: 'No. 2', tubeEnd: 'conical' }), gap({ head: 'No. 2', arrangement: 'two' }))).toEqual(['figure-unclear']);
  });
  it('for a head, a tube end or an arrangement that the card does not have are said by name', () => {
    expect(problems(gap({ head: 'No. 9' }))).toEqual([{ key: 'for-unknown', item: 'electrodeGap', what: 'head', value: 'No. 9' }]);
    expect(problems(gap({ tubeEnd: 'straight' }))).toMatchObject([{ key: 'for-unknown', what: 'tubeEnd' }]);
    expect(problems(gap({ arrangement: 'one' }))).toMatchObject([{ key: 'for-unknown', what: 'arrangement' }]);
  });
  it('a start position is a figure or a column of the flow table, not both', () => {
    const head: Figure = { item: 'headSetting', figure: { nominal: '3' } };
    const row = { from: '0.5', to: '0.75' };
    const both = (rows: NonNullable<FiguresCard['byFlow']>['rows']): string[] =>
      checkCard({ ...plain, figures: [head], byFlow: { unit: 'gph', rows } }).map(({ key }) => key);
    expect(both([{ ...row, headSetting: '2' }])).toEqual(['figure-and-flow']);
    expect(both([{ ...row, shutterStart: '2' }])).toEqual([]);
  });
});

describe('the rows of the flow table', () => {
  const flow = (rows: NonNullable<FiguresCard['byFlow']>['rows'], more: object = {}, card: Partial<FiguresCard> = {}) =>
    checkCard({ ...plain, ...card, byFlow: { unit: 'gph', rows, ...more } });
  it('need flows above nothing, from the smaller to the larger', () => {
    expect(flow([{ from: '0', to: '0.5' }])).toEqual([{ key: 'flow-unreadable', row: 0, text: '0' }]);
    expect(flow([{ from: '0.5', to: '?' }])).toEqual([{ key: 'flow-unreadable', row: 0, text: '?' }]);
    expect(flow([{ from: '0.75', to: '0.5' }])).toEqual([{ key: 'flow-swapped', row: 0, from: '0.75', to: '0.5' }]);
    expect(flow([{ from: '0.5', to: '0.5' }])).toEqual([]);
  });
  it('do not meet: a flow has one setting', () => {
    const upper = { from: '0.75', to: '1' };
    expect(flow([{ from: '0.5', to: '0.75' }, upper])).toEqual([{ key: 'flow-overlap', rows: [0, 1], at: '0.75' }]);
    expect(flow([upper, { from: '0.5', to: '0.74' }])).toEqual([]);
    expect(flow([upper, { from: '0.5', to: '0.8' }])).toEqual([{ key: 'flow-overlap', rows: [1, 0], at: '0.75' }]);
  });
  it('hold positions that can be read, also as a tolerance, and no more fine notches than there are', () => {
    const row = { from: '0.5', to: '0.75' };
    expect(flow([{ ...row, bandStart: 'two' }])).toMatchObject([{ key: 'figure-unreadable', item: 'bandStart', text: 'two' }]);
    expect(flow([row], { tolerance: { shutterStart: '-1' } })).toMatchObject([{ key: 'figure-negative', item: 'shutterStart' }]);
    const fine = { adjuster: { steps: 'two', fineNotches: 8 } } as Partial<FiguresCard>;
    expect(flow([{ ...row, headSetting: '9' }], {}, fine)).toEqual([{ key: 'beyond-notches', row: 0, text: '9', notches: 8 }]);
    expect(flow([{ ...row, headSetting: '8' }], {}, fine)).toEqual([]);
    expect(flow([{ ...row, shutterStart: '9' }], {}, fine)).toEqual([]);
  });
});

describe('one figure', () => {
  it.each([
    [{}, ['figure-empty']],
    [{ nominal: 'four' }, ['figure-unreadable']],
    [{ nominal: '-4' }, ['figure-negative']],
    [{ low: '5', high: '4' }, ['limits-swapped']],
    [{ low: '4', high: '4' }, []],
    [{ nominal: '6', low: '4', high: '5' }, ['nominal-outside']],
    [{ nominal: '3', low: '4' }, ['nominal-outside']],
    [{ nominal: '4', low: '4', high: '5' }, []],
    [{ nominal: '5', low: '4', high: '5' }, []],
    [{ tolerance: '0.5' }, ['tolerance-alone']],
    [{ nominal: '4', tolerance: '0.5', low: '3' }, ['tolerance-and-limits']],
    [{ nominal: '4', tolerance: '4' }, []],
    [{ nominal: '4', tolerance: '4.5' }, ['tolerance-too-wide']],
    [{ nominal: '25' }, []],
    [{ nominal: '26' }, ['unit-unlikely']],
    [{ nominal: '0.8', tolerance: '0.1' }, []],
    [{ nominal: '0.15', tolerance: '0.1' }, ['unit-unlikely']],
    [{ nominal: '4', tolerance: '0.04' }, ['unit-unlikely']],
    [{ nominal: '4', tolerance: '0' }, []],
  ] as const)('%j has %j', (figure, expected) => {
    expect(checkFigure('electrodeGap', figure, 'mm').map(({ key }) => key)).toEqual(expected);
  });
  it('names the unit that makes a length impossible: the one that was written, else the one of the card', () => {
    const unitSaid = (text: string, unit: 'mm' | 'inch') => unlikely('electrodeGap', 100, text, unit);
    expect(unitSaid('4', 'inch')).toEqual({ key: 'unit-unlikely', item: 'electrodeGap', text: '4', unit: 'inch' });
    expect(unitSaid('100 mm', 'inch')).toMatchObject({ unit: 'mm' });
    expect(unitSaid('4"', 'mm')).toMatchObject({ unit: 'inch' });
    expect(unitSaid('4 in.', 'mm')).toMatchObject({ unit: 'inch' });
    expect(unlikely('electrodeGap', 25, '25', 'mm')).toBeUndefined();
    expect(unlikely('headSetting', 1000, '1000', 'mm')).toBeUndefined();
  });
  it('a position on a scale is a number from nothing up, of any size, without a unit', () => {
    expect(readFigure('headSetting', '0', 'inch')).toEqual({ ok: true, value: 0 });
    expect(readFigure('headSetting', '12', 'inch')).toEqual({ ok: true, value: 12 });
    expect(readFigure('headSetting', '-1', 'mm')).toMatchObject({ error: { key: 'figure-negative' } });
    expect(readFigure('headSetting', '1,2.3', 'mm')).toMatchObject({ error: { refusal: 'two-separators' } });
    expect(readFigure('headSetting', 'open', 'mm')).toMatchObject({ error: { refusal: 'not-a-number' } });
    expect(checkFigure('shutterStart', { nominal: '0', tolerance: '1' }, 'mm')).toEqual([]);
  });
  it('has limits by its tolerance or by what is typed as limits; a nominal alone has none', () => {
    // 25.4 mm to the inch exactly (international inch, 1959)
    expect(limitsOf('electrodeGap', { nominal: '1/8', tolerance: '1/16' }, 'inch')).toEqual({
      low: 25.4 / 16,
      high: (3 * 25.4) / 16,
      nominal: 25.4 / 8,
    });
    expect(limitsOf('electrodeGap', { nominal: '4' }, 'mm')).toBeUndefined();
    expect(limitsOf('electrodeGap', { low: '3' }, 'mm')).toEqual({ low: 3, high: Infinity, nominal: undefined });
    expect(limitsOf('electrodeGap', { nominal: '4', high: '5' }, 'mm')).toEqual({ low: -Infinity, high: 5, nominal: 4 });
  });
});

it('the cards for practice say nothing against themselves', () => {
  for (const card of trainingCards) expect(checkCard(card)).toEqual([]);
});
