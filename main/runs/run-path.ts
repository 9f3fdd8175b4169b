import { join } from 'node:path';

export const RUN_FILE_ENDING = '.flueside-run';

/** Where a run is kept. An id that is no plain name leads nowhere, whatever a window sends. */
export function runFilePath(dataFolder: string, runId: string): string {
  if (!/^[\w-]{1,100}$/.test(runId)) throw new RangeError(`run id ${runId}`);
  return join(dataFolder, 'runs', `${runId}${RUN_FILE_ENDING}`);
}
