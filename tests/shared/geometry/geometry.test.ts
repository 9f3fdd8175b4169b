import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { drawnMm, frontView, sideView, type DrawnFigures } from '../../../shared/geometry/drawing/drawing.ts';
import { checkCard, FiguresCard } from '../../../shared/geometry/figures-card.ts';
import { figuresFor, parseFlow } from '../../../shared/geometry/figures-for.ts';
import { itemNames, lengthItems } from '../../../shared/geometry/items.ts';
import { judgeSheet, MeasuredSheet } from '../../../shared/geometry/sheet.ts';
import { staleOf } from '../../../shared/geometry/stale.ts';
import { handSteps, looseAfter } from '../../../shared/geometry/steps.ts';
import { trainingCards } from '../../../shared/geometry/training-cards.ts';
import { judge, judgeValue } from '../../../shared/geometry/verdict.ts';
import { inchFraction, parseLengthMm } from '../../../shared/units/length.ts';
import { cardFigureWords, geometryVerdictWords, lengthWords } from '../../../shared/words/geometry/geometry.ts';

const cardOf = (change: Partial<FiguresCard>): FiguresCard =>
  FiguresCard.parse({
    format: 'flueside-figures-card',
    version: 1,
    name: 'test',
    source: { document: 'none' },
    lengthUnit: 'inch',
    figures: [],
    ...change,
  });
const mmUnits = { sheet: 'mm', card: 'mm' } as const;

describe('lengths', () => {
  it('every 1/64 in is read and written back as it was typed', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 64 * 12 }), (sixtyFourths) => {
        const text = inchFraction((sixtyFourths / 64) * 25.4, 64).text;
        const mm = parseLengthMm(text, 'inch');
        // 1 in = 25.4 mm exactly (NIST SP 811)
        expect(mm.ok && mm.value).toBeCloseTo((sixtyFourths / 64) * 25.4, 12);
        expect(inchFraction(mm.ok ? mm.value : 0, 64)).toEqual({ text, exact: true });
      }),
    );
  });
  it.each(['5/0', '1 3/8 mm', '3/8mm', 'about 4', '4 cm'])('refuses %s', (typed) => {
    expect(parseLengthMm(typed, 'inch').ok).toBe(false);
    expect(judge('electrodeGap', typed, { state: 'none', why: 'not-on-card' }, mmUnits).verdict).toBe('unreadable');
  });
  it('refuses a length below zero', () => {
    expect(judge('electrodeGap', '-1/8', { state: 'none', why: 'not-on-card' }, mmUnits).verdict).toBe('unreadable');
  });
});

/** Check values: common practice, no published source. In tests only; no default and no training card has them. */
describe('verdicts against figures of common practice', () => {
  const card = cardOf({
    tubeEnds: ['straight', 'conical'],
    figures: [
      { item: 'electrodeGap', figure: { low: '1/8', high: '5/32' } },
      { item: 'headToTubeEnd', figure: { nominal: '1 3/8', tolerance: '1/32' }, for: { tubeEnd: 'straight' } },
      { item: 'headToTubeEnd', figure: { nominal: '1 3/4', tolerance: '1/32' }, for: { tubeEnd: 'conical' } },
    ],
  });
  it.each([
    { tubeEnd: 'straight', mm: '34.9', verdict: 'pass' },
    { tubeEnd: 'conical', mm: '44.5', verdict: 'pass' },
    { tubeEnd: 'straight', mm: '44.5', verdict: 'fail', direction: 'move-head-forward', by: 9.575 },
    { tubeEnd: 'conical', mm: '34.9', verdict: 'fail', direction: 'move-head-back', by: 9.55 },
  ] as const)('head to a $tubeEnd tube end, $mm mm: $verdict', ({ tubeEnd, mm, ...expected }) => {
    const { headToTubeEnd } = figuresFor(card, { tubeEnd });
    const verdict = judge('headToTubeEnd', mm, headToTubeEnd, { sheet: 'mm', card: 'inch' });
    expect(verdict).toMatchObject({ ...expected, ...('by' in expected ? { by: expect.closeTo(expected.by, 3) as number } : {}) });
  });
  it.each([
    ['1/8', 'pass'],
    ['5/32', 'pass'],
    ['7/64', 'fail'],
    ['11/64', 'fail'],
    ['3.175 mm', 'pass'],
    ['3.96875 mm', 'pass'],
    ['4.0 mm', 'fail'],
  ] as const)('a gap of %s: %s', (typed, verdict) => {
    expect(judge('electrodeGap', typed, figuresFor(card, {}).electrodeGap, { sheet: 'inch', card: 'inch' }).verdict).toBe(verdict);
  });
  it('says how much, which way, and the verb', () => {
    const found = { state: 'given', figure: { nominal: '1/2', tolerance: '1/32' } } as const;
    const verdict = judge('heightAboveCentreline', '7/16', found, { sheet: 'inch', card: 'inch' });
    expect(geometryVerdictWords('heightAboveCentreline', verdict, 'inch')).toBe('1/16\u2009in too low. Raise both tips.');
    expect(geometryVerdictWords('heightAboveCentreline', verdict, 'mm')).toBe('1.6\u2009mm too low. Raise both tips.');
  });
});

