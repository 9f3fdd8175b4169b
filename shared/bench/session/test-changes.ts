/** What happens to a bench test, as pure changes: a test in, a test out. What is signed comes out as it went in. */
import type { BenchTest, DoneStep } from '../bench-test.ts';
import { nextStepIndex } from '../bench-test.ts';
import type { BenchLimits } from '../limits.ts';
import type { PlanStep } from '../plan.ts';

export type TestChange = (test: BenchTest) => BenchTest;

const unlessSigned =
  (change: TestChange): TestChange =>
  (test) =>
    test.signature === undefined ? change(test) : test;

/** A step of the running round is over; with the last one the test is done. @param wallMs when */
export const withStep = (done: DoneStep, wallMs: number): TestChange =>
  unlessSigned(({ mark: _, ...test }) => {
    const next: BenchTest = {
      ...test,
      rounds: test.rounds.map((round, i) => (i === test.rounds.length - 1 ? { ...round, steps: [...round.steps, done] } : round)),
    };
    return nextStepIndex(next) < next.plan.steps.length ? next : { ...next, status: 'done', endedWallMs: Math.round(wallMs) };
  });

/** The gas of this step was switched. @param timeMs run time */
export const withMark = (stepId: string, timeMs: number): TestChange =>
  unlessSigned((test) => ({ ...test, mark: { stepId, runId: test.runId, timeMs } }));

/** The same step once more, after the others of the plan; what was done before stays. */
export const withRepeat = (step: PlanStep): TestChange =>
  unlessSigned(({ endedWallMs: _, ...test }) => ({
    ...test,
    status: 'open',
    plan: {
      ...test.plan,
      steps: [...test.plan.steps, { ...step, id: `${step.id.split('r')[0]}r${test.plan.steps.length}`.slice(0, 40) }],
    },
  }));

/** The instrument was adjusted: the plan starts again as left. @param startedMs since the start of the test */
export const withAsLeft = (adjustment: string, startedMs: number): TestChange =>
  // the gas was switched before it, and what was read since does not count as left
  unlessSigned(({ endedWallMs: _, mark: _before, ...test }) => ({
    ...test,
    status: 'open',
    adjustment: test.adjustment === undefined ? adjustment : `${test.adjustment}; ${adjustment}`,
    rounds: [...test.rounds, { kind: 'as-left', startedMs: Math.max(0, startedMs), steps: [] }],
  }));

/** The instrument goes on at another source. */
export const withRun = (runId: string): TestChange => unlessSigned(({ mark: _, ...test }) => ({ ...test, runId }));

export const withLimits = (limits: BenchLimits): TestChange => unlessSigned((test) => ({ ...test, limits }));

/** Nothing more is measured. */
export const closedTest = (wallMs: number): TestChange =>
  unlessSigned((test) => ({ ...test, status: 'done', endedWallMs: test.endedWallMs ?? Math.round(wallMs) }));

/** A person ended it before its plan was done: it is not gone on with. */
export const isEndedEarly = (test: BenchTest): boolean => test.status === 'done' && nextStepIndex(test) < test.plan.steps.length;

/** This very step is the next one of the test; a test with another plan, or one that was ended, has no part in it. */
export const stepIsNext = (test: BenchTest, index: number, step: PlanStep): boolean =>
  test.status === 'open' && nextStepIndex(test) === index && isSameStep(test.plan.steps[index], step);

const isSameStep = (a: PlanStep | undefined, b: PlanStep): boolean => JSON.stringify(a) === JSON.stringify(b);

/** Tests that have the same steps before them can be led side by side. */
export const haveSamePlan = ({ plan: a }: BenchTest, { plan: b }: BenchTest): boolean =>
  JSON.stringify(a.steps) === JSON.stringify(b.steps);
