/** Stored runs that somebody looks at: read once through the chain, a few kept in memory. */
import type { FoldSettings } from '../../../shared/pipeline/run-fold.ts';
import type { LineRecipe } from '../../../shared/measurement/recipe.ts';
import { problem, type Problem } from '../../../shared/problem.ts';
import { err, ok, type Result } from '../../../shared/result.ts';
import type { KeptResults } from './kept-results.ts';
import { createTraceRecord, tellTrace } from './kept-trace.ts';
import type { FoundBefore } from './run-export.ts';
import { openRunFile } from '../file/run-file.ts';
import { storedRunPath } from '../file/run-path.ts';
import { newTrace, readRun, type OpenedRun, type ReadFold, type RunReading, type RunSoFar } from './run-reading.ts';

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
  /** what was read has been kept */
  rested(): Promise<unknown>;
}

const KEPT = 2;
/** short runs are whole within that, so that nothing flickers */
const MOMENT_MS = 250;

/** What of a reading is kept, beside its samples. */
type Facts = Omit<ReadFold, 'readings' | 'lastLines' | 'gaps' | 'excluded' | 'settled'> & {
  readonly readings: ReturnType<ReadFold['readings']>;
  readonly lines: ReturnType<ReadFold['lastLines']>;
  readonly gaps: ReadFold['gaps']['all'];
  readonly excluded: ReadFold['excluded']['all'];
  readonly settled: ReadFold['settled']['all'];
  readonly earlier: OpenedRun['earlier'];
};
const KIND = 'read';
const MOST_LINES = 10_000;

const factsOf = ({ fold, earlier }: OpenedRun): Facts => ({
  marks: fold.marks,
  readings: fold.readings(),
  gaps: fold.gaps.all,
  excluded: fold.excluded.all,
  settled: fold.settled.all,
  lines: fold.lastLines(MOST_LINES),
  recipe: fold.recipe,
  counters: fold.counters,
  earlier,
});

function openedFrom(facts: Facts, numbers: Float64Array): OpenedRun {
  const trace = newTrace();
  tellTrace(numbers, trace);
  const { marks, recipe, counters, earlier } = facts;
  const fold: ReadFold = {
    marks,
    recipe,
    counters,
    readings: () => facts.readings,
    gaps: { all: facts.gaps },
    excluded: { all: facts.excluded },
    settled: { all: facts.settled },
    lastLines: (count) => facts.lines.slice(Math.max(0, facts.lines.length - count)),
  };
  return { fold, trace, earlier, isFound: true };
}

/** What was kept when a stored run was last read to its end, if its file and the settings are still those. */
export async function findJudged(
  results: KeptResults,
  runId: string,
  path: string,
  settings: FoldSettings,
): Promise<FoundBefore | undefined> {
  const before = await results.stampOf(path);
  const kept = before === undefined ? undefined : await results.find(runId, path, KIND, settings);
  if (before === undefined || kept === undefined) return undefined;
  const { readings, excluded } = kept.facts as Facts;
  return {
    readings: () => readings,
    excluded: { all: excluded },
    async isStill() {
      const now = await results.stampOf(path);
      return now?.size === before.size && now.mtimeMs === before.mtimeMs;
    },
  };
}

export function createStoredRuns(runsFolder: string, settings: () => FoldSettings, results?: KeptResults): StoredRuns {
  const readings = new Map<string, Promise<Result<RunReading, Problem>>>();
  let keeping: Promise<unknown> = Promise.resolve();
  const begin = async (runId: string, how?: 'captured' | LineRecipe): Promise<Result<RunReading, Problem>> => {
    const path = storedRunPath(runsFolder, runId);
    if (path === undefined) return err(problem('run-not-found'));
    const file = await openRunFile(path);
    if (!file.ok) {
      if (file.error.code !== 'file-not-found') return file;
      results?.forget(runId);
      return err(problem('run-not-found'));
    }
    const before = how === undefined ? await results?.stampOf(path) : undefined;
    if (results === undefined || before === undefined) return ok(readRun(file.value, settings(), how));
    const inputs = settings();
    const found = await results.find(runId, path, KIND, inputs);
    if (found !== undefined) {
      const opened = openedFrom(found.facts as Facts, found.numbers);
      return ok({ whole: () => Promise.resolve(opened), soFar: () => Promise.resolve({ told: opened.fold, trace: opened.trace }) });
    }
    const record = createTraceRecord();
    const reading = readRun(file.value, inputs, how, undefined, record);
    let isKept = false;
    const whole = async (): Promise<OpenedRun> => {
      const opened = await reading.whole();
      const numbers = isKept ? undefined : record.numbers();
      isKept = true;
      if (numbers !== undefined) keeping = results.keep(runId, path, KIND, inputs, { facts: factsOf(opened), numbers }, before);
      return opened;
    };
    return ok({
      whole,
      async soFar(waitMs) {
        const seen = await reading.soFar(waitMs);
        if (seen.progress === undefined) await whole();
        return seen;
      },
    });
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
    rested: () => keeping,
  };
}
