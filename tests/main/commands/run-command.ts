/** Runs a command the way the command line does, with what it printed. */
import type { Command, CommandIo } from '../../../main/commands/command.ts';
import { systemClock } from '../../../main/system-clock.ts';

export type Ran = { readonly code: number; readonly out: string[]; readonly errors: string[]; readonly json: Record<string, unknown> };

export async function runCommand(
  command: Command,
  line: string | readonly string[],
  where: Pick<CommandIo, 'dataFolder'> & { readonly cwd?: string } = {},
): Promise<Ran> {
  const out: string[] = [];
  const errors: string[] = [];
  const io: CommandIo = {
    out: (text) => void out.push(text),
    error: (text) => void errors.push(text),
    stdin: () => (async function* nothing(): AsyncGenerator<Uint8Array> {})(),
    clock: systemClock,
    cwd: '.',
    ...where,
  };
  const args = typeof line === 'string' ? line.split(' ').filter((part) => part !== '') : [...line];
  const code = await command.run(args, io);
  const first = out.length === 1 && out[0]?.startsWith('{') === true ? (JSON.parse(out[0]) as Record<string, unknown>) : {};
  return { code, out, errors, json: first };
}
