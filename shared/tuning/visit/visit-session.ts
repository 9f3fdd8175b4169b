/**
 * What a visit takes from its runs, and what a person does to it. Pure reducers: the host calls them (main/visits), a window never does.
 */
import type { Mark, Setting } from '../../measurement/mark.ts';
import type { Reading } from '../../measurement/state.ts';
import type { Adjuster } from '../trial/adjuster.ts';
import { trialsWithTightening } from '../trial/tightened.ts';
import type { NumberedTrial } from '../trial/numbered-trial.ts';
import { movesIn, settingLeftBefore } from './moved-since.ts';
import type { BurnerMove, StageRecord, Visit, VisitRun } from './visit.ts';
import { isFinished } from './visit-marks.ts';
import type { z } from 'zod';
import { defined } from '../../defined.ts';

/** What the fold of one run says now. */
export type RunFacts = {
  runId: string;
  startWallMs: number;
  source: z.infer<typeof VisitRun>['source'];
  /** the visit that it was started for */
  visitId?: string | undefined;
  ended: boolean;
  /** where the adjusters were before the first adjustment, if anybody knows */
  startSetting?: Setting | undefined;
  /** of the simulated burner, which knows its own */
  adjusters?: readonly Adjuster[] | undefined;
  /** moved and undone ones are applied */
  marks: readonly Mark[];
  readings: readonly Reading[];
};

const unknown: Setting = { stage: '1', positions: [] };
const isPractice = ({ source }: RunFacts): boolean => source === 'simulated' || source === 'replay';

export const hasRun = (visit: Visit, runId: string): boolean => visit.runs.some(({ id }) => id === runId);

/** A run belongs to the visit that is open while it is measured; practice never slips into a service visit. */
export function belongsTo(visit: Visit, run: RunFacts): boolean {
  if (hasRun(visit, run.runId)) return true;
  if (isFinished(visit) || run.ended) return false;
  if (run.visitId !== undefined && run.visitId !== visit.id) return false;
  return visit.kind === 'training' || !isPractice(run);
}

const startOf = (visit: Visit | undefined, { runId, startWallMs, startSetting }: RunFacts): Setting | undefined => {
  const known = visit !== undefined && hasRun(visit, runId) ? visit : undefined;
  if (startSetting !== undefined || known === undefined) return startSetting;
  // after a run in which something was moved the burner is no longer as found
  const left = settingLeftBefore(known, { runId, startWallMs });
  if (left !== undefined) return left;
  // where the adjusters stood may be typed after the first reading, one after the other, and put right
  return known.settingFound ?? known.trials.find(({ id }) => id === `${runId}:start`)?.setting;
};

/**
 * When a run that joins began on the visit's own time, which never goes back: what is older or newer is told by it. Where the computer's clock
 * was set back since the last that the visit knows of, the run begins after that.
 */
function startInVisit(visit: Visit, { startWallMs }: RunFacts, nowWallMs: number): number {
  const said = [...movesIn(visit), ...visit.changes, ...(visit.oilCauses ?? []), ...visit.safety, ...visit.roomCo];
  const known = [...visit.trials.map(({ takenWallMs }) => takenWallMs), ...said.map(({ wallMs }) => wallMs)];
  const latest = Math.max(startWallMs, visit.startedWallMs, ...known);
  return nowWallMs < latest ? latest : startWallMs;
}

/** A run of the visit on the visit's own time. */
const onVisitTime = (visit: Visit, run: RunFacts): RunFacts => ({
  ...run,
  startWallMs: visit.runs.find(({ id }) => id === run.runId)?.startWallMs ?? run.startWallMs,
});

const MOST_MOVES = 500;
function movesOf({ marks, startWallMs }: RunFacts): BurnerMove[] {
  return marks
    .flatMap(({ body, timeMs }): BurnerMove[] => {
      const wallMs = startWallMs + timeMs;
      if (body.kind === 'adjustment') return [{ wallMs, setting: body.setting }];
      return body.kind === 'pressure' ? [{ wallMs, pumpPa: body.pumpPa }] : [];
    })
    .sort((a, b) => a.wallMs - b.wallMs)
    .slice(-MOST_MOVES);
}

/** Where the burner was moved, also where nothing was read afterwards. */
function takeMoves(visit: Visit, run: RunFacts): Visit {
  const moves = movesOf(run);
  const runs = visit.runs.map((one) => {
    const { moves: before = [], ...rest } = one;
    if (one.id !== run.runId || JSON.stringify(before) === JSON.stringify(moves)) return one;
    return moves.length === 0 ? rest : { ...rest, moves };
  });
  return runs.every((one, index) => one === visit.runs[index]) ? visit : { ...visit, runs };
}

