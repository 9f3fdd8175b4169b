import { describe, expect, it } from 'vitest';
import { compareNotes, compareRows, compareStory, history, visitFigures } from '../../../shared/report/comparison/compare-visits.ts';
import { SetUpSheet } from '../../../shared/tuning/set-up/set-up-sheet.ts';
import type { Visit } from '../../../shared/tuning/visit/visit.ts';
import { compareNote } from '../../../shared/words/visit/since-last.ts';
import { difference } from '../../../shared/tuning/trial/difference.ts';
import { smallVisit, START, trial } from './small-visit.ts';

const withLeft = (left: Parameters<typeof trial>[2], startedWallMs = START) => {
  const visit = smallVisit({ startedWallMs });
  visit.trials = [...visit.trials.slice(0, 3), trial('d', 35, left)];
  return visitFigures(visit);
};
const usual = { o2: 5, co: 15, netF: 400, smoke: 0, position: 4 };
const before = withLeft(usual, START - 86_400_000);

it('takes nothing to cancel between two visits (JCGM 100, 5.1.2): 3 and 4 make 5', () => {
  expect(difference({ value: 10, expanded: 3 }, { value: 12, expanded: 4 })).toEqual({ value: 2, expanded: 5 });
  expect(difference({ value: 10 }, { value: 12, expanded: 4 }).expanded).toBeUndefined();
});

describe('two visits', () => {
  it('say "within" for what lies inside its uncertainty, and a number for what does not', () => {
    const rows = compareRows(before, withLeft({ ...usual, o2: 5.2, netF: 420 }), 'us');
    // U of O2 is 0.35 each, 0.49 together
    expect(rows.find(({ label }) => label === 'O2, dry')?.difference).toEqual({ text: 'within ±0.5', clear: false });
    // net stack: U = 2 sqrt(2^2/3 + 1^2/3) K = 2.6 K = 4.6 degF each, 6.6 together; 20 degF is outside
    expect(rows.find(({ label }) => label === 'Net stack')?.difference).toEqual({ text: '+20 ±7', clear: true });
    expect(rows.find(({ label }) => label === 'Shutter')).toMatchObject({
      found: { value: '7' },
      left: { value: '4' },
      difference: { text: '0' },
    });
  });
  it('tell the one story that the figures carry', () => {
    expect(compareStory(before, withLeft({ ...usual, netF: 420 }))[0]).toBe('Look for soot in the flue passages.');
    expect(compareStory(before, withLeft(usual))[0]).toMatch(/^No figure changed/);
    expect(compareStory(undefined, before)[0]).toMatch(/^Nothing to compare/);
    // U of O2 is 0.49 together: 1 % is outside, and nothing else moved with it
    expect(compareStory(before, withLeft({ ...usual, o2: 4 })).join('')).toMatch(
      /^O2.* changed since visit \d+ by more than the uncertainty/,
    );
    const bare = visitFigures({ ...before.visit, trials: [] });
    expect(compareStory(bare, before)[0]).toMatch(/no figure is in both this visit and visit/);
  });
});