describe('a verdict', () => {
  const found = { state: 'given', figure: { nominal: '1/2', tolerance: '1/32' } } as const;
  it('is the same whether the figure was typed in inches or in mm', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 96 }), (sixtyFourths) => {
        const text = inchFraction((sixtyFourths / 64) * 25.4, 64).text;
        const asInch = judge('heightAboveCentreline', text, found, { sheet: 'inch', card: 'inch' });
        const asMm = judge('heightAboveCentreline', `${(sixtyFourths / 64) * 25.4} mm`, found, { sheet: 'mm', card: 'inch' });
        expect(asMm.verdict).toBe(asInch.verdict);
        expect(asMm).toMatchObject('direction' in asInch ? { direction: asInch.direction } : {});
      }),
    );
  });
  it('points towards the card: moving by what it says lands inside', () => {
    fc.assert(
      fc.property(fc.constantFrom(...itemNames), fc.double({ min: 0, max: 60, noNaN: true }), (item, value) => {
        const figure = { nominal: '30', tolerance: '0.5' };
        const verdict = judgeValue(item, value, { state: 'given', figure }, 'mm');
        if (verdict.verdict === 'pass') return expect(Math.abs(value - 30)).toBeLessThanOrEqual(0.5 + 1e-4);
        expect(verdict.verdict).toBe('fail');
        if (verdict.verdict !== 'fail') return;
        const moved = value + (verdict.side === 'too-small' ? verdict.by : -verdict.by);
        expect(judgeValue(item, moved, { state: 'given', figure }, 'mm').verdict).toBe('pass');
      }),
    );
  });
  it('is not given for a nominal without a tolerance, nor without a card', () => {
    expect(judge('electrodeGap', '4', { state: 'given', figure: { nominal: '4' } }, mmUnits)).toMatchObject({
      verdict: 'no-figure',
      why: 'no-tolerance',
    });
    const { items } = judgeSheet(undefined, MeasuredSheet.parse({ lengthUnit: 'mm', measured: { electrodeGap: 3.5 } }));
    expect(items[0]).toMatchObject({ item: 'electrodeGap', typed: '3.5', verdict: { verdict: 'no-figure', value: 3.5 } });
  });
});