/**
 * The run goes into the visit, with its adjusters when it is the simulated burner.
 *
 * @param nowWallMs what the computer's clock shows now
 * @returns the same visit when it has it already
 */
export function takeRun(visit: Visit, run: RunFacts, nowWallMs: number): Visit {
  if (hasRun(visit, run.runId) || !belongsTo(visit, run)) return visit;
  const { adjusters, startSetting } = run;
  return {
    ...visit,
    runs: [...visit.runs, { id: run.runId, startWallMs: startInVisit(visit, run, nowWallMs), source: run.source }],
    ...defined({
      adjusters: adjusters !== undefined ? [...adjusters] : undefined,
      settingFound: adjusters !== undefined && startSetting !== undefined && visit.settingFound === undefined ? startSetting : undefined,
    }),
  };
}

/** The trials of one of its runs and what was moved, made anew from the marks and readings. @returns the same visit when nothing is different */
export function takeTrials(before: Visit, facts: RunFacts): Visit {
  if (isFinished(before) || !hasRun(before, facts.runId)) return before;
  const run = onVisitTime(before, facts);
  return takeTrialsOf(takeMoves(before, run), run);
}

/** There is one burner: what was marked on it beside another run of the visit moved it for this one as well, as long as this one was measured. */
function withMovesOfOthers(visit: Visit, run: RunFacts): RunFacts {
  const { runId, startWallMs, ended, marks, readings } = run;
  const lastMs = ended ? Math.max(0, ...marks.map(({ timeMs }) => timeMs), ...readings.map(({ toMs }) => toMs)) : Infinity;
  const others = visit.runs
    .filter(({ id }) => id !== runId)
    .flatMap(({ id, moves = [] }) =>
      moves.flatMap(({ wallMs, setting, pumpPa }): Mark[] => {
        const timeMs = wallMs - startWallMs;
        if (timeMs <= 0 || timeMs >= lastMs) return [];
        // by its time: its place in the list changes when one before it is taken back, and the trial behind it would be another one's
        const mark = { id: `${id}-${wallMs}`, timeMs };
        if (setting !== undefined) return [{ ...mark, body: { kind: 'adjustment', setting } }];
        return pumpPa === undefined ? [] : [{ ...mark, body: { kind: 'pressure', pumpPa } }];
      }),
    );
  return others.length === 0 ? run : { ...run, marks: [...marks, ...others].sort((a, b) => a.timeMs - b.timeMs) };
}

function takeTrialsOf(visit: Visit, facts: RunFacts): Visit {
  const run = withMovesOfOthers(visit, facts);
  const before = visit.trials.filter(({ runId }) => runId === run.runId);
  const mine = trialsWithTightening({
    ...run,
    startSetting: startOf(visit, run) ?? unknown,
    edits: [],
    changedAtMs: changedAt(visit, run),
  });
  if (JSON.stringify(mine) === JSON.stringify(before)) return visit;
  const others = visit.trials.filter(({ runId }) => runId !== run.runId);
  return { ...visit, trials: [...others, ...mine].sort((a, b) => a.takenWallMs - b.takenWallMs) };
}

/** The trials of a run with the setting in force as the last one, counted as the visit counts them. */
export function numberedTrials(facts: RunFacts, visit?: Visit): NumberedTrial[] {
  const inVisit = visit !== undefined && hasRun(visit, facts.runId);
  const run = inVisit ? withMovesOfOthers(visit, onVisitTime(visit, facts)) : facts;
  const changedAtMs = inVisit ? changedAt(visit, run) : [];
  const trials = trialsWithTightening({ ...run, startSetting: startOf(visit, run) ?? unknown, edits: [], changedAtMs }, { running: true });
  const first = trials[0]?.takenWallMs ?? run.startWallMs;
  const before = inVisit ? visit.trials.filter((trial) => trial.runId !== run.runId && trial.takenWallMs <= first).length : 0;
  return trials.map((trial, index) => ({
    ...trial,
    number: before + index + 1,
    running: trial.toMs === undefined,
    changed: changedPositions(trials[index - 1]?.setting, trial.setting),
  }));
}

const changedAt = ({ changes }: Visit, { startWallMs }: RunFacts): number[] =>
  changes.map(({ wallMs }) => Math.round(wallMs - startWallMs)).filter((timeMs) => timeMs > 0);

const changedPositions = (before: Setting | undefined, after: Setting): { name: string; value: number }[] =>
  after.positions.filter(({ name, value }) => before?.positions.find((one) => one.name === name)?.value !== value);

/** The stage in front of the person; the first one when the visit does not say. */
export const stageInFront = (visit: Visit): StageRecord | undefined =>
  visit.stages.find(({ name }) => name === visit.at?.stage) ?? visit.stages[0];
