/**
 * One to four instruments going through one plan: lines and a person's words in, changed tests out. No clock, no disk, no window;
 * the lines carry the time. Where the plan stands, and what follows from what happens, is plan-phase's; here are the columns that see the gas.
 */
import type { Sample } from '../../measurement/sample.ts';
import type { BenchTest, DoneStep } from '../bench-test.ts';
import { lastRound, nextStepIndex } from '../bench-test.ts';
import { createColumn, type Column, type ColumnState } from './column.ts';
import type { BenchChannel } from '../instrument.ts';
import type { PlanStep } from '../plan.ts';
import {
  comesWithGas,
  isAwaited,
  nextPlan,
  planOf,
  pressCounts,
  type PlanDeed,
  type PlanHappening,
  type PlanState,
  type Taken,
} from './plan-phase.ts';
import { channelsOf, levelsOf, targetOf } from '../references.ts';
import { haveSamePlan } from './test-changes.ts';

/** What was captured of a run before the session looked at it. */
export type Past = { readonly nowMs: number; readonly samples: readonly Sample[]; readonly gapsFromMs: readonly number[] };
export type Seat = { readonly id: string; readonly test: BenchTest; readonly startWallMs: number | undefined; readonly past: Past };
export type Heard = {
  readonly runId: string;
  readonly samples: readonly Sample[];
  readonly gapsFromMs: readonly number[];
  /** a replay went back: what was heard before is void */
  readonly restarted: boolean;
};
export type WayPoints = { readonly channel: BenchChannel; readonly points: readonly (readonly [number, number])[] };
export type SessionColumn = ColumnState & { readonly testId: string; readonly way: WayPoints | undefined };

export interface PlanSession {
  readonly testIds: readonly string[];
  stepIndex(): number;
  step(): PlanStep | undefined;
  test(id: string): BenchTest | undefined;
  columns(): SessionColumn[];
  /** is anything of this session measured with this run? */
  uses(runId: string): boolean;
  /** Each returns the ids of the tests that it changed. */
  hear(heard: Heard): string[];
  /** does a press for this step say anything new? */
  pressCounts(id: string, stepId: string): boolean;
  /** the gas was switched at this run time */
  press(id: string, timeMs: number): string[];
  accept(id: string): void;
  /** the running step ends without its gas */
  skip(ids: readonly string[], end: 'not-reached' | 'left-out', why: string): string[];
  /** the rest of the plan is left out for all */
  stop(why: string): string[];
  moveTo(id: string, runId: string, startWallMs: number, past: Past): string[];
  /** something else of the test changed: its limits */
  replace(id: string, test: BenchTest): void;
}

type Place = {
  column: Column;
  runId: string;
  /** undefined: the run is gone */
  startWallMs: number | undefined;
  /** the step that the column was begun with */
  stepIndex: number;
  lastMs: number;
  gapMs: number;
};

/** what was read before the switch is needed for the way there */
const BEFORE_MS = 120_000;
const WAY_POINTS = 80;

/** From when on a session needs the past of a run: run time, ms. */
export function pastFromMs(test: BenchTest, startWallMs: number, nowMs: number): number {
  return Math.max(0, beginOf(test, nextStepIndex(test), startWallMs, nowMs).beginMs - BEFORE_MS);
}

const zeroOf = (test: BenchTest, startWallMs: number | undefined): number => test.startedWallMs - (startWallMs ?? test.startedWallMs);

function beginOf(
  test: BenchTest,
  index: number,
  startWallMs: number | undefined,
  nowMs: number,
): { beginMs: number; mark: number | undefined } {
  const step = test.plan.steps[index];
  const mark = step !== undefined && test.mark?.stepId === step.id && test.mark.runId === test.runId ? test.mark.timeMs : undefined;
  const ended = lastRound(test).steps[index - 1];
  const beginMs =
    ended === undefined ? Math.min(mark ?? nowMs, nowMs) : Math.min(zeroOf(test, startWallMs) + ended.atMs, mark ?? nowMs, nowMs);
  return { beginMs, mark };
}

/** Tests with one plan go through it side by side; another plan has a session of its own. */
export function groupsOf(seats: readonly Seat[]): Seat[][] {
  const groups: Seat[][] = [];
  for (const seat of seats) {
    const group = groups.find(([first]) => first !== undefined && haveSamePlan(first.test, seat.test));
    if (group === undefined) groups.push([seat]);
    else group.push(seat);
  }
  return groups;
}

