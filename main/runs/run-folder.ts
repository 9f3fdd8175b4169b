/** The folder of run files: names, lists, summaries. */
import { mkdir, readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import type { RunSummary } from '../../shared/ipc/run-info.ts';
import { measureRunFile, readRunHeader } from './run-file.ts';

export interface RunFolder {
  /** @returns undefined when the id could not be a run's: it never becomes part of a path then */
  pathOf(runId: string): string | undefined;
  ensure(): Promise<void>;
  /** newest first; what is no run is left out */
  list(): Promise<RunSummary[]>;
  summary(runId: string): Promise<RunSummary | undefined>;
}

const ENDING = '.run';
const PLAIN_ID = /^[0-9A-Za-z][0-9A-Za-z_-]{0,79}$/;

export function createRunFolder(folder: string): RunFolder {
  // measuring reads the whole file, so it is done once per state of the file
  const known = new Map<string, { stamp: string; summary: RunSummary | undefined }>();
  const pathOf = (runId: string): string | undefined => (PLAIN_ID.test(runId) ? join(folder, `${runId}${ENDING}`) : undefined);

  const summary = async (runId: string): Promise<RunSummary | undefined> => {
    const path = pathOf(runId);
    if (path === undefined) return undefined;
    try {
      const { size, mtimeMs } = await stat(path);
      const stamp = `${size} ${mtimeMs}`;
      const before = known.get(runId);
      if (before?.stamp === stamp) return before.summary;
      const found = await measure(path, runId);
      known.set(runId, { stamp, summary: found });
      return found;
    } catch {
      return undefined;
    }
  };

  return {
    pathOf,
    ensure: async () => void (await mkdir(folder, { recursive: true })),
    async list() {
      const names = await readdir(folder).catch(() => [] as string[]);
      const ids = names.filter((name) => name.endsWith(ENDING)).map((name) => name.slice(0, -ENDING.length));
      const found: RunSummary[] = [];
      for (const id of ids.sort().reverse()) {
        const one = await summary(id);
        if (one !== undefined) found.push(one);
      }
      return found;
    },
    summary,
  };
}

async function measure(path: string, runId: string): Promise<RunSummary | undefined> {
  const header = await readRunHeader(path);
  if (!header.ok || header.value.runId !== runId) return undefined;
  const { recipe, ...rest } = header.value;
  void recipe;
  const { durationMs, lines, bytes, ended, damaged } = await measureRunFile(path);
  return { runId, header: rest, durationMs, lines, bytes, ended, damaged };
}
