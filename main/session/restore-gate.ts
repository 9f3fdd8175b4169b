/** While a backup takes the place of what is here, nothing that writes there may begin. */
import type { Caller, CommandName, Handlers } from '../../shared/ipc/contract.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, type Result } from '../../shared/result.ts';

/** What writes where a restore is about to move everything away. */
const waitsForRestore = [
  'run.start',
  'run.continue',
  'run.reread',
  'recipe.save',
  'recipe.remove',
  'settings.change',
  'visit.import',
  'backup.make',
] as const satisfies readonly CommandName[];

export function withGate(handlers: Handlers, isShut: () => boolean): Handlers {
  const gated: Handlers = { ...handlers };
  for (const name of waitsForRestore) {
    const handler = handlers[name] as (input: unknown, caller: Caller) => Promise<Result<never, Problem>>;
    Object.assign(gated, {
      [name]: (input: unknown, caller: Caller) => (isShut() ? Promise.resolve(err(problem('restore-under-way'))) : handler(input, caller)),
    });
  }
  return gated;
}
