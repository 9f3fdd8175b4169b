import { z } from 'zod';
import { err, type Result } from '../result.ts';
import { problem, type Problem } from '../problem.ts';
import {
  commands,
  instructorCommands,
  viewerCommands,
  type Caller,
  type CommandName,
  type EventName,
  type Handlers,
  type Payload,
} from './contract.ts';
import { isBoundedValue, MESSAGE_LIMITS } from './bounded-json.ts';
import { CallMessage } from './message.ts';
import type { Transport } from './transport.ts';
import { plainRefusal } from '../plain-refusal.ts';
import { ipcTexts } from '../words/core/ipc.ts';

/** May this role send this command? The operator may send all. */
function mayCall(role: Caller['role'], name: CommandName): boolean {
  if (role === 'operator' || viewerCommands.has(name)) return true;
  return role === 'instructor' && instructorCommands.has(name);
}

/**
 * Answers the calls of one window. Input is checked before a handler runs, and a crash becomes an answer, so the window never waits for ever.
 *
 * @param caller asked at each call, because a role can change while the window stays
 * @param onCrash gets the failure itself; the window gets a plain sentence
 * @returns a function that stops serving
 */
export function serve(transport: Transport, handlers: Handlers, caller: () => Caller, onCrash: OnCrash = () => undefined): () => void {
  return transport.onMessage((message) => {
    const call = CallMessage.safeParse(message);
    if (!call.success) {
      // an id that can be read is answered, so that the caller learns of it
      const id = z.object({ id: z.number().int().nonnegative() }).safeParse(message);
      if (id.success) transport.send({ type: 'reply', id: id.data.id, result: err(problem('request-invalid', plainRefusal(call.error))) });
      return;
    }
    const { id, name, input } = call.data;
    void answer(handlers, name, input, caller, onCrash)
      .then((result) => transport.send({ type: 'reply', id, result }))
      // an answer that cannot be sent (too deep to be written, say) still is an answer
      .catch((bug: unknown) => {
        onCrash(name, bug);
        transport.send({ type: 'reply', id, result: err(problem('internal')) });
      })
      .catch(() => undefined);
  });
}

/** A figure that cannot be was understood: a person typed it, and types another one. */
const isFigure = ({ issues: [first] }: z.ZodError): boolean =>
  (first?.code === 'too_big' || first?.code === 'too_small') && first.origin === 'number';

type OnCrash = (command: string, failure: unknown) => void;

async function answer(
  handlers: Handlers,
  name: string,
  input: unknown,
  callerNow: () => Caller,
  onCrash: OnCrash,
): Promise<Result<unknown, Problem>> {
  if (!Object.hasOwn(commands, name)) return err(problem('request-invalid', ipcTexts.noCommand(name)));
  const known = name as CommandName;
  try {
    const caller = callerNow();
    if (!mayCall(caller.role, known)) return err(problem('not-allowed'));
    // checked before any schema: one that calls itself for every level would run out of stack
    if (!isBoundedValue(input, MESSAGE_LIMITS)) return err(problem('request-invalid', ipcTexts.tooDeep));
    const checked = commands[known].input.safeParse(input);
    if (!checked.success)
      return err(problem(isFigure(checked.error) ? 'value-out-of-range' : 'request-invalid', plainRefusal(checked.error)));
    const handler = handlers[known] as (input: unknown, caller: Caller) => Promise<Result<unknown, Problem>>;
    return await handler(checked.data, caller);
  } catch (bug) {
    onCrash(known, bug);
    return err(problem('internal'));
  }
}

export function publish<K extends EventName>(transport: Transport, name: K, payload: Payload<K>): void {
  transport.send({ type: 'event', name, payload });
}
