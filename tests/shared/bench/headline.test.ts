/** The short verdict of a test, and the figures it rests on, where they are easily said too well. */
import { describe, expect, it } from 'vitest';
import type { BenchTest, DoneStep } from '../../../shared/bench/bench-test.ts';
import type { BenchLimits } from '../../../shared/bench/limits.ts';
import type { BenchPlan, GasSlot } from '../../../shared/bench/plan.ts';
import { evaluate } from '../../../shared/bench/results/evaluate.ts';
import { gasRows, headlineOf, roundResult } from '../../../shared/bench/results/test-result.ts';
import { certificateOf } from '../../../shared/report/certificate/bench-certificate.ts';
import { headlineText } from '../../../shared/words/bench/bench-headline.ts';
import { practiceTest } from './run-plan.ts';

const limits = (errorAbsolute: number): BenchLimits => ({
  format: 1,
  name: 'own',
  date: '2026',
  decisionRule: 'simple',
  lines: [{ channel: 'co', errorAbsolute, source: 'typed for this test' }],
});
const step = (stepId: string, co: number | undefined, atMs = 60_000): DoneStep =>
  co === undefined
    ? { stepId, end: 'not-reached', why: 'the bottle was empty', atMs }
    : {
        stepId,
        end: 'reached',
        atMs,
        application: {
          fromMs: atMs - 60_000,
          toMs: atMs,
          channels: { co: { plateau: { mean: co, sd: 0.5, n: 60, nEff: 60, u: 0.1, fromS: 0, toS: 60 }, resolution: 1 } },
        },
      };
/** air, then the high gas (CO 1 000 ppm) as often as there are readings */
function testOf(high: readonly (number | undefined)[], limit: number, changes: Partial<BenchTest> = {}): BenchTest {
  const plan: BenchPlan = {
    format: 1,
    name: 'own',
    steps: ['air', ...high.map(() => 'high')].map((slot, at) => ({
      id: `s${at + 1}`,
      purpose: slot === 'air' ? 'fresh-air' : 'span',
      slot: slot as GasSlot,
      holdS: 60,
    })),
  };
  const base = practiceTest(plan);
  const steps = [step('s1', 0), ...high.map((co, at) => step(`s${at + 2}`, co, 180_000 * (at + 1)))];
  return { ...base, status: 'done', limits: limits(limit), rounds: [{ kind: 'as-found', startedMs: 0, steps }], ...changes };
}
const resultOf = (test: BenchTest) => roundResult(test, test.rounds[0]!);
const certificate = (test: BenchTest) => certificateOf({ test, hash: 'ab'.repeat(32), software: 'x' });

