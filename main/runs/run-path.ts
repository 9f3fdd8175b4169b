import { join } from 'node:path';

/** of a run that a person keeps or hands on; the one the system opens Flueside with */
export const RUN_FILE_ENDING = '.flueside-run';
/** inside the data folder */
export const STORED_RUN_ENDING = '.run';

/** Where a run is kept. An id that is no plain name leads nowhere, whatever a window sends. */
export function runFilePath(dataFolder: string, runId: string): string {
  if (!/^[\w-]{1,100}$/.test(runId)) throw new RangeError(`run id ${runId}`);
  return join(dataFolder, 'runs', `${runId}${STORED_RUN_ENDING}`);
}
