/**
 * Where one to four tests are in their plan, as a pure reducer: every phase is written here, with what may happen in it and what is to be
 * done then. It sees no lines: whether the gas is there, and what a step gave, the columns say.
 */
import { lastRound, nextStepIndex, type BenchTest, type DoneStep } from '../bench-test.ts';
import type { ColumnPhase } from './column.ts';
import { keepsGas, type PlanStep } from '../plan.ts';
import { stepIsNext, withMark, withRun, withStep } from './test-changes.ts';
import { wholeStep } from '../results/whole-step.ts';
import { defined } from '../../defined.ts';

export type PlanPhase =
  /** the step goes on until it has ended for every one of `awaited` */
  | { readonly kind: 'step'; readonly index: number; readonly step: PlanStep; readonly awaited: readonly string[] }
  /** nothing of the plan is left */
  | { readonly kind: 'over'; readonly index: number };

/** `tests` in the order of the seats; the first one's plan is the plan of all. `rounds`: how many each had when it was seated */
export type PlanState = {
  readonly tests: ReadonlyMap<string, BenchTest>;
  readonly rounds: ReadonlyMap<string, number>;
  readonly phase: PlanPhase;
};

/** What a column gave of a step; undefined: it had not begun. */
export type Taken = Omit<DoneStep, 'end' | 'why'> | undefined;

export type PlanHappening =
  /** the gas was switched at this run time */
  | { readonly kind: 'pressed'; readonly id: string; readonly timeMs: number }
  | {
      readonly kind: 'step-ended';
      readonly id: string;
      readonly end: DoneStep['end'];
      readonly why?: string | undefined;
      readonly taken: Taken;
      readonly wallMs: number;
    }
  /** the rest of the plan is left out for all */
  | {
      readonly kind: 'stopped';
      readonly why: string;
      readonly at: ReadonlyMap<string, { readonly taken: Taken; readonly wallMs: number }>;
    }
  | { readonly kind: 'moved'; readonly id: string; readonly runId: string }
  /** something else of the test changed: its limits, its plan, its signature */
  | { readonly kind: 'replaced'; readonly id: string; readonly test: BenchTest };

export type PlanDeed =
  | { readonly kind: 'changed'; readonly id: string }
  | { readonly kind: 'mark'; readonly id: string; readonly timeMs: number }
  | { readonly kind: 'begin'; readonly id: string; readonly index: number; readonly step: PlanStep; readonly keepsGas: boolean }
  /** it is measured with another run: what was heard of the one before is left */
  | { readonly kind: 'place-anew'; readonly id: string };

type Next = { readonly state: PlanState; readonly deeds: readonly PlanDeed[] };

export function planOf(tests: readonly { readonly id: string; readonly test: BenchTest }[]): PlanState {
  const seated = {
    tests: new Map(tests.map(({ id, test }) => [id, test])),
    rounds: new Map(tests.map(({ id, test }) => [id, test.rounds.length])),
  };
  const open = tests.filter(({ test }) => test.status === 'open');
  return stateAt(seated, Math.min(...(open.length > 0 ? open : tests).map(({ test }) => nextStepIndex(test))));
}

type Seated = Pick<PlanState, 'tests' | 'rounds'>;

function stateAt({ tests, rounds }: Seated, index: number): PlanState {
  const step = stepsOf(tests)[index];
  if (step === undefined) return { tests, rounds, phase: { kind: 'over', index } };
  // a test that was adjusted meanwhile begins its plan anew, which is for another session to lead
  const isAwaitedNow = ([id, test]: [string, BenchTest]): boolean => test.rounds.length === rounds.get(id) && stepIsNext(test, index, step);
  return { tests, rounds, phase: { kind: 'step', index, step, awaited: [...tests].filter(isAwaitedNow).map(([id]) => id) } };
}
const withTest = ({ tests, rounds }: Seated, id: string, test: BenchTest): Seated => ({ tests: new Map(tests).set(id, test), rounds });

const stepsOf = (tests: ReadonlyMap<string, BenchTest>): readonly PlanStep[] => tests.values().next().value?.plan.steps ?? [];

/** The gas of the running step is at the inlet already: what was left out or never reached did not bring it. */
export const comesWithGas = ({ tests, phase }: PlanState, test: BenchTest): boolean =>
  keepsGas(stepsOf(tests), phase.index) && lastRound(test).steps[phase.index - 1]?.end === 'reached';

