/** The leading and the visit's record of it: what Space does, what is stale, and that no verdict hangs on the unit shown. */
import { describe, expect, it } from 'vitest';
import { checkCard } from '../../../shared/geometry/figures-card.ts';
import { nextAt, sideAt } from '../../../shared/geometry/lead.ts';
import { pictureOf } from '../../../shared/geometry/drawing/picture.ts';
import { drawnMm, frontView, sideView } from '../../../shared/geometry/drawing/drawing.ts';
import { handSteps, type HandStep } from '../../../shared/geometry/steps.ts';
import { trainingCards } from '../../../shared/geometry/training-cards.ts';
import { changesOf, drawnFigures, geometryNow, unitChanges, withGeometryRows } from '../../../shared/tuning/set-up/geometry-now.ts';
import { SetUpSheet } from '../../../shared/tuning/set-up/set-up-sheet.ts';
import { stepWords } from '../../../shared/words/geometry/geometry-steps.ts';
import { setAt, type Json } from '../../../shared/tuning/visit/at-path.ts';

const cardB = trainingCards[1]!;
const sheetOf = (rows: Record<string, object>, more: object = {}, flowLh = 2.839): SetUpSheet =>
  SetUpSheet.parse({
    lengthUnit: 'inch',
    rows: { nozzleFlowLh: { asFound: flowLh } },
    geometry: { card: cardB, tubeEnd: 'straight', arrangement: 'two', rows, ...more },
  });
const step = (id: string): HandStep => (handSteps as readonly HandStep[]).find((one) => one.id === id)!;

describe('what Space does', () => {
  const facts = { steps: handSteps as readonly HandStep[], verdictOf: () => undefined, loose: [], stale: [] };
  const fail = { verdict: 'fail' } as never;
  it('asks for a figure, then for it again while it is outside the card, then goes on', () => {
    expect(nextAt({ step: 'height', side: 'asFound' }, facts)).toEqual({ key: 'measure' });
    expect(nextAt({ step: 'height', side: 'asFound' }, { ...facts, verdictOf: () => fail })).toEqual({ key: 'measure-again' });
    expect(nextAt({ step: 'height', side: 'asLeft' }, { ...facts, verdictOf: () => ({ verdict: 'pass' }) as never })).toEqual({
      key: 'go-on',
      to: 'ahead',
    });
  });
  it('writes the adjuster down as found without a verdict: its zero is not known yet', () => {
    expect(nextAt({ step: 'adjuster-as-found', side: 'asFound' }, { ...facts, verdictOf: () => fail })).toEqual({
      key: 'go-on',
      to: 'mark-parts',
    });
    expect(sideAt(step('head-setting'), { asFound: true, asLeft: false })).toBe('asLeft');
  });
  it('asks for each loose part, and for each stale figure, before it ends', () => {
    expect(nextAt({ step: 'all-tight', side: 'asFound' }, { ...facts, loose: ['oilLine', 'headLock'] })).toEqual({
      key: 'tighten',
      part: 'oilLine',
    });
    expect(nextAt({ step: 'as-left', side: 'asFound' }, { ...facts, stale: ['gap'] })).toEqual({ key: 'go-to-stale', to: 'gap' });
    expect(nextAt({ step: 'as-left', side: 'asFound' }, facts)).toEqual({ key: 'finish' });
  });
});

