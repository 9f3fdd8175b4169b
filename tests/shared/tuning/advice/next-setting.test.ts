import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Adjuster } from '../../../../shared/tuning/trial/adjuster.ts';
import { nextSetting, type Goal } from '../../../../shared/tuning/advice/next-setting.ts';
import { makeTrial, type TrialParts } from '../make-trial.ts';

const adjusters: Adjuster[] = [
  { name: 'shutter', unit: '', min: 0, max: 10, step: 0.1, role: 'fine', kind: 'air' },
  { name: 'band', unit: '', min: 0, max: 6, step: 0.5, role: 'coarse', kind: 'air' },
];
const at = (shutter: number, band: number) => ({
  stage: '1',
  positions: [
    { name: 'shutter', value: shutter },
    { name: 'band', value: band },
  ],
});
const goal = (targetO2: number): Goal => ({ kind: 'as-left', targetO2 });
const trials = (...rows: [shutter: number, band: number, o2: number, more?: Partial<TrialParts>][]) =>
  rows.map(([shutter, band, o2, more], index) => makeTrial({ id: `t${index}`, shutter, band, o2, atMs: index, ...more }));
const advise = (
  target: number,
  rows: ReturnType<typeof trials>,
  present = at(4, 3),
  more: Partial<Parameters<typeof nextSetting>[0]> = {},
) => nextSetting({ goal: goal(target), trials: rows, adjusters, present, ...more });

