/** Stored runs that somebody looks at: read once through the chain, a few kept in memory. */
import { createRunFold, type FoldSettings, type RunFold } from '../../shared/pipeline/fold-run.ts';
import type { Problem } from '../../shared/problem.ts';
import { problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { openRunFile } from './run-file.ts';
import { createRunTrace, type RunTrace } from './run-trace.ts';
import type { RunFolder } from './run-folder.ts';

export type OpenedRun = { readonly fold: RunFold; readonly trace: RunTrace };

export interface StoredRuns {
  open(runId: string): Promise<Result<OpenedRun, Problem>>;
  forget(runId: string): void;
}

const KEPT = 2;
/** entries before the event loop gets its turn: a long run must not stop the one being captured */
const PORTION = 500;

export function createStoredRuns(folder: RunFolder, settings: () => FoldSettings): StoredRuns {
  const opened = new Map<string, Promise<Result<OpenedRun, Problem>>>();
  const read = async (runId: string): Promise<Result<OpenedRun, Problem>> => {
    const path = folder.pathOf(runId);
    if (path === undefined) return err(problem('run-not-found'));
    const file = await openRunFile(path);
    if (!file.ok) return file.error.code === 'file-not-found' ? err(problem('run-not-found')) : file;
    const trace = createRunTrace();
    const fold = createRunFold(file.value.header, settings(), { sample: (sample) => trace.sample(sample), gap: () => trace.gap() });
    let count = 0;
    for await (const entry of file.value.entries()) {
      fold.push(entry);
      if (++count % PORTION === 0) await new Promise((resolve) => setImmediate(resolve));
    }
    return ok({ fold, trace });
  };
  return {
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
