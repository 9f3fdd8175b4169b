/** The folder of run files: names, lists, summaries. */
import { mkdir, readFile, readdir, rename, rm, stat, writeFile } from 'node:fs/promises';
import { z } from 'zod';
import { RunSummary } from '../../../shared/ipc/run-info.ts';
import { inThisThread, type Background } from '../../background/background.ts';
import { STORED_RUN_ENDING, storedRunPath } from './run-path.ts';

export interface RunFolder {
  /** @returns undefined when the id could not be a run's: it never becomes part of a path then */
  pathOf(runId: string): string | undefined;
  ensure(): Promise<void>;
  /** newest first; what is no run is left out. @param except not looked at: measuring a file that grows starts a thread for nothing */
  list(except?: ReadonlySet<string>): Promise<RunSummary[]>;
  summary(runId: string): Promise<RunSummary | undefined>;
}

/** beside the folder, a list of what each file holds, so that a thousand of them need not be read at every start */
const INDEX = '-summaries.json';
const KnownList = z.array(z.tuple([z.string(), z.object({ stamp: z.string(), summary: RunSummary.optional() })]));
type Known = { stamp: string; summary?: RunSummary | undefined };

export function createRunFolder(folder: string, background: Background = inThisThread): RunFolder {
  // measuring reads the whole file, so it is done once per state of the file, and kept for the next start
  const known = new Map<string, Known>();
  let isRead = false;
  let isChanged = false;
  const index = `${folder}${INDEX}`;
  const readIndex = async (): Promise<void> => {
    if (isRead) return;
    isRead = true;
    for (const [id, one] of await readKnown(index)) if (!known.has(id)) known.set(id, one);
  };
  const keepIndex = async (): Promise<void> => {
    if (!isChanged) return;
    isChanged = false;
    // only a convenience: without it everything is measured again
    const beside = `${index}.${process.pid}`;
    await writeFile(beside, JSON.stringify([...known]), { mode: 0o600 })
      .then(() => rename(beside, index))
      .catch(() => rm(beside, { force: true }).catch(() => undefined));
  };
  const pathOf = (runId: string): string | undefined => storedRunPath(folder, runId);

  const summary = async (runId: string): Promise<RunSummary | undefined> => {
    const path = pathOf(runId);
    if (path === undefined) return undefined;
    try {
      const { size, mtimeMs } = await stat(path);
      const stamp = `${size} ${mtimeMs}`;
      const before = known.get(runId);
      if (before?.stamp === stamp) return before.summary;
      const found = await background.run('measureRun', { path, runId });
      known.set(runId, { stamp, summary: found });
      isChanged = true;
      return found;
    } catch {
      return undefined;
    }
  };

  return {
    pathOf,
    ensure: async () => void (await mkdir(folder, { recursive: true })),
    async list(except = new Set()) {
      const names = await readdir(folder).catch(() => [] as string[]);
      const ids = names.filter((name) => name.endsWith(STORED_RUN_ENDING)).map((name) => name.slice(0, -STORED_RUN_ENDING.length));
      await readIndex();
      const found: RunSummary[] = [];
      for (const id of ids.sort().reverse()) {
        const one = except.has(id) ? undefined : await summary(id);
        if (one !== undefined) found.push(one);
      }
      const here = new Set(ids);
      for (const id of [...known.keys()]) if (!here.has(id)) isChanged = known.delete(id) || isChanged;
      await keepIndex();
      return found;
    },
    summary,
  };
}

/** @returns what the last program measured; nothing when the file is not there, torn or of another shape */
async function readKnown(path: string): Promise<[string, Known][]> {
  try {
    return KnownList.parse(JSON.parse(await readFile(path, 'utf8')));
  } catch {
    return [];
  }
}