describe('next setting', () => {
  it('lies between the trials around the target, with an interval that holds it', () => {
    const advice = advise(5, trials([7, 3, 7], [5, 3, 5.4], [4, 3, 4.4], [3, 3, 3.2]));
    expect(advice).toMatchObject({ kind: 'move', adjuster: 'shutter', reason: 'between-trials' });
    if (advice.kind !== 'move') return;
    expect(advice.to).toBeGreaterThan(4);
    expect(advice.to).toBeLessThan(5);
    expect(advice.low).toBeLessThan(advice.expectedO2);
    expect(Math.abs(advice.expectedO2 - 5)).toBeLessThan(0.1);
  });
  it('is less sure in the middle of a wide gap than near a trial, and never below half a step of the hand', () => {
    const rows = trials([2, 3, 3, { sd: 0 }], [8, 3, 8, { sd: 0 }]);
    const half = (target: number): number => {
      const advice = advise(target, rows, at(2, 3));
      return advice.kind === 'move' ? advice.high - advice.expectedO2 : NaN;
    };
    expect(half(5.5)).toBeGreaterThan(2 * half(7.8));
    expect(half(7.8)).toBeGreaterThan(0.03);
  });
  it('works on a scale that runs the other way', () => {
    const advice = advise(5, trials([2, 3, 7], [5, 3, 4.4], [6, 3, 3.4]), at(6, 3));
    expect(advice.kind === 'move' && advice.to).toBeGreaterThan(2);
    expect(advice.kind === 'move' && advice.to).toBeLessThan(5);
  });
  it('refuses with fewer than two positions, also when other bands were tried', () => {
    expect(advise(5, trials([5, 3, 5.5], [5, 3, 5.6]), at(5, 3))).toMatchObject({ kind: 'none', reason: 'too-few-trials' });
    expect(advise(5, trials([5, 2, 4], [7, 4, 8]), at(5, 3))).toMatchObject({ kind: 'none', reason: 'too-few-trials' });
  });
  it.each([
    { why: 'flat', rows: trials([3, 3, 5.0], [7, 3, 5.1]), target: 6 },
    { why: 'not-monotone', rows: trials([3, 3, 4], [5, 3, 7], [7, 3, 4.5]), target: 5.5 },
    { why: 'too-far-beyond-trials', rows: trials([5, 3, 5], [5.5, 3, 5.6]), target: 9 },
  ])('refuses: $why', ({ why, rows, target }) => {
    expect(advise(target, rows, at(5, 3))).toMatchObject({ kind: 'none', reason: why });
  });
  it('refuses without a setting or an air adjuster', () => {
    const rows = trials([3, 3, 4], [7, 3, 7]);
    expect(nextSetting({ goal: goal(5), trials: rows, adjusters, present: undefined })).toMatchObject({ reason: 'no-setting' });
    expect(advise(5, rows, at(3, 3), { adjusters: adjusters.map((adjuster) => ({ ...adjuster, kind: 'head' as const })) })).toMatchObject({
      reason: 'no-air-adjuster',
    });
  });
  it('leaves a setting that is there already', () => {
    expect(advise(5, trials([4, 3, 5.1], [6, 3, 6.5]))).toEqual({ kind: 'already-there', goal: goal(5), o2: 5.1 });
  });
  it('takes the coarse adjuster when the fine one ends, and says so', () => {
    const rows = trials([8, 2, 3], [10, 2, 3.5], [10, 4, 7]);
    const advice = advise(5, rows, at(10, 2));
    expect(advice).toMatchObject({ kind: 'move', adjuster: 'band', reason: 'coarse-because-fine-ends' });
    expect(advice.kind === 'move' && advice.setting.positions).toContainEqual({ name: 'shutter', value: 10 });
  });
  it('takes the coarse adjuster when the fine one was not tried here', () => {
    expect(advise(5, trials([5, 2, 3.5], [5, 4, 7]), at(5, 2))).toMatchObject({
      kind: 'move',
      adjuster: 'band',
      reason: 'coarse-because-fine-not-tried',
    });
  });
  it('does not use unsettled readings or another stage', () => {
    expect(advise(5, trials([3, 3, 4], [7, 3, 7, { settled: false }]), at(3, 3)).kind).toBe('none');
    expect(advise(5, trials([3, 3, 4], [7, 3, 7, { stage: '2' }]), at(3, 3)).kind).toBe('none');
  });
  it('stays on the scale and on the step, whatever the trials', () => {
    const row = fc.record({
      shutter: fc.integer({ min: 0, max: 100 }).map((tenth) => tenth / 10),
      o2: fc.double({ min: 1, max: 12, noNaN: true }),
    });
    fc.assert(
      fc.property(
        fc.array(row, { minLength: 2, maxLength: 6 }),
        fc.double({ min: 1, max: 12, noNaN: true }),
        fc.constantFrom<Goal['kind']>('as-left', 'find-smoke', 'find-clean', 'narrow-onset'),
        (rows, targetO2, kind) => {
          const set = rows.map(({ shutter, o2 }, index) => makeTrial({ id: `t${index}`, shutter, band: 3, o2, atMs: index }));
          const advice = nextSetting({ goal: { kind, targetO2 }, trials: set, adjusters, present: at(rows[0]!.shutter, 3) });
          if (advice.kind !== 'move') return;
          expect(advice.to).toBeGreaterThanOrEqual(0);
          expect(advice.to).toBeLessThanOrEqual(10);
          expect(Math.abs(advice.to * 10 - Math.round(advice.to * 10))).toBeLessThan(1e-6);
          expect(advice.low <= advice.expectedO2 && advice.expectedO2 <= advice.high).toBe(true);
        },
      ),
    );
  });
  it('lands within 0.3 % on an orifice curve it has not seen: lambda = 0.9 + 0.12 x^0.8 read at four places', () => {
    const truth = (x: number): number => 20.946 * (1 - 1 / (0.9 + 0.12 * x ** 0.8));
    const rows = trials(...[8, 6, 4.5, 3.2].map((x): [number, number, number] => [x, 3, truth(x)]));
    for (const target of [4, 5, 6]) {
      const advice = advise(target, rows, at(3.2, 3));
      if (advice.kind !== 'move') throw new Error(`no advice for ${target}`);
      expect(Math.abs(truth(advice.to) - target)).toBeLessThan(0.3);
      expect(truth(advice.to)).toBeGreaterThan(advice.low);
      expect(truth(advice.to)).toBeLessThan(advice.high);
    }
  });
});
