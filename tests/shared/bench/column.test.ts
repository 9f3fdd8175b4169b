import { describe, expect, it } from 'vitest';
import { BenchTest, type DoneStep } from '../../../shared/bench/bench-test.ts';
import { createColumn } from '../../../shared/bench/session/column.ts';
import { exampleLimits } from '../../../shared/bench/limits.ts';
import { keepsGas } from '../../../shared/bench/plan.ts';
import { levelsOf } from '../../../shared/bench/references.ts';
import { headlineOf, roundResult } from '../../../shared/bench/results/test-result.ts';
import { inletFor } from '../../../shared/bench/practice.ts';
import { practiceTest, runPlan } from './run-plan.ts';

describe('one instrument through the short round', () => {
  it('closes every step at its gas, and passes an instrument in good order', () => {
    const test = runPlan('bench-healthy', 7301);
    expect(test.rounds[0]?.steps.map(({ end }) => end)).toEqual(Array(6).fill('reached'));
    const { evaluation } = roundResult(test, test.rounds[0]!);
    // certified values, never nominal ones: the rows are those of the bottles
    expect(evaluation.channels.find(({ channel }) => channel === 'co')?.errors.map(({ reference }) => reference)).toEqual([
      0, 0, 1000, 0, 100, 0,
    ]);
    expect(headlineOf(evaluation, test.limits)).toEqual({ kind: 'fit', channels: ['o2', 'co'] });
    // every marked step gives a response where the gas really changed
    expect(evaluation.channels.find(({ channel }) => channel === 'co')?.responses.length).toBeGreaterThanOrEqual(3);
  });

  it('fails a CO cell that has lost a fifth, and names the pattern', () => {
    const test = runPlan('low-span', 7302);
    const { evaluation, faults } = roundResult(test, test.rounds[0]!);
    const headline = headlineOf(evaluation, test.limits);
    expect(headline).toMatchObject({ kind: 'not-fit', channel: 'co' });
    expect(faults[0]).toMatchObject({ pattern: 'low-span', channel: 'co' });
  });

  it('is a document: what is saved reads back the same', () => {
    const test = runPlan('bench-healthy', 7303);
    expect(BenchTest.parse(JSON.parse(JSON.stringify(test)))).toEqual(test);
    expect(JSON.stringify(test).length).toBeLessThan(200_000);
  });

  it('judges nothing while no limits were chosen', () => {
    const test = runPlan('bench-healthy', 7304);
    delete test.limits;
    const { evaluation } = roundResult(test, test.rounds[0]!);
    expect(headlineOf(evaluation, undefined)).toEqual({ kind: 'not-judged' });
  });
});

