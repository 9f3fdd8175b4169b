import type { RunServiceParts } from './runs/run-service.ts';
import { listSerialPorts } from './source/list-ports.ts';
import { openSerialPort } from './source/open-port.ts';

/** The serial ports of this machine. */
export const realPorts = (): Pick<RunServiceParts, 'listPorts' | 'openPort'> => ({
  listPorts: () => listSerialPorts(),
  openPort: openSerialPort,
});