it('a sheet takes 120 letters of a head and 24 of a figure, blanks around it left out, and no more', () => {
  const sheet = (head: string, figure: string | number) =>
    MeasuredSheet.safeParse({ lengthUnit: 'mm', burner: { head, nozzleFlow: figure }, measured: { electrodeGap: figure } });
  const { data } = sheet('h'.repeat(120), ` ${'1'.repeat(24)} `);
  expect(data).toMatchObject({ burner: { head: 'h'.repeat(120), nozzleFlow: '1'.repeat(24) }, measured: { electrodeGap: '1'.repeat(24) } });
  expect(sheet('h', 4.5).data).toMatchObject({ burner: { nozzleFlow: '4.5' }, measured: { electrodeGap: '4.5' } });
  expect([sheet('h'.repeat(121), '1'), sheet('h', '1'.repeat(25))].map(({ success }) => success)).toEqual([false, false]);
  expect(MeasuredSheet.safeParse({ lengthUnit: 'mm', measured: {}, more: 1 }).success).toBe(false);
});

describe('a figures card', () => {
  it.each(trainingCards.map((card) => [card.name, card] as const))('%s has nothing to mend and says that it is for training', (_, card) => {
    expect(checkCard(card)).toEqual([]);
    expect(card.training).toBe(true);
  });
  it('is refused in words where it contradicts itself', () => {
    const keys = (change: Partial<FiguresCard>): string[] => checkCard(cardOf(change)).map(({ key }) => key);
    expect(keys({ figures: [{ item: 'electrodeGap', figure: { nominal: '5/0' } }] })).toEqual(['figure-unreadable']);
    expect(keys({ figures: [{ item: 'electrodeGap', figure: { nominal: '1 3/8 mm' } }] })).toEqual(['figure-unreadable']);
    expect(keys({ figures: [{ item: 'electrodeGap', figure: { nominal: '-1/8' } }] })).toEqual(['figure-negative']);
    expect(keys({ figures: [{ item: 'electrodeGap', figure: { low: '5/32', high: '1/8' } }] })).toEqual(['limits-swapped']);
    expect(keys({ figures: [{ item: 'electrodeGap', figure: { nominal: '1/8', tolerance: '1/4' } }] })).toEqual(['tolerance-too-wide']);
    expect(keys({ figures: [{ item: 'nozzleToHead', figure: { nominal: '24', tolerance: '1' } }] })).toEqual(['unit-unlikely']);
    expect(keys({ figures: [{ item: 'electrodeGap', figure: {} }] })).toEqual(['figure-empty']);
    expect(keys({ figures: [{ item: 'headToTubeEnd', figure: { low: '1' }, for: { tubeEnd: 'conical' } }] })).toEqual(['for-unknown']);
    const twice = { item: 'electrodeGap', figure: { low: '1/8' } } as const;
    expect(keys({ figures: [twice, twice] })).toEqual(['figure-twice']);
  });
  const flow = (rows: [string, string, string][]): Partial<FiguresCard> => ({
    byFlow: { unit: 'gph', rows: rows.map(([from, to, headSetting]) => ({ from, to, headSetting })) },
  });
  it('finds ranges of flow that overlap; the flow in both gets no setting', () => {
    const card = cardOf(
      flow([
        ['0.80', '1.00', '3'],
        ['1.00', '1.25', '4'],
        ['0.50', '0.65', '1'],
      ]),
    );
    expect(checkCard(card)).toEqual([{ key: 'flow-overlap', rows: [0, 1], at: '1.00' }]);
    const setting = (text: string) => figuresFor(card, { flow: parseFlow(text, 'gph') }).headSetting;
    expect(setting('1.00')).toEqual({ state: 'none', why: 'two-rows-for-flow' });
    expect(setting('0.70')).toEqual({ state: 'none', why: 'no-row-for-flow' });
    expect(setting('0.85')).toMatchObject({ state: 'given', figure: { nominal: '3' } });
    // 1 US gallon = 3.785411784 L exactly (NIST SP 811)
    expect(setting('3.2176 l/h')).toMatchObject({ state: 'given', figure: { nominal: '3' } });
    expect(setting('2.7 kg/h')).toEqual({ state: 'none', why: 'flow-unit' });
    expect(figuresFor(card, {}).headSetting).toEqual({ state: 'none', why: 'flow-unknown' });
  });
  it('keeps what was typed and shows it as it is', () => {
    const [, card] = trainingCards;
    const found = figuresFor(card!, { tubeEnd: 'conical', arrangement: 'one' });
    expect(found.headToTubeEnd).toEqual({ state: 'given', figure: { nominal: '1 1/16', tolerance: '1/32' } });
    expect(found.heightAboveCentreline).toMatchObject({ figure: { nominal: '7/16' } });
    expect(figuresFor(card!, {}).headToTubeEnd).toEqual({ state: 'none', why: 'other-burner' });
    expect(cardFigureWords('headToTubeEnd', { nominal: '1 1/16', tolerance: '1/32' }, 'inch')).toBe('1 1/16 ±1/32\u2009in');
    expect(lengthWords(25.4 / 64, 'inch')).toBe('1/64\u2009in');
  });
});

