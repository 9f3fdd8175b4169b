/** `ports`: the serial ports of this machine. */
import { realPorts } from '../real-ports.ts';
import { EXIT_DONE, fail, readOptions, type Command } from './command.ts';
import type { PortInfo } from '../../shared/ipc/run-documents.ts';
import { portsTexts } from '../../shared/words/commands/runs.ts';
import { defined } from '../../shared/defined.ts';

const usage = portsTexts.usage;

export function createPorts(listPorts: () => Promise<PortInfo[]>): Command {
  return {
    name: 'ports',
    usage,
    async run(args, io) {
      const read = readOptions(args, { json: { type: 'boolean' } });
      if (!read.ok) return fail(io, read.error);
      const ports = await listPorts();
      if (read.value.values.json === true) {
        io.out(
          JSON.stringify({
            ports: ports.map(({ path, label, maker, device }) => ({ path, label, ...defined({ maker }), ...device })),
          }),
        );
      } else if (ports.length === 0) io.error(portsTexts.noPort);
      else for (const { path, label } of ports) io.out(`${path.padEnd(24)}${label}`);
      return EXIT_DONE;
    },
  };
}

export const command: Command = createPorts(realPorts().listPorts);
