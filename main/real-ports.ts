import { problem } from '../shared/problem.ts';
import { err } from '../shared/result.ts';
import type { RunDeskParts } from './runs/run-desk.ts';

/** The serial ports of this machine. */
export const realPorts = (): Pick<RunDeskParts, 'listPorts' | 'openPort'> => ({
  listPorts: () => Promise.resolve([]),
  openPort: (path) => Promise.resolve(err(problem('port-not-found', path))),
});