describe('two visits of a burner that is not the same any more', () => {
  const signature = { name: 'A. Sample', wallMs: START, hash: 'h', editsBefore: 0 };
  const left = (more: Partial<Visit>, figures = { ...usual, o2: 3, netF: 470 }) => {
    const visit = smallVisit({ signature, ...more });
    visit.trials = [...visit.trials.slice(0, 3), trial('d', 35, figures)];
    return visitFigures(visit);
  };
  const flow = (asFound: number, asLeft?: number): Partial<Visit> => ({
    setUp: SetUpSheet.parse({ lengthUnit: 'inch', rows: { nozzleFlowLh: { asFound, asLeft } } }),
  });
  const without = (a: ReturnType<typeof left>, b: ReturnType<typeof left>): string[] =>
    compareRows(a, b, 'us').flatMap(({ label, a: one, left: other, difference: by }) => (one && other && by === undefined ? [label] : []));
  const gas = ['O2, dry', 'CO, as measured', 'Net stack', 'Efficiency, HHV', 'Smoke'];
  const keys = (a: ReturnType<typeof left>, b: ReturnType<typeof left>) => compareNotes(a, b).map(({ key }) => key);
  it('on another fuel have no difference of gas, smoke and stack, and no story of soot; it is said', () => {
    const [a, b] = [left({}, usual), left({ fuelId: 'b20' })];
    expect(without(a, b)).toEqual(gas);
    expect(keys(a, b)).toEqual(['other-fuel']);
    expect(compareStory(a, b)[0]).toMatch(/^No figure that can be compared changed/);
    expect(compareNote(compareNotes(a, b)[0]!, [42, 51], String)).toMatch(/^Visit 42 burned .*: gas, smoke and stack are not compared/);
  });
  it('with another nozzle left than before have none of the draft drop either', () => {
    const [a, b] = [left(flow(2.84), usual), left(flow(2.84, 3.22))];
    expect(without(a, b)).toEqual([...gas, 'Draft drop']);
    expect(compareNote(compareNotes(a, b)[0]!, [42, 51], (litres) => litres.toFixed(2))).toContain('(2.84, then 3.22)');
    // found with another one and left as before: nothing is in the way
    expect(keys(left(flow(2.84), usual), left(flow(3.22, 2.84)))).toEqual([]);
  });
  it('with another scale have no difference of the marks, by another rule none of smoke; an unsigned one is said', () => {
    const scale = left({ adjusters: [{ name: 'shutter', unit: 'mm', min: 0, max: 40, step: 1, role: 'fine', kind: 'air' }] });
    expect([without(left({}), scale), keys(left({}), scale)]).toEqual([['Shutter'], ['other-scale']]);
    const rule = left({ targetCard: undefined, smokeRule: 'single-spot' });
    const mean = left({ targetCard: undefined, smokeRule: 'mean-to-half' });
    expect(without(mean, rule)).toEqual(['Smoke']);
    expect(keys(left({ signature: undefined }), left({}))).toEqual(['not-signed']);
    expect(keys(left({}), left({ signature: undefined }))).toEqual([]);
  });
  it('of which nothing is left to compare say so', () => {
    const bare = (more: Partial<Visit>) => {
      const one = left(more);
      return { ...one, left: { o2Percent: one.left.o2Percent } };
    };
    expect(compareStory(bare({}), bare({ fuelId: 'b20' }))[0]).toMatch(/^No figure of this visit can be compared/);
  });
});

describe('electrodes, nozzle and head of two visits', () => {
  const withGeometry = (lengthUnit: 'mm' | 'inch', rows: object) => {
    const visit = smallVisit();
    return visitFigures({ ...visit, setUp: SetUpSheet.parse({ lengthUnit, rows: {}, geometry: { rows } }) });
  };
  const a = withGeometry('inch', {
    heightAboveCentreline: { asFound: '7/16', asLeft: '1/2' },
    electrodeGap: { asFound: '1/8' },
    headSetting: { asFound: '1', asLeft: '2' },
    offCentre: { asFound: '1/16' },
  });
  const b = withGeometry('mm', {
    heightAboveCentreline: { asFound: '11', asLeft: '12.5' },
    electrodeGap: { asFound: '4.5' },
    headSetting: { asFound: '2', asLeft: '3' },
  });
  it('stand side by side in the unit of the later one, with what moved beyond the reading of a rule', () => {
    const of = (label: string) => compareRows(a, b, 'us').find((row) => row.label === label);
    // 1/2 in = 12.7 mm; 12.5 mm is within two half marks of 1/32 in
    expect(of('Height above centreline')).toMatchObject({
      a: { value: '12.7' },
      found: { value: '11' },
      left: { value: '12.5' },
      unit: 'mm',
      difference: { text: 'within ±0.6', clear: false },
    });
    expect(of('Head setting')).toMatchObject({
      a: { value: '2' },
      left: { value: '3' },
      difference: { text: '+1', clear: true },
      unit: '',
    });
  });
  it('nothing stands under as-left that was only read as found, and no difference where as-left is absent', () => {
    const of = (label: string) => compareRows(a, b, 'us').find((row) => row.label === label);
    const gap = of('Electrode gap')!;
    expect(gap.found).toEqual({ value: '4.5' });
    expect([gap.a, gap.left, gap.difference]).toEqual([undefined, undefined, undefined]);
    // read as found then, and nothing now: there is nothing to compare
    expect(of('Off centre')).toBeUndefined();
    for (const row of compareRows(a, b, 'us')) if (row.a === undefined || row.left === undefined) expect(row.difference).toBeUndefined();
  });
  it('have no row where neither visit measured anything', () => {
    expect(compareRows(undefined, visitFigures(smallVisit()), 'us').some(({ label }) => label === 'Off centre')).toBe(false);
  });
});

it('puts the years in order, whatever order they come in', () => {
  const points = history([withLeft({ ...usual, o2: 6 }), before], 'o2Percent', 'us');
  expect(points.map(({ foundText, leftText }) => [foundText, leftText])).toEqual([
    ['8.0', '5.0'],
    ['8.0', '6.0'],
  ]);
});
