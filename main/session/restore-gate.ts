/** While a backup takes the place of what is here, nothing that writes there may begin: it would be put aside with what was here before. */
import { commands, viewerCommands, type Caller, type CommandName, type Handlers } from '../../shared/ipc/contract.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, type Result } from '../../shared/result.ts';

/** Besides what every window may look at: these end or move what is in memory, or answer for themselves. A new command waits until it stands here. */
const goesOn: ReadonlySet<CommandName> = new Set<CommandName>([
  'backup.restore',
  'problem.dismiss',
  'replay.control',
  'run.end',
  'simulator.look',
  'simulator.parts',
]);
export const waitsForRestore = (name: CommandName): boolean => !viewerCommands.has(name) && !goesOn.has(name);

export function withGate(handlers: Handlers, isShut: () => boolean): Handlers {
  const gated: Handlers = { ...handlers };
  for (const name of (Object.keys(commands) as CommandName[]).filter(waitsForRestore)) {
    const handler = handlers[name] as (input: unknown, caller: Caller) => Promise<Result<never, Problem>>;
    Object.assign(gated, {
      [name]: (input: unknown, caller: Caller) => (isShut() ? Promise.resolve(err(problem('restore-under-way'))) : handler(input, caller)),
    });
  }
  return gated;
}