export const isAwaited = ({ phase }: PlanState, id: string): boolean => phase.kind === 'step' && phase.awaited.includes(id);

/**
 * Does a press for this step say anything new? Two windows press for one change of gas: the first one counts, until the instrument says
 * that nothing came of it.
 */
export function pressCounts(state: PlanState, id: string, stepId: string, seen: ColumnPhase | undefined): boolean {
  if (state.phase.kind !== 'step' || state.phase.step.id !== stepId || !isAwaited(state, id)) return false;
  return state.tests.get(id)?.mark?.stepId !== stepId || seen === 'no-change' || seen === 'other-gas' || seen === 'switch';
}

export function nextPlan(state: PlanState, what: PlanHappening): Next {
  switch (what.kind) {
    case 'pressed': {
      if (state.phase.kind !== 'step' || !isAwaited(state, what.id)) return { state, deeds: [] };
      const marked = changed(state, what.id, withMark(state.phase.step.id, what.timeMs));
      return { state: marked.state, deeds: [{ kind: 'mark', id: what.id, timeMs: what.timeMs }, ...marked.deeds] };
    }
    case 'step-ended':
      return stepEnded(state, what);
    case 'stopped':
      return stopped(state, what);
    case 'moved': {
      const moved = changed(state, what.id, withRun(what.runId));
      return moved.deeds.length === 0 ? moved : { ...moved, deeds: [...moved.deeds, { kind: 'place-anew', id: what.id }] };
    }
    case 'replaced': {
      const wasAwaited = isAwaited(state, what.id);
      const replaced = stateAt(withTest(state, what.id, what.test), state.phase.index);
      // the last one that the step went on for was ended: the others do not wait for it
      return wasAwaited ? goOn({ state: replaced, deeds: [] }) : { state: replaced, deeds: [] };
    }
  }
}

function changed(state: PlanState, id: string, to: (test: BenchTest) => BenchTest): Next {
  const test = state.tests.get(id);
  const next = test === undefined ? undefined : to(test);
  if (next === undefined || next === test) return { state, deeds: [] };
  return { state: stateAt(withTest(state, id, next), state.phase.index), deeds: [{ kind: 'changed', id }] };
}

/** A step ends for each instrument by itself; when it has ended for all, the plan goes on. */
function stepEnded(state: PlanState, { id, end, why, taken, wallMs }: Extract<PlanHappening, { kind: 'step-ended' }>): Next {
  if (state.phase.kind !== 'step' || !isAwaited(state, id)) return { state, deeds: [] };
  const done: DoneStep =
    end === 'reached' && taken !== undefined
      ? wholeStep({ ...taken, end })
      : {
          stepId: state.phase.step.id,
          end,
          atMs: taken?.atMs ?? 0,
          ...defined({ why: why === undefined || why === '' ? undefined : why }),
        };
  return goOn(changed(state, id, withStep(done, wallMs)));
}

/** To the next step, once this one is awaited for nobody any more. */
function goOn({ state, deeds }: Next): Next {
  if (state.phase.kind === 'over' || state.phase.awaited.length > 0) return { state, deeds };
  let next = stateAt(state, state.phase.index + 1);
  while (next.phase.kind === 'step' && next.phase.awaited.length === 0) next = stateAt(next, next.phase.index + 1);
  return { state: next, deeds: [...deeds, ...begun(next)] };
}

function begun(state: PlanState): PlanDeed[] {
  const { tests, phase } = state;
  if (phase.kind === 'over') return [];
  const { index, step } = phase;
  return [...tests].map(([id, test]) => ({ kind: 'begin', id, index, step, keepsGas: comesWithGas(state, test) }));
}

function stopped(state: PlanState, { why, at }: Extract<PlanHappening, { kind: 'stopped' }>): Next {
  const deeds: PlanDeed[] = [];
  let now = state;
  while (now.phase.kind === 'step') {
    const { index } = now.phase;
    for (const [id, { taken, wallMs }] of at) {
      const next = stepEnded(now, { kind: 'step-ended', id, end: 'left-out', why, taken, wallMs });
      now = next.state;
      deeds.push(...next.deeds);
    }
    // a test that is signed or gone does not move; nothing is gained by asking it again
    if (now.phase.index === index) break;
  }
  return { state: now, deeds };
}
