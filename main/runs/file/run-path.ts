import { join } from 'node:path';

/** of a run that a person keeps or hands on; the one the system opens Flueside with */
export const RUN_FILE_ENDING = '.flueside-run';
/** inside the data folder */
export const STORED_RUN_ENDING = '.run';

const PLAIN_ID = /^[0-9A-Za-z][0-9A-Za-z_-]{0,79}$/;
/** @returns undefined when the id could not be a run's: it never becomes part of a path then */
export const storedRunPath = (runsFolder: string, runId: string): string | undefined =>
  PLAIN_ID.test(runId) ? join(runsFolder, `${runId}${STORED_RUN_ENDING}`) : undefined;

/** Where a run is saved. An id that is no plain name leads nowhere, whatever a window sends. */
export function runFilePath(dataFolder: string, runId: string): string {
  if (!/^[\w-]{1,100}$/.test(runId)) throw new RangeError(`run id ${runId}`);
  return join(dataFolder, 'runs', `${runId}${STORED_RUN_ENDING}`);
}
