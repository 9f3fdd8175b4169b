/** What is asked about stored runs. They are read, and stay in memory, where long work is done; here only answers arrive. */
import { dirname } from 'node:path';
import type { History, LineReport, RunStory } from '../../../shared/ipc/run-documents.ts';
import type { LineRecipe } from '../../../shared/measurement/recipe.ts';
import type { FoldSettings } from '../../../shared/pipeline/run-fold.ts';
import type { LoggedLine } from '../../../shared/pipeline/line-log.ts';
import type { Problem } from '../../../shared/problem.ts';
import { ok, type Result } from '../../../shared/result.ts';
import { programOfThread, sayToLog } from '../../background/thread-facts.ts';
import { createKeptResults, type KeptResults } from './kept-results.ts';
import { linesWithPlaces } from '../live/line-report.ts';
import { storyOf } from './reread.ts';
import { createStoredRuns, type StoredRuns } from './stored-runs.ts';
import { defined } from '../../../shared/defined.ts';

export type HistoryWish = {
  readonly fromMs: number;
  readonly toMs: number;
  readonly buckets: number;
  /** what has been read so far, with how far that is */
  readonly partly?: boolean | undefined;
};
export type Recipes = { recipe?: LineRecipe; earlier: LineRecipe[] };
export type Rereading = { before: RunStory; after: RunStory };

/** @returns each answer as plain data */
export interface StoredAnswers {
  history(runId: string, wish: HistoryWish): Promise<Result<History, Problem>>;
  /** the newest ones, as they are shown */
  lines(runId: string, count: number): Promise<Result<LineReport[], Problem>>;
  /** the newest ones, as they came */
  logged(runId: string, count: number): Promise<Result<Pick<LoggedLine, 'number' | 'line'>[], Problem>>;
  recipes(runId: string): Promise<Result<Recipes, Problem>>;
  /** what another recipe would make of it, beside what it was when it was captured */
  reread(runId: string, recipe: LineRecipe): Promise<Result<Rereading, Problem>>;
}

/** Where the runs are read. */
function answersOf(stored: StoredRuns): StoredAnswers {
  return {
    async history(runId, { fromMs, toMs, buckets, partly }) {
      if (partly === true) {
        const seen = await stored.look(runId);
        if (!seen.ok) return seen;
        const { told, trace, progress } = seen.value;
        return ok({ ...trace.history(told, fromMs, toMs, buckets), ...defined({ progress }) });
      }
      const opened = await stored.open(runId);
      return opened.ok ? ok(opened.value.trace.history(opened.value.fold, fromMs, toMs, buckets)) : opened;
    },
    async lines(runId, count) {
      const opened = await stored.open(runId);
      return opened.ok ? ok(linesWithPlaces(opened.value.fold.lastLines(count), opened.value.fold.recipe)) : opened;
    },
    async logged(runId, count) {
      const opened = await stored.open(runId);
      return opened.ok ? ok(opened.value.fold.lastLines(count).map(({ number, line }) => ({ number, line }))) : opened;
    },
    async recipes(runId) {
      const opened = await stored.open(runId);
      if (!opened.ok) return opened;
      const { recipe } = opened.value.fold;
      return ok({ ...defined({ recipe }), earlier: [...opened.value.earlier] });
    },
    async reread(runId, recipe) {
      const before = await stored.read(runId, 'captured');
      if (!before.ok) return before;
      const after = await stored.read(runId, recipe);
      return after.ok ? ok({ before: storyOf(before.value.fold), after: storyOf(after.value.fold) }) : after;
    },
  };
}

export type StoredAsk = { readonly runsFolder: string; readonly settings: FoldSettings };

type Open = { readonly key: string; readonly stored: StoredRuns; readonly answers: StoredAnswers };
/** only the thread for long work keeps anything */
export const keptResultsOf = (dataFolder: string): KeptResults =>
  createKeptResults(dataFolder, { program: programOfThread(), said: sayToLog });
const opened = new Map<string, Open>();
/** Read with other settings they are other runs. */
export function openStored({ runsFolder, settings }: StoredAsk): Open {
  const key = JSON.stringify(settings);
  const known = opened.get(runsFolder);
  if (known?.key === key) return known;
  const stored = createStoredRuns(runsFolder, () => settings, keptResultsOf(dirname(runsFolder)));
  const fresh = { key, stored, answers: answersOf(stored) };
  opened.set(runsFolder, fresh);
  return fresh;
}
export function forgetStored(runsFolder: string, runId: string | undefined): void {
  if (runId === undefined) opened.delete(runsFolder);
  else opened.get(runsFolder)?.stored.forget(runId);
}
