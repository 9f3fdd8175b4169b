/** Stored runs that somebody looks at: read once through the chain, a few kept in memory. */
import { createRunFold, type FoldSettings, type RunFold } from '../../shared/pipeline/fold-run.ts';
import type { LineRecipe } from '../../shared/measurement/recipe.ts';
import type { Problem } from '../../shared/problem.ts';
import { problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { createBreather } from '../breather.ts';
import { asCaptured, rereadRecipeOf, underRecipe } from './reread.ts';
import { openRunFile } from './run-file.ts';
import { createRunTrace, type RunTrace } from './run-trace.ts';
import type { RunFolder } from './run-folder.ts';

export type OpenedRun = { readonly fold: RunFold; readonly trace: RunTrace; readonly earlier: readonly LineRecipe[] };

export interface StoredRuns {
  open(runId: string): Promise<Result<OpenedRun, Problem>>;
  /** not kept in memory: as it was captured, or through another recipe from its first line */
  read(runId: string, how: 'captured' | LineRecipe): Promise<Result<OpenedRun, Problem>>;
  forget(runId: string): void;
}

const KEPT = 2;

export function createStoredRuns(folder: RunFolder, settings: () => FoldSettings): StoredRuns {
  const opened = new Map<string, Promise<Result<OpenedRun, Problem>>>();
  const read = async (runId: string, how?: 'captured' | LineRecipe): Promise<Result<OpenedRun, Problem>> => {
    const path = folder.pathOf(runId);
    if (path === undefined) return err(problem('run-not-found'));
    const file = await openRunFile(path);
    if (!file.ok) return file.error.code === 'file-not-found' ? err(problem('run-not-found')) : file;
    const trace = createRunTrace();
    const recipe = how === undefined ? await rereadRecipeOf(file.value) : how === 'captured' ? undefined : how;
    const seen = recipe === undefined ? { header: file.value.header, entry: asCaptured } : underRecipe(file.value.header, recipe);
    const earlier: LineRecipe[] = file.value.header.recipe === undefined ? [] : [file.value.header.recipe];
    const fold = createRunFold(seen.header, settings(), { sample: (sample) => trace.sample(sample), gap: () => trace.gap() });
    const breather = createBreather();
    for await (const entry of file.value.entries()) {
      if (entry.kind === 'change' && entry.change.recipe !== undefined) earlier.push(entry.change.recipe);
      const told = seen.entry(entry);
      if (told !== undefined) fold.push(told);
      if (breather.isDue()) await breather.rest();
    }
    const used = fold.recipe === undefined ? '' : JSON.stringify(fold.recipe);
    return ok({ fold, trace, earlier: earlier.filter((one) => JSON.stringify(one) !== used) });
  };
  return {
    read: (runId, how) => read(runId, how),
    open(runId) {
      const known = opened.get(runId);
      opened.delete(runId); // the one asked for last is forgotten last
      const result = known ?? read(runId);
      opened.set(runId, result);
      const [oldest] = opened.keys();
      if (opened.size > KEPT && oldest !== undefined) opened.delete(oldest);
      return result;
    },
    forget: (runId) => void opened.delete(runId),
  };
}
