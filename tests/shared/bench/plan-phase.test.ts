/** Where the tests of a session are in their plan, as a reducer: an array of happenings in, what is to be done out. No lines, no clock. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { BenchTest, DoneStep } from '../../../shared/bench/bench-test.ts';
import type { BenchPlan } from '../../../shared/bench/plan.ts';
import {
  isAwaited,
  nextPlan,
  planOf,
  pressCounts,
  type PlanDeed,
  type PlanHappening,
  type PlanState,
} from '../../../shared/bench/session/plan-phase.ts';
import { withRepeat } from '../../../shared/bench/session/test-changes.ts';
import { practiceTest } from './run-plan.ts';

const plan: BenchPlan = {
  format: 1,
  name: 'four steps',
  steps: [
    { id: 's1', purpose: 'fresh-air', slot: 'air', holdS: 30 },
    { id: 's2', purpose: 'span', slot: 'high', holdS: 30 },
    { id: 's3', purpose: 'noise', slot: 'high', holdS: 30 },
    { id: 's4', purpose: 'fresh-air', slot: 'air', holdS: 30 },
  ],
};
const WALL = Date.UTC(2026, 10, 24, 10);
const signature = { name: 'B. Tester', wallMs: WALL };
const seats = (...ids: string[]) => ids.map((id) => ({ id, test: { ...practiceTest(plan), runId: `run of ${id}` } }));

const ended = (id: string, stepId: string, end: DoneStep['end'] = 'reached', why?: string): PlanHappening => ({
  kind: 'step-ended',
  id,
  end,
  why,
  taken: { stepId, atMs: 7000 },
  wallMs: WALL,
});
const stopped = (...ids: string[]): PlanHappening => ({
  kind: 'stopped',
  why: 'noon',
  at: new Map(ids.map((id) => [id, { taken: { stepId: 'x', atMs: 9000 }, wallMs: WALL }])),
});

function after(state: PlanState, ...happenings: PlanHappening[]): { state: PlanState; deeds: readonly PlanDeed[] } {
  let deeds: readonly PlanDeed[] = [];
  for (const one of happenings) ({ state, deeds } = nextPlan(state, one));
  return { state, deeds };
}
const shown = ({ phase }: PlanState) => (phase.kind === 'step' ? [phase.step.id, ...phase.awaited] : ['over', phase.index]);
const said = (deeds: readonly PlanDeed[]) => deeds.map((deed) => `${deed.kind} ${deed.id}`);
const stepsOf = ({ tests }: PlanState, id: string) => tests.get(id)?.rounds[0]?.steps.map(({ stepId, end }) => `${stepId} ${end}`);

describe('a step', () => {
  it('ends for each by itself, and begins for all when it has ended for all', () => {
    const one = after(planOf(seats('a', 'b')), ended('a', 's1'));
    expect(shown(one.state)).toEqual(['s1', 'b']);
    expect(said(one.deeds)).toEqual(['changed a']);
    // ended once is ended: the same word again, or a press, changes nothing
    for (const again of [ended('a', 's1'), { kind: 'pressed', id: 'a', timeMs: 1 } as const])
      expect(after(one.state, again)).toEqual({ state: one.state, deeds: [] });
    const both = after(one.state, ended('b', 's1'));
    expect(shown(both.state)).toEqual(['s2', 'a', 'b']);
    expect(said(both.deeds)).toEqual(['changed b', 'begin a', 'begin b']);
  });

  it('comes with its gas where the step before left it there, and only for whom it came', () => {
    const { deeds } = after(planOf(seats('a', 'b')), ended('a', 's1'), ended('b', 's1'), ended('a', 's2'), ended('b', 's2', 'not-reached'));
    expect(deeds.flatMap((deed) => (deed.kind === 'begin' ? [[deed.id, deed.step.id, deed.keepsGas]] : []))).toEqual([
      ['a', 's3', true],
      ['b', 's3', false],
    ]);
  });

  it('that did not bring its gas keeps the reason and the time, and nothing that was measured', () => {
    const { state } = after(planOf(seats('a')), {
      ...(ended('a', 's1', 'not-reached', 'bottle empty') as Extract<PlanHappening, { kind: 'step-ended' }>),
      taken: { stepId: 's1', atMs: 7000, absent: ['co'] },
    });
    expect(state.tests.get('a')?.rounds[0]?.steps).toEqual([{ stepId: 's1', end: 'not-reached', atMs: 7000, why: 'bottle empty' }]);
  });

  it('a reached one keeps what was taken, and drops the mark; the last one ends the test', () => {
    const marked = after(planOf(seats('a')), { kind: 'pressed', id: 'a', timeMs: 4000 });
    expect(marked.state.tests.get('a')?.mark).toEqual({ stepId: 's1', runId: 'run of a', timeMs: 4000 });
    const done = after(marked.state, ended('a', 's1'), ended('a', 's2'), ended('a', 's3'));
    expect(done.state.tests.get('a')?.mark).toBeUndefined();
    expect(done.state.tests.get('a')?.status).toBe('open');
    const last = after(done.state, ended('a', 's4'));
    expect(shown(last.state)).toEqual(['over', 4]);
    expect(said(last.deeds)).toEqual(['changed a']);
    expect(last.state.tests.get('a')).toMatchObject({ status: 'done', endedWallMs: WALL });
  });
});

describe('a press', () => {
  const start = planOf(seats('a'));
  it('marks the column first, then the test', () => {
    expect(after(start, { kind: 'pressed', id: 'a', timeMs: 4000 }).deeds).toEqual([
      { kind: 'mark', id: 'a', timeMs: 4000 },
      { kind: 'changed', id: 'a' },
    ]);
  });
  it('counts once, until the instrument says that nothing came of it; never for another step', () => {
    expect(pressCounts(start, 'a', 's1', 'arriving')).toBe(true);
    expect(pressCounts(start, 'a', 's2', 'arriving')).toBe(false);
    expect(pressCounts(start, 'nobody', 's1', 'arriving')).toBe(false);
    const { state } = after(start, { kind: 'pressed', id: 'a', timeMs: 4000 });
    const counts = (['switch', 'arriving', 'no-change', 'other-gas', 'holding', 'closed'] as const).filter((seen) =>
      pressCounts(state, 'a', 's1', seen),
    );
    expect(counts).toEqual(['switch', 'no-change', 'other-gas']);
  });
});

describe('the rest left out', () => {
  it('closes every step for everyone, from where each of them is', () => {
    const { state, deeds } = after(planOf(seats('a', 'b')), ended('a', 's1'), stopped('a', 'b'));
    expect(shown(state)).toEqual(['over', 4]);
    expect(stepsOf(state, 'a')).toEqual(['s1 reached', 's2 left-out', 's3 left-out', 's4 left-out']);
    expect(stepsOf(state, 'b')).toEqual(['s1 left-out', 's2 left-out', 's3 left-out', 's4 left-out']);
    expect(state.tests.get('b')?.rounds[0]?.steps[3]).toEqual({ stepId: 's4', end: 'left-out', atMs: 9000, why: 'noon' });
    expect(deeds.filter(({ kind }) => kind === 'begin')).toHaveLength(6);
  });
  it('comes to an end though one of them is signed and does not move', () => {
    const [a, b] = seats('a', 'b');
    const { state } = after(planOf([a!, { ...b!, test: { ...b!.test, signature } }]), stopped('a', 'b'));
    expect(shown(state)).toEqual(['s1', 'b']);
    expect(stepsOf(state, 'b')).toEqual([]);
  });
});

describe('changes from elsewhere', () => {
  it('a repeat opens the plan again where it was over', () => {
    const over = after(planOf(seats('a')), stopped('a')).state;
    const test = withRepeat(plan.steps[1]!)(over.tests.get('a') as BenchTest);
    const { state, deeds } = after(over, { kind: 'replaced', id: 'a', test });
    expect(shown(state)).toEqual(['s2r4', 'a']);
    expect(deeds).toEqual([]);
  });
  it('an instrument that moves to another run is looked at anew there; a signed one stays', () => {
    const { state, deeds } = after(planOf(seats('a')), { kind: 'pressed', id: 'a', timeMs: 1 }, { kind: 'moved', id: 'a', runId: 'r2' });
    expect(said(deeds)).toEqual(['changed a', 'place-anew a']);
    expect(state.tests.get('a')).toMatchObject({ runId: 'r2' });
    expect(state.tests.get('a')?.mark).toBeUndefined();
    const signed = planOf(seats('a').map(({ id, test }) => ({ id, test: { ...test, signature } })));
    expect(after(signed, { kind: 'moved', id: 'a', runId: 'r2' }).deeds).toEqual([]);
  });
});

describe('whatever happens, in any order', () => {
  const id = fc.constantFrom('a', 'b', 'nobody');
  const happening = fc.oneof(
    id.map((one): PlanHappening => ({ kind: 'pressed', id: one, timeMs: 5 })),
    fc.tuple(id, fc.constantFrom('reached', 'not-reached', 'left-out')).map(([one, end]): PlanHappening => ended(one, 'x', end)),
    fc.constant(stopped('a', 'b')),
    id.map((one): PlanHappening => ({ kind: 'moved', id: one, runId: 'r2' })),
  );
  it('nobody is more than a step ahead, no step is closed twice, and the plan never goes back', () => {
    fc.assert(
      fc.property(fc.array(happening, { maxLength: 25 }), (happenings) => {
        let state = planOf(seats('a', 'b'));
        for (const one of happenings) {
          const { index } = state.phase;
          state = nextPlan(state, one).state;
          expect(state.phase.index).toBeGreaterThanOrEqual(index);
          for (const of of ['a', 'b']) {
            const closed = stepsOf(state, of)?.length ?? 0;
            expect(closed - state.phase.index).toBe(state.phase.kind === 'over' || isAwaited(state, of) ? 0 : 1);
          }
        }
      }),
    );
  });
});
