/**
 * One to four instruments going through one plan: lines and a person's words in, changed tests out. No clock, no disk, no window;
 * the lines carry the time. A step ends for each instrument by itself; when it has ended for all, the plan goes on.
 */
import type { Sample } from '../measurement/sample.ts';
import type { BenchTest, DoneStep } from './bench-test.ts';
import { DoneStep as DoneStepSchema, lastRound, nextStepIndex } from './bench-test.ts';
import { createColumn, type Column, type ColumnState } from './column.ts';
import type { BenchChannel } from './instrument.ts';
import { keepsGas, type PlanStep } from './plan.ts';
import { channelsOf, levelsOf, targetOf } from './references.ts';
import { stepIsOpen, withMark, withRun, withStep } from './test-changes.ts';

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
export const BEFORE_MS = 120_000;
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

export function createPlanSession(seats: readonly Seat[]): PlanSession {
  const tests = new Map(seats.map(({ id, test }) => [id, test]));
  const testIds = seats.map(({ id }) => id);
  let stepIndex = Math.min(...seats.map(({ test }) => nextStepIndex(test)));
  const steps = (): readonly PlanStep[] => tests.get(testIds[0] ?? '')?.plan.steps ?? [];
  const step = (): PlanStep | undefined => steps()[stepIndex];

  const placed = ({ test, startWallMs, past }: Omit<Seat, 'id'>): Place => {
    const column = createColumn({ channels: channelsOf(test.instrument.cells), levels: levelsOf(test) });
    const place: Place = {
      column,
      runId: test.runId,
      startWallMs,
      stepIndex,
      lastMs: past.nowMs,
      gapMs: past.gapsFromMs.at(-1) ?? -1,
    };
    const now = step();
    if (now === undefined) return place;
    const { beginMs, mark } = beginOf(test, stepIndex, startWallMs, past.nowMs);
    const same = keepsGas(steps(), stepIndex) && lastRound(test).steps[stepIndex - 1]?.end === 'reached';
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

  const change = (id: string, to: (test: BenchTest) => BenchTest): string[] => {
    const test = tests.get(id);
    if (test === undefined) return [];
    const next = to(test);
    if (next === test) return [];
    tests.set(id, next);
    return [id];
  };

  const beginStep = (): void => {
    const now = step();
    if (now === undefined) return;
    for (const [id, place] of places) {
      const test = tests.get(id);
      const before = test === undefined ? undefined : lastRound(test).steps[stepIndex - 1];
      place.stepIndex = stepIndex;
      // what was left out or never reached did not bring its gas
      place.column.begin(now, place.lastMs, keepsGas(steps(), stepIndex) && before?.end === 'reached');
    }
  };

  const closeStep = (id: string, end: DoneStep['end'], why?: string): string[] => {
    const place = places.get(id);
    const test = tests.get(id);
    const now = step();
    if (place === undefined || test === undefined || now === undefined || !stepIsOpen(test, stepIndex)) return [];
    const taken = place.column.take(zeroOf(test, place.startWallMs));
    const done: DoneStep =
      end === 'reached' && taken !== undefined
        ? wholeStep({ ...taken, end })
        : { stepId: now.id, end, atMs: taken?.atMs ?? 0, ...(why === undefined || why === '' ? {} : { why }) };
    const changed = change(id, withStep(done, (place.startWallMs ?? test.startedWallMs) + place.lastMs));
    if (testIds.some((one) => stepIsOpen(tests.get(one) ?? test, stepIndex))) return changed;
    stepIndex += 1;
    beginStep();
    return changed;
  };

  const wayOf = (id: string): WayPoints | undefined => {
    const [test, place, now] = [tests.get(id), places.get(id), step()];
    if (test === undefined || place === undefined || now === undefined || !stepIsOpen(test, stepIndex)) return undefined;
    const before = steps()[stepIndex - 1];
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
    stepIndex: () => stepIndex,
    step,
    test: (id) => tests.get(id),
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
        const test = tests.get(id);
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
          if (now.stepIndex === stepIndex && now.column.state().phase === 'closed') changed.push(...closeStep(id, 'reached'));
        }
        if (breaks.length > 0) now.column.gap();
      }
      return [...new Set(changed)];
    },
    press(id, timeMs) {
      const now = step();
      const test = tests.get(id);
      if (now === undefined || test === undefined || !stepIsOpen(test, stepIndex)) return [];
      places.get(id)?.column.mark(timeMs);
      return change(id, withMark(now.id, timeMs));
    },
    accept: (id) => places.get(id)?.column.acceptGas(),
    skip: (ids, end, why) => [...new Set(ids.flatMap((id) => closeStep(id, end, why)))],
    stop(why) {
      const changed: string[] = [];
      while (step() !== undefined) {
        const before = stepIndex;
        for (const id of testIds) changed.push(...closeStep(id, 'left-out', why));
        // a test that is signed or gone does not move; nothing is gained by asking it again
        if (stepIndex === before) break;
      }
      return [...new Set(changed)];
    },
    moveTo(id, runId, startWallMs, past) {
      const changed = change(id, withRun(runId));
      const test = tests.get(id);
      if (test !== undefined && changed.length > 0) places.set(id, placed({ test, startWallMs, past }));
      return changed;
    },
    replace: (id, test) => void tests.set(id, test),
  };
}

/** Figures that are no numbers are left out of a step: a record with one of them could not be saved, and the step would be lost. */
export function wholeStep(step: DoneStep): DoneStep {
  if (DoneStepSchema.safeParse(step).success) return step;
  const whole = dropUnfinished(step) as DoneStep;
  if (DoneStepSchema.safeParse(whole).success) return whole;
  const { stepId, end, atMs } = step;
  return { stepId, end, atMs: Number.isFinite(atMs) ? atMs : 0 };
}

/** Without every object that holds a figure which is none, and without its points in a list. */
function dropUnfinished(value: unknown): unknown {
  if (typeof value === 'number') return Number.isFinite(value) ? value : undefined;
  if (Array.isArray(value)) {
    const isPair = value.every((one) => typeof one === 'number');
    const kept = value.map(dropUnfinished);
    return isPair && kept.includes(undefined) ? undefined : kept.filter((one) => one !== undefined);
  }
  if (typeof value !== 'object' || value === null) return value;
  const entries = Object.entries(value).map(([key, one]) => [key, dropUnfinished(one)] as const);
  const isFigure = (one: unknown): boolean => typeof one === 'number';
  const lostOne = Object.entries(value).some(([key, one]) => isFigure(one) && entries.find(([name]) => name === key)?.[1] === undefined);
  if (lostOne && !('stepId' in value)) return undefined;
  return Object.fromEntries(entries.filter(([, one]) => one !== undefined));
}
