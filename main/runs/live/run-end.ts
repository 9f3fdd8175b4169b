/** Where a run that was cut off stood, and how it is closed when nobody wants to go on with it. */
import { open } from 'node:fs/promises';
import { encodeEntry } from '../../../shared/measurement/run-format.ts';
import { problem, type Problem } from '../../../shared/problem.ts';
import { err, ok, type Result } from '../../../shared/result.ts';
import { measureRunFile, openRunFile, type RunFile } from '../file/run-file.ts';

/** @returns the last entry's run time, and the wall clock then as far as the run's clock entries tell it */
export async function lastMoment(file: RunFile): Promise<{ timeMs: number; wallMs: number }> {
  let timeMs = 0;
  let known = { timeMs: 0, wallMs: file.header.startWallMs };
  for await (const entry of file.entries()) {
    timeMs = entry.timeMs;
    if (entry.kind === 'clock') known = { timeMs, wallMs: entry.clock.wallMs };
  }
  return { timeMs, wallMs: known.wallMs + (timeMs - known.timeMs) };
}

/** Cuts a torn last line off and writes the end. */
export async function endStoredRun(path: string): Promise<Result<Record<string, never>, Problem>> {
  const file = await openRunFile(path);
  if (!file.ok) return file.error.code === 'file-not-found' ? err(problem('run-not-found')) : file;
  const { goodBytes, ended, durationMs } = await measureRunFile(path);
  if (ended) return err(problem('run-ended'));
  try {
    const handle = await open(path, 'r+');
    try {
      await handle.truncate(goodBytes);
      await handle.write(encodeEntry({ kind: 'end', timeMs: durationMs }), goodBytes);
      await handle.datasync();
    } finally {
      await handle.close();
    }
    return ok({});
  } catch (cause) {
    return err(problem('disk-failed', (cause as NodeJS.ErrnoException).code));
  }
}