export function createPlanSession(seats: readonly Seat[]): PlanSession {
  const testIds = seats.map(({ id }) => id);
  let plan: PlanState = planOf(seats);

  const step = (): PlanStep | undefined => (plan.phase.kind === 'step' ? plan.phase.step : undefined);

  const placed = ({ test, startWallMs, past }: Omit<Seat, 'id'>): Place => {
    const column = createColumn({ channels: channelsOf(test.instrument.cells), levels: levelsOf(test) });
    const place: Place = {
      column,
      runId: test.runId,
      startWallMs,
      stepIndex: plan.phase.index,
      lastMs: past.nowMs,
      gapMs: past.gapsFromMs.at(-1) ?? -1,
    };
    const now = step();
    if (now === undefined) return place;
    const { beginMs, mark } = beginOf(test, plan.phase.index, startWallMs, past.nowMs);
    const same = comesWithGas(plan, test);
    let begun = false;
    let marked = false;
    const reach = (timeMs: number): void => {
      if (!begun && timeMs >= beginMs) {
        // a run that began later cannot tell of the time before it, but the wall clock of a drift goes on
        column.begin(now, now.purpose === 'drift' ? beginMs : Math.max(0, beginMs), same);
        begun = true;
      }
      if (!marked && mark !== undefined && timeMs >= mark) {
        column.mark(mark);
        marked = true;
      }
    };
    const breaks = [...past.gapsFromMs];
    for (const sample of past.samples) {
      while (breaks[0] !== undefined && breaks[0] <= sample.timeMs) {
        column.gap();
        breaks.shift();
      }
      reach(sample.timeMs);
      column.push(sample);
    }
    if (breaks.length > 0) column.gap();
    reach(Number.POSITIVE_INFINITY);
    return place;
  };
  const places = new Map(seats.map((seat) => [seat.id, placed(seat)]));

  /** @param there where a test that moved is measured now. @returns the tests that changed */
  const happened = (what: PlanHappening, there?: Omit<Seat, 'id' | 'test'>): string[] => {
    const { state, deeds } = nextPlan(plan, what);
    plan = state;
    return deeds.flatMap((deed) => carryOut(deed, there));
  };
  const carryOut = (deed: PlanDeed, there: Omit<Seat, 'id' | 'test'> | undefined): string[] => {
    const place = places.get(deed.id);
    switch (deed.kind) {
      case 'changed':
        return [deed.id];
      case 'mark':
        place?.column.mark(deed.timeMs);
        return [];
      case 'begin':
        if (place === undefined) return [];
        place.stepIndex = deed.index;
        place.column.begin(deed.step, place.lastMs, deed.keepsGas);
        return [];
      case 'place-anew': {
        const test = plan.tests.get(deed.id);
        if (test !== undefined && there !== undefined) places.set(deed.id, placed({ test, ...there }));
        return [];
      }
    }
  };

  const takenOf = (id: string): { taken: Taken; wallMs: number } | undefined => {
    const [place, test] = [places.get(id), plan.tests.get(id)];
    if (place === undefined || test === undefined) return undefined;
    return {
      taken: place.column.take(zeroOf(test, place.startWallMs)),
      wallMs: (place.startWallMs ?? test.startedWallMs) + place.lastMs,
    };
  };
  const closeStep = (id: string, end: DoneStep['end'], why?: string): string[] => {
    const given = isAwaited(plan, id) ? takenOf(id) : undefined;
    return given === undefined ? [] : happened({ kind: 'step-ended', id, end, why, ...given });
  };

  const wayOf = (id: string): WayPoints | undefined => {
    const [test, place, now] = [plan.tests.get(id), places.get(id), step()];
    if (test === undefined || place === undefined || now === undefined || !isAwaited(plan, id)) return undefined;
    const before = test.plan.steps[plan.phase.index - 1];
    const curve = place.column.curve();
    const far = channelsOf(test.instrument.cells)
      .flatMap((channel) => {
        const to = targetOf(test, now.slot, channel);
        const from = before === undefined ? undefined : targetOf(test, before.slot, channel);
        const points = curve[channel] ?? [];
        return to === undefined || points.length < 2
          ? []
          : [{ channel, points, change: Math.abs(to - (from ?? to)) / Math.max(to, from ?? 0, 1e-9) }];
      })
      .sort((a, b) => b.change - a.change)[0];
    if (far === undefined) return undefined;
    const every = Math.max(1, Math.ceil(far.points.length / WAY_POINTS));
    return { channel: far.channel, points: far.points.filter((_, i) => i % every === 0) };
  };

  return {
    testIds,
    stepIndex: () => plan.phase.index,
    step,
    test: (id) => plan.tests.get(id),
    columns: () =>
      testIds.flatMap((testId) => {
        const place = places.get(testId);
        return place === undefined ? [] : [{ ...place.column.state(), testId, way: wayOf(testId) }];
      }),
    uses: (runId) => [...places.values()].some((place) => place.runId === runId),
    hear({ runId, samples, gapsFromMs, restarted }) {
      const changed: string[] = [];
      for (const [id, place] of places) {
        if (place.runId !== runId) continue;
        const test = plan.tests.get(id);
        if (restarted && test !== undefined)
          places.set(id, placed({ test, startWallMs: place.startWallMs, past: { nowMs: 0, samples: [], gapsFromMs: [] } }));
        const now = places.get(id) ?? place;
        const breaks = gapsFromMs.filter((fromMs) => fromMs > now.gapMs).sort((a, b) => a - b);
        now.gapMs = Math.max(now.gapMs, ...breaks);
        for (const sample of samples) {
          // a gap counts where it was, not before what was read ahead of it
          if (breaks[0] !== undefined && breaks[0] < sample.timeMs) {
            now.column.gap();
            while (breaks[0] !== undefined && breaks[0] < sample.timeMs) breaks.shift();
          }
          now.lastMs = Math.max(now.lastMs, sample.timeMs);
          now.column.push(sample);
          if (now.stepIndex === plan.phase.index && now.column.state().phase === 'closed') changed.push(...closeStep(id, 'reached'));
        }
        if (breaks.length > 0) now.column.gap();
      }
      return [...new Set(changed)];
    },
    pressCounts: (id, stepId) => pressCounts(plan, id, stepId, places.get(id)?.column.state().phase),
    press: (id, timeMs) => happened({ kind: 'pressed', id, timeMs }),
    accept: (id) => places.get(id)?.column.acceptGas(),
    skip: (ids, end, why) => [...new Set(ids.flatMap((id) => closeStep(id, end, why)))],
    stop(why) {
      const at = new Map(
        testIds.flatMap((id) => {
          const given = takenOf(id);
          return given === undefined ? [] : [[id, given] as const];
        }),
      );
      return [...new Set(happened({ kind: 'stopped', why, at }))];
    },
    moveTo: (id, runId, startWallMs, past) => happened({ kind: 'moved', id, runId }, { startWallMs, past }),
    replace: (id, test) => void happened({ kind: 'replaced', id, test }),
  };
}
