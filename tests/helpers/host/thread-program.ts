import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** The program of the background thread as it is shipped; in a folder of its own, so that nothing else finds it. */
export async function buildThreadProgram(): Promise<{ program: string; folder: string }> {
  const folder = mkdtempSync(join(tmpdir(), 'flueside-thread-'));
  // plain JavaScript without types of its own
  const file: string = '../../../main/scripts/build-output.mjs';
  const { bundleThread } = (await import(file)) as { bundleThread: (outfile: string) => Promise<string> };
  return { program: await bundleThread(join(folder, 'background-thread.cjs')), folder };
}
