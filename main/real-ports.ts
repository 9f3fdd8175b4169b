import type { RunDeskParts } from './runs/run-desk.ts';
import { listSerialPorts } from './source/list-ports.ts';
import { openSerialPort } from './source/open-port.ts';

/** The serial ports of this machine. */
export const realPorts = (): Pick<RunDeskParts, 'listPorts' | 'openPort'> => ({
  listPorts: () => listSerialPorts(),
  openPort: openSerialPort,
});
