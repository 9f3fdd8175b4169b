import { err, ok, type Result } from '../result.ts';
import { problem, type Problem } from '../problem.ts';
import { commands, events, type CallInput, type CommandName, type EventName, type Output, type Payload } from './contract.ts';
import { EventMessage, ReplyMessage } from './message.ts';
import type { Transport } from './transport.ts';
import { ipcTexts } from '../words/core/ipc.ts';

/** The window's side of the wire. Every reply and event is checked on arrival; nothing waits for ever once the wire is closed. */
export interface Client {
  call<K extends CommandName>(name: K, input: CallInput<K>): Promise<Result<Output<K>, Problem>>;
  /** @returns a function that stops listening */
  on<K extends EventName>(name: K, listener: (payload: Payload<K>) => void): () => void;
  close(): void;
}

export function createClient(transport: Transport): Client {
  type Waiting = { name: CommandName; answer: (result: Result<never, Problem>) => void };
  const waiting = new Map<number, Waiting>();
  const listeners = new Map<EventName, Set<(payload: never) => void>>();
  let nextId = 1;
  let closed = false;

  const deliver = (name: EventName, payload: unknown): void => {
    const checked = events[name].safeParse(payload);
    if (!checked.success) {
      console_.warn(ipcTexts.eventLeftOut(name));
      return;
    }
    for (const listener of listeners.get(name) ?? []) listener(checked.data as never);
  };

  const stop = transport.onMessage((message) => {
    const reply = ReplyMessage.safeParse(message);
    if (reply.success) {
      const call = waiting.get(reply.data.id);
      if (call === undefined) return;
      waiting.delete(reply.data.id);
      const { result } = reply.data;
      if (!result.ok) return call.answer(err(result.error));
      const value = commands[call.name].output.safeParse(result.value);
      return call.answer(value.success ? ok(value.data as never) : err(problem('internal', ipcTexts.answerMalformed(call.name))));
    }
    const event = EventMessage.safeParse(message);
    if (!event.success || !(event.data.name in events)) return;
    const name = event.data.name as EventName;
    if (name === 'wire.closed') {
      closed = true;
      for (const call of waiting.values()) call.answer(err(problem('wire-closed')));
      waiting.clear();
    }
    deliver(name, event.data.payload);
  });

  return {
    call(name, input) {
      if (closed) return Promise.resolve(err(problem('wire-closed')));
      // on the wire it would become null, and be taken for something that was left out
      if (!hasOnlyNumbers(input)) return Promise.resolve(err(problem('value-out-of-range', ipcTexts.noNumber(name))));
      return new Promise((resolve) => {
        const id = nextId++;
        waiting.set(id, { name, answer: resolve });
        transport.send({ type: 'call', id, name, input });
      });
    },
    on(name, listener) {
      const set = listeners.get(name) ?? new Set();
      listeners.set(name, set);
      set.add(listener);
      return () => set.delete(listener);
    },
    close() {
      stop();
      closed = true;
      for (const call of waiting.values()) call.answer(err(problem('wire-closed')));
      waiting.clear();
    },
  };
}

/** Is every number in it one? */
function hasOnlyNumbers(value: unknown): boolean {
  if (typeof value === 'number') return Number.isFinite(value);
  return typeof value !== 'object' || value === null || Object.values(value).every(hasOnlyNumbers);
}

/** `shared/` has no console of its own; a host may have one. */
const console_: { warn(text: string): void } = (globalThis as { console?: { warn(text: string): void } }).console ?? {
  warn: () => undefined,
};