describe('the verdict of a test', () => {
  it('a gas that was read too high once and too low once is not passed by their mean', () => {
    const test = testOf([1012, 988], 10);
    const { evaluation } = resultOf(test);
    expect(evaluation.verdict).toBe('fail');
    expect(headlineOf(evaluation, test.limits)).toMatchObject({ kind: 'not-fit', channel: 'co' });
    expect(gasRows(evaluation, test.limits).find(({ level }) => level === 'high')).toMatchObject({ verdict: 'fail', error: 12 });
    expect(certificate(test).verdict.verdict).toBe('fail');
  });

  it('a repeat outside by less than the step of the display leaves the mean to judge', () => {
    const { evaluation } = resultOf(testOf([1010.3, 1000], 10));
    expect(gasRows(evaluation, limits(10)).find(({ level }) => level === 'high')).toMatchObject({ verdict: 'pass', reading: 1005.15 });
  });

  it('repeats that pass show their mean', () => {
    const { evaluation } = resultOf(testOf([1004, 1000], 10));
    expect(gasRows(evaluation, limits(10)).find(({ level }) => level === 'high')).toMatchObject({
      verdict: 'pass',
      reading: 1002,
      error: 2,
    });
  });

  it('is not "fit" for a channel whose gas was never read: clean air alone shows nothing of its span', () => {
    const test = testOf([undefined], 10);
    const headline = headlineOf(resultOf(test).evaluation, test.limits);
    expect(headline.kind).not.toBe('fit');
    expect(headlineText(headline)).toMatch(/^Not judged: CO was not measured at 1.000.ppm\.$/u);
    expect(certificate(test).verdict.verdict).toBe('not-judged');
    expect(certificate(testOf([1002], 10)).verdict.sentence).toBe('Fit for CO.');
  });

  it('exactly at the limit of linearity is inside it (EPA CTM-030: at most 2.5 % of the span gas), a little more is not', () => {
    const at = (reading: number) => {
      const references = [0, 10.45, 20.9].map((value, n) => ({ key: `g${n}`, components: { o2: { value, expanded: 0.01 } } }));
      const plateau = (mean: number) => ({ mean, sd: 0.01, n: 60, nEff: 60, u: 0.01, fromS: 0, toS: 60, slopePerS: 0 });
      const applications = [0, reading, 20.9].map((mean, n) => ({
        level: `g${n}`,
        markMs: undefined,
        fromMs: n * 60_000,
        toMs: n * 60_000 + 60_000,
        channels: { o2: { plateau: plateau(mean), response: undefined, resolution: 0.1 } },
        open: false,
      }));
      const lines = [{ channel: 'o2' as const, linearityPercentOfSpan: 2.5, source: 'US EPA CTM-030' }];
      return evaluate({ applications, references, limits: { ...limits(1), lines } }).channels[0]?.linearity?.verdict;
    };
    expect(at(10.9725)).toBe('pass');
    expect(at(9.9275)).toBe('pass');
    expect(at(10.9735)).toBe('fail');
  });

  it('a channel that fails fails, whatever else is missing', () => {
    const test = testOf([undefined], 10);
    const [found] = test.rounds;
    const bad = { ...test, rounds: [{ ...found!, steps: [step('s1', 40), ...found!.steps.slice(1)] }] };
    expect(headlineOf(resultOf(bad).evaluation, bad.limits).kind).toBe('not-fit');
  });
});

describe('the figures on paper', () => {
  it.each([
    [1012.8, 12.5, 'fail'],
    [1012.55, 12.6, 'pass'],
    [1013.3, 13, 'fail'],
    [1010, 10, 'pass'],
    [1010.04, 10, 'fail'],
  ] as const)('a reading of %d with a limit of %d: error and limit say what the verdict says (%s)', (reading, limit, verdict) => {
    const row = certificate(testOf([reading], limit)).rounds[0]!.rows.find(({ reference }) => /1.000/u.test(reference))!;
    const number = (text: string): number => Math.abs(Number(text.replace(/[^\d.]/g, '')));
    expect(row.verdict).toBe(verdict);
    expect(number(row.limit)).toBe(limit);
    expect(number(row.error) > number(row.limit)).toBe(verdict === 'fail');
  });

  it('a bottle that expired while the test went on is said to have, and the day is that of the place', () => {
    const day = 86_400_000;
    const expiring = (test: BenchTest, expires: string): BenchTest => ({
      ...test,
      gases: test.gases.map((use) => ({ ...use, gas: { ...use.gas, expires } })),
    });
    const noteOf = (test: BenchTest) => certificate(test).gases.find(({ bottle }) => bottle !== '')?.note;
    const base = testOf([1000], 10);
    // begun on 24 November at 10 o'clock, UTC+1
    expect(noteOf(expiring(base, '2026-11-24'))).toBeUndefined();
    expect(noteOf(expiring(base, '2026-11-23'))).toContain('expired');
    const later: BenchTest = {
      ...base,
      rounds: [
        base.rounds[0]!,
        { kind: 'as-left', startedMs: 3 * day, steps: [step('s1', 0, 3 * day + 60_000), step('s2', 1000, 3 * day + 240_000)] },
      ],
    };
    expect(noteOf(expiring(later, '2026-11-24'))).toContain('expired');
    // half past midnight in the east, still the day before in UTC
    const night = { ...base, startedWallMs: Date.UTC(2026, 10, 24, 23, 30) };
    expect(noteOf(expiring(night, '2026-11-24'))).toContain('expired');
    expect(noteOf(expiring({ ...night, zoneMinutes: -300 }, '2026-11-24'))).toBeUndefined();
  });
});
