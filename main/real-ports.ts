import { listSerialPorts } from './source/list-ports.ts';
import { openSerialPort } from './source/open-port.ts';
import type { RunServiceParts } from './runs/open-runs.ts';

/** The serial ports of this machine. */
export const realPorts = (): Pick<RunServiceParts, 'listPorts' | 'openPort'> => ({
  listPorts: () => listSerialPorts(),
  openPort: openSerialPort,
});