describe('the order of the hands', () => {
  const ids = handSteps.map(({ id }) => id);
  it('loosens the zero lock only after the adjuster stands at zero, and ends with nothing loose', () => {
    const first = handSteps.findIndex(({ loosens }) => loosens?.includes('zeroLock'));
    expect(ids.slice(0, first)).toContain('adjuster-to-zero');
    // the oil line is asked for at the end, part by part
    expect(looseAfter(ids)).toEqual(['oilLine']);
    expect(looseAfter(ids, ['oilLine'])).toEqual([]);
    expect(looseAfter(['take-out', 'gap'])).toEqual(['oilLine', 'assembly', 'leftElectrodeClamp', 'rightElectrodeClamp']);
  });
  it('says what must be done again, and why', () => {
    expect(staleOf(['zero']).map(({ what }) => what)).toEqual(['headSetting', 'readings']);
    expect(staleOf(['nozzle']).map(({ what }) => what)).toEqual(
      expect.arrayContaining(['headSetting', 'shutterStart', 'bandStart', 'readings']),
    );
    expect(staleOf(['electrodes']).map(({ what }) => what)).toContain('ignitionTests');
    expect(staleOf(['zero', 'nozzle'], new Set(['headSetting']))).not.toContainEqual(expect.objectContaining({ what: 'headSetting' }));
  });
});

describe('the drawing', () => {
  it('has every dimension as far apart as its figure, to 0.01 mm', () => {
    const figure = fc.double({ min: 0.5, max: 60, noNaN: true });
    fc.assert(
      fc.property(fc.record(Object.fromEntries(lengthItems.map((item) => [item, figure]))), (values) => {
        const figures: DrawnFigures = Object.fromEntries(Object.entries(values).map(([item, mm]) => [item, { mm, source: 'measured' }]));
        const drawn = [...sideView(figures).dimensions, ...frontView(figures).dimensions];
        expect(drawn.map(({ item }) => item)).toEqual(
          expect.arrayContaining(['electrodeGap', 'heightAboveCentreline', 'aheadOfNozzle', 'nozzleToHead', 'headToTubeEnd']),
        );
        for (const dimension of drawn) expect(drawnMm(dimension)).toBeCloseTo(values[dimension.item] ?? NaN, 2);
      }),
    );
  });
  it('moves with its figure, and draws no dimension that nobody measured and no card has', () => {
    const at = (mm: number) => sideView({ heightAboveCentreline: { mm, source: 'measured' } });
    const tipOf = (mm: number) => {
      const shape = at(mm).shapes.find(({ part }) => part === 'electrode');
      return shape?.kind === 'line' ? shape.points.at(-1) : undefined;
    };
    expect(tipOf(11)?.[1]).toBe(11);
    expect(tipOf(14)?.[1]).toBe(14);
    expect(at(11).dimensions.map(({ item }) => item)).toEqual(['heightAboveCentreline']);
  });
  it('has the card’s tolerance as the clear distance between the brackets', () => {
    const view = sideView({ heightAboveCentreline: { mm: 11, source: 'measured', slot: { low: 12, high: 13.5 } } });
    expect(view.slots).toMatchObject([{ item: 'heightAboveCentreline', axis: 'y', low: 12, high: 13.5 }]);
  });
});
