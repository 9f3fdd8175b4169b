/** Stored runs that somebody looks at: read once through the chain, a few kept in memory. */
import type { FoldSettings } from '../../shared/pipeline/fold-run.ts';
import type { LineRecipe } from '../../shared/measurement/recipe.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { openRunFile } from './run-file.ts';
import type { RunFolder } from './run-folder.ts';
import { readRun, type OpenedRun, type RunReading, type RunSoFar } from './run-reading.ts';

export type { OpenedRun } from './run-reading.ts';

export interface StoredRuns {
  /** waits until all of it has been read */
  open(runId: string): Promise<Result<OpenedRun, Problem>>;
  /** what has been read of it after a moment */
  look(runId: string): Promise<Result<RunSoFar, Problem>>;
  /** not kept in memory: as it was captured, or through another recipe from its first line */
  read(runId: string, how: 'captured' | LineRecipe): Promise<Result<OpenedRun, Problem>>;
  forget(runId: string): void;
  /** other files took the place of all of them */
  forgetAll(): void;
}

const KEPT = 2;
/** short runs are whole within that, so that nothing flickers */
const MOMENT_MS = 250;

export function createStoredRuns(folder: RunFolder, settings: () => FoldSettings): StoredRuns {
  const readings = new Map<string, Promise<Result<RunReading, Problem>>>();
  const begin = async (runId: string, how?: 'captured' | LineRecipe): Promise<Result<RunReading, Problem>> => {
    const path = folder.pathOf(runId);
    if (path === undefined) return err(problem('run-not-found'));
    const file = await openRunFile(path);
    if (!file.ok) return file.error.code === 'file-not-found' ? err(problem('run-not-found')) : file;
    return ok(readRun(file.value, settings(), how));
  };
  const kept = (runId: string): Promise<Result<RunReading, Problem>> => {
    const known = readings.get(runId);
    readings.delete(runId); // the one asked for last is forgotten last
    const result = known ?? begin(runId);
    readings.set(runId, result);
    const [oldest] = readings.keys();
    if (readings.size > KEPT && oldest !== undefined) readings.delete(oldest);
    return result;
  };
  /** A disk that fails is told in words, and the next look tries again. */
  const told = async <T>(
    runId: string,
    reading: Result<RunReading, Problem>,
    work: (one: RunReading) => Promise<T>,
  ): Promise<Result<T, Problem>> => {
    if (!reading.ok) {
      readings.delete(runId);
      return reading;
    }
    try {
      return ok(await work(reading.value));
    } catch (cause) {
      readings.delete(runId);
      const { code } = cause as NodeJS.ErrnoException;
      if (code === undefined) throw cause;
      return err(problem(code === 'ENOENT' ? 'run-not-found' : 'file-damaged', code));
    }
  };
  return {
    read: async (runId, how) => told(runId, await begin(runId, how), (one) => one.whole()),
    open: async (runId) => told(runId, await kept(runId), (one) => one.whole()),
    look: async (runId) => told(runId, await kept(runId), (one) => one.soFar(MOMENT_MS)),
    forget: (runId) => void readings.delete(runId),
    forgetAll: () => readings.clear(),
  };
}