describe('what can go wrong on the way', () => {
  const test = practiceTest();
  const flat = (column: ReturnType<typeof createColumn>, fromS: number, toS: number, values: { o2: number; co: number }): void => {
    for (let s = fromS; s < toS; s++)
      column.push({ timeMs: s * 1000, values: { o2: values.o2 + 0.02 * (s % 2), co: values.co + (s % 3) } });
  };
  const column = () => createColumn({ channels: ['o2', 'co'], levels: levelsOf(test) });
  const step = (slot: 'air' | 'high' | 'low') => ({ id: 's1', purpose: 'point' as const, slot, holdS: 60 });

  it('recognises the gas of a step without a mark', () => {
    const one = column();
    one.begin(step('air'), 0, false);
    expect(one.state().phase).toBe('switch');
    flat(one, 1, 40, { o2: 20.9, co: 0 });
    expect(one.state().phase).toBe('holding');
    flat(one, 40, 100, { o2: 20.9, co: 0 });
    expect(one.state().phase).toBe('closed');
  });

  it('settles in fresh air where the plan has no bottle at all', () => {
    const one = createColumn({ channels: ['o2', 'co'], levels: levelsOf({ ...test, gases: [] }) });
    one.begin(step('air'), 0, false);
    flat(one, 1, 100, { o2: 20.9, co: 0 });
    expect(one.state().phase).toBe('closed');
  });

  it('says that nothing moved after the switch', () => {
    const one = column();
    one.begin(step('air'), 0, false);
    flat(one, 1, 90, { o2: 20.9, co: 0 });
    one.begin(step('high'), 90_000, false);
    one.mark(95_000);
    flat(one, 90, 150, { o2: 20.9, co: 0 });
    expect(one.state().phase).toBe('arriving');
    flat(one, 150, 200, { o2: 20.9, co: 0 });
    expect(one.state().phase).toBe('no-change');
  });

  it('holds the step back at another gas of the plan, until a person says it is the right one', () => {
    const one = column();
    one.begin(step('air'), 0, false);
    flat(one, 1, 90, { o2: 20.9, co: 0 });
    one.begin(step('high'), 90_000, false);
    one.mark(92_000);
    flat(one, 92, 200, { o2: 4, co: 100 });
    expect(one.state()).toMatchObject({ phase: 'other-gas', looksLike: 'low' });
    one.acceptGas();
    expect(one.state().phase).toBe('closed');
  });

  it('says that no gas of the plan reads like this', () => {
    const one = column();
    one.begin(step('air'), 0, false);
    flat(one, 1, 90, { o2: 20.9, co: 0 });
    one.begin(step('high'), 90_000, false);
    one.mark(92_000);
    flat(one, 92, 200, { o2: 12.5, co: 480 });
    expect(one.state()).toMatchObject({ phase: 'other-gas', looksLike: undefined });
  });

  it('takes a press that comes a moment after the gas for one at the same moment', () => {
    for (const lateMs of [200, 700, 1500, 3500]) {
      const one = column();
      one.begin(step('air'), 0, false);
      flat(one, 1, 90, { o2: 20.9, co: 0 });
      one.begin(step('high'), 90_000, false);
      flat(one, 92, 92 + Math.ceil(lateMs / 1000), { o2: 4, co: 480 });
      one.mark(92_000 + lateMs);
      flat(one, 92 + Math.ceil(lateMs / 1000), 130, { o2: 4, co: 480 });
      expect([lateMs, one.state().phase]).toEqual([lateMs, 'other-gas']);
      one.acceptGas();
      expect(one.state().phase).toBe('holding');
      flat(one, 130, 160, { o2: 4, co: 480 });
      expect(one.state().phase).toBe('closed');
    }
  });

  it('says that another gas is on although the press came long after it', () => {
    const one = column();
    one.begin(step('air'), 0, false);
    flat(one, 1, 90, { o2: 20.9, co: 0 });
    one.begin(step('high'), 90_000, false);
    flat(one, 92, 150, { o2: 12.5, co: 480 });
    one.mark(150_000);
    flat(one, 150, 175, { o2: 12.5, co: 480 });
    expect(one.state().phase).toBe('arriving');
    flat(one, 175, 200, { o2: 12.5, co: 480 });
    expect(one.state().phase).toBe('other-gas');
  });

  it('goes on where it was after the instrument was unplugged, without a response time over the gap', () => {
    const one = column();
    one.begin(step('air'), 0, false);
    flat(one, 1, 90, { o2: 20.9, co: 0 });
    one.begin(step('high'), 90_000, false);
    one.mark(92_000);
    flat(one, 92, 120, { o2: 4, co: 1000 });
    one.gap();
    expect(one.state().phase).toBe('arriving');
    flat(one, 300, 400, { o2: 4, co: 1000 });
    expect(one.state().phase).toBe('closed');
    const done = one.take(0) as DoneStep;
    expect(done.application?.channels.co?.plateau.mean).toBeCloseTo(1001, 0);
    expect(done.application?.channels.co?.response).toBeUndefined();
    expect(done.curve).toBeUndefined();
  });
});

describe('practice bottles', () => {
  it('each stand for a gas of the simulated inlet', () => {
    expect(practiceTest().gases.map(({ gas }) => inletFor(gas))).toEqual(['nitrogen', 'co-1000', 'co-100']);
    expect(keepsGas(practiceTest().plan.steps, 3)).toBe(false);
    expect(exampleLimits.length).toBeGreaterThan(0);
  });
});
