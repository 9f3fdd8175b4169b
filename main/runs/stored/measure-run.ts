/** What one run file holds, for lists. */
import type { RunSummary } from '../../../shared/ipc/run-info.ts';
import { readRunHeader, measureRunFile } from '../file/run-file.ts';

/** @throws what the disk throws */
export async function measureRun(path: string, runId: string): Promise<RunSummary | undefined> {
  const header = await readRunHeader(path);
  if (!header.ok || header.value.runId !== runId) return undefined;
  const { recipe, ...rest } = header.value;
  void recipe;
  const { durationMs, lines, bytes, ended, damaged } = await measureRunFile(path);
  return { runId, header: rest, durationMs, lines, bytes, ended, damaged };
}