describe('what a visit has of its geometry', () => {
  it('takes the head setting from the row of the card that the nozzle as left belongs to', () => {
    const before = geometryNow(sheetOf({ headSetting: { asFound: '2' } }));
    expect(before.items.headSetting.now.verdict).toBe('pass');
    const sheet = sheetOf({ headSetting: { asFound: '2' } });
    const after = geometryNow({ ...sheet, rows: { nozzleFlowLh: { asFound: 2.839, asLeft: 3.2176 } } });
    expect(after.items.headSetting.now).toMatchObject({ verdict: 'fail', by: 1, limits: { nominal: 3 } });
  });
  it('asks for what was moved to be tight, also where its step was jumped over', () => {
    const moved = { heightAboveCentreline: { asFound: '7/16', foundMs: 20, asLeft: '1/2', leftMs: 30 } };
    const at = { step: 'all-tight', side: 'asFound' };
    const clamps = ['leftElectrodeClamp', 'rightElectrodeClamp'];
    expect(geometryNow(sheetOf(moved, { at })).loose).toEqual(clamps);
    expect(geometryNow(sheetOf({ headToTubeEnd: { asFound: '3/4', foundMs: 20, asLeft: '11/16', leftMs: 30 } }, { at })).loose).toEqual([
      'zeroLock',
    ]);
    // tightened at its own step, or said to be tight
    expect(geometryNow(sheetOf(moved, { at, done: ['centred'] })).loose).toEqual([]);
    expect(geometryNow(sheetOf(moved, { at, tight: clamps })).loose).toEqual([]);
    // only measured, and a table that was never led
    expect(geometryNow(sheetOf({ heightAboveCentreline: { asFound: '1/2', foundMs: 20 } }, { at })).loose).toEqual([]);
    expect(geometryNow(sheetOf(moved)).loose).toEqual([]);
  });
  it('makes what was measured before a move stale, and what was measured after it not', () => {
    const sheet = sheetOf({
      electrodeGap: { asFound: '7/64', foundMs: 10 },
      heightAboveCentreline: { asFound: '7/16', foundMs: 20, asLeft: '1/2', leftMs: 30 },
      aheadOfNozzle: { asFound: '3/32', foundMs: 40 },
      headToTubeEnd: { asFound: '11/16', foundMs: 50, asLeft: '11/16', leftMs: 60 },
      headSetting: { asFound: '2', foundMs: 5 },
    });
    const { items } = geometryNow(sheet);
    expect(items.electrodeGap.staleBecause).toBe('electrodes');
    expect(items.aheadOfNozzle.staleBecause).toBeUndefined();
    // measured again and found the same: nothing was moved
    expect(items.headSetting.staleBecause).toBeUndefined();
    expect(changesOf(sheet).map(({ what }) => what)).toEqual(['electrodes']);
  });
  it('changes no figure and no verdict with the unit that is shown', () => {
    const sheet = sheetOf({
      electrodeGap: { asFound: '0.11' },
      heightAboveCentreline: { asFound: '7/16' },
      headToTubeEnd: { asFound: '11/16' },
      tipToMetal: { asFound: '5 mm' },
    });
    const shown = unitChanges(sheet, 'mm').reduce<Json>(
      (body, { path, after }) => setAt(body, path.slice(1), JSON.parse(JSON.stringify(after)) as Json) ?? body,
      sheet as unknown as Json,
    );
    const other = SetUpSheet.parse(shown);
    expect(other.lengthUnit).toBe('mm');
    const [a, b] = [geometryNow(sheet), geometryNow(other)];
    expect(Object.values(b.items).map(({ now }) => now)).toEqual(Object.values(a.items).map(({ now }) => now));
    expect(a.items.tipToMetal.now.verdict).toBe('fail');
    expect(b.items.heightAboveCentreline.asFound).toBe('7/16\u2009in');
    const back = unitChanges(other, 'inch').reduce<Json>(
      (body, { path, after }) => setAt(body, path.slice(1), JSON.parse(JSON.stringify(after)) as Json) ?? body,
      other as unknown as Json,
    );
    // there and back: every figure stands as it was typed
    expect(SetUpSheet.parse(back).geometry?.rows).toEqual(sheet.geometry?.rows);
  });
  it('reads a visit of an earlier version, with the figures as numbers and the maker’s figure beside them', () => {
    const old = SetUpSheet.parse({
      lengthUnit: 'mm',
      rows: { electrodeGapMm: { maker: { nominal: 3.5, tolerance: 0.5 }, asFound: 4.4, asLeft: 3.6 } },
    });
    const { items } = geometryNow(old);
    expect(items.electrodeGap).toMatchObject({
      asFound: '4.4 mm',
      asLeft: '3.6 mm',
      verdicts: { asFound: { verdict: 'fail' }, asLeft: { verdict: 'pass' } },
    });
    expect(withGeometryRows(old).rows.electrodeGapMm).toMatchObject({ asFound: 4.4, asLeft: 3.6 });
  });
  it('judges nothing where no card was chosen', () => {
    const sheet = SetUpSheet.parse({ lengthUnit: 'inch', rows: {}, geometry: { rows: { electrodeGap: { asFound: '1/8' } } } });
    expect(geometryNow(sheet).items.electrodeGap.now).toMatchObject({ verdict: 'no-figure', why: 'not-on-card' });
  });
});

describe('the picture', () => {
  it('draws every dimension as long as its figure, at whatever size', () => {
    const now = geometryNow(
      sheetOf({ heightAboveCentreline: { asFound: '7/16' }, tipDifference: { asFound: '1/16' }, offCentre: { asFound: '1/16' } }),
    );
    const figures = drawnFigures(now, 60);
    const size = 4;
    for (const view of [sideView(figures, { cut: true }), frontView(figures, { cut: true }), sideView(figures), frontView(figures)])
      for (const dimension of view.dimensions) {
        expect(drawnMm(dimension)).toBeCloseTo(figures[dimension.item]!.mm, 6);
        const picture = pictureOf(view, { size, strong: dimension.item, figure: () => 'x', cardWord: 'card', dimensions: 'strong' });
        expect(picture.width / size).toBeCloseTo(view.box.right - view.box.left, 6);
        const line = picture.marks.find((mark) => mark.kind === 'path' && mark.width === 2.5);
        const numbers =
          line?.kind === 'path'
            ? [...line.d.matchAll(/L(-?[\d.]+) (-?[\d.]+)L/g)].map((match) => [Number(match[1]), Number(match[2])])
            : [];
        const [first, second] = numbers;
        const along = dimension.axis === 'x' ? 0 : 1;
        // the points of the two arrows are the ends of the figure; 0.1 mm is what a rule shows
        expect(Math.abs((first?.[along] ?? 0) - (second?.[along] ?? 0)) / size).toBeCloseTo(drawnMm(dimension), 2);
      }
  });
});

describe('a head adjuster', () => {
  const ids = (card: object) => geometryNow(sheetOf({}, { card })).steps.map(({ id }) => id);
  it('of two steps is asked for its coarse and its fine part, one of one step is not', () => {
    expect(ids(cardB)).toContain('fine-to-zero');
    expect(ids(trainingCards[0]!)).not.toContain('fine-to-zero');
    expect(stepWords('adjuster-to-zero', cardB.adjuster).title).toBe('Coarse plate to its zero');
    expect(stepWords('head-setting', cardB.adjuster).does).toContain('10 notches');
    expect(stepWords('adjuster-to-zero', { steps: 'one', zeroMark: 'A' }).does).toContain('“A”');
  });
  it('has no setting beyond its notches', () => {
    const rows = [{ from: '0.5', to: '0.6', headSetting: '11' }];
    expect(checkCard({ ...cardB, byFlow: { unit: 'gph', rows } }).map(({ key }) => key)).toEqual(['beyond-notches']);
  });
});
