import { err, ok, type Result } from '../result.ts';
import { isProblemCode, problem, type Problem } from '../problem.ts';
import type { CallInput, CommandName, commands, EventName, events, Output, Payload } from './contract.ts';
import type { Transport } from './transport.ts';
import { ipcTexts } from '../words/core/ipc.ts';

/** The schemas of everything on the wire: big, and not needed for the first figure. */
export type Contract = { readonly commands: typeof commands; readonly events: typeof events };

/** What the first figure waits for: the host makes these itself, nothing in them comes from a stored document. A test compares them with their schemas. */
export const firstAnswers: ReadonlySet<CommandName> = new Set<CommandName>(['session.hello', 'source.list', 'run.history']);

/** The window's side of the wire. Every reply and event is checked on arrival; nothing waits for ever once the wire is closed. */
export interface Client {
  call<K extends CommandName>(name: K, input: CallInput<K>): Promise<Result<Output<K>, Problem>>;
  /** @returns a function that stops listening */
  on<K extends EventName>(name: K, listener: (payload: Payload<K>) => void): () => void;
  /** Fetches the schemas, if they are not here. */
  checkFromNowOn(): Promise<void>;
  close(): void;
}

type Reply = { id: number; result: { ok: true; value: unknown } | { ok: false; error: Problem } };

const isObject = (value: unknown): value is Record<string, unknown> => typeof value === 'object' && value !== null;

/** The two shapes of `message.ts` that a window hears. */
function asReply(message: unknown): Reply | undefined {
  if (!isObject(message) || message['type'] !== 'reply' || !Number.isInteger(message['id'])) return undefined;
  const { id, result } = message;
  if (!isObject(result)) return undefined;
  if (result['ok'] === true) return { id: id as number, result: { ok: true, value: result['value'] } };
  const { error } = result;
  if (result['ok'] !== false || !isObject(error) || !isProblemCode(error['code'])) return undefined;
  const { code, detail } = error;
  return { id: id as number, result: { ok: false, error: problem(code, typeof detail === 'string' ? detail : undefined) } };
}
const asEvent = (message: unknown): { name: string; payload: unknown } | undefined =>
  isObject(message) && message['type'] === 'event' && typeof message['name'] === 'string'
    ? { name: message['name'], payload: message['payload'] }
    : undefined;

/**
 * @param contract the schemas, or how they are fetched: until they are here, first answers and events pass as the host sent them, and every other
 * answer waits. They are fetched when the first such answer comes, or by `checkFromNowOn`
 */
export function createClient(transport: Transport, contract: Contract | (() => Promise<Contract>)): Client {
  type Waiting = { name: CommandName; answer: (result: Result<never, Problem>) => void };
  const waiting = new Map<number, Waiting>();
  const listeners = new Map<EventName, Set<(payload: never) => void>>();
  let nextId = 1;
  let closed = false;
  let schemas = typeof contract === 'function' ? undefined : contract;
  let fetching: Promise<Contract> | undefined;
  const fetchSchemas = async (): Promise<Contract> => {
    if (typeof contract !== 'function') return contract;
    fetching ??= contract();
    try {
      return (schemas = await fetching);
    } catch (reason) {
      // asked for anew with the next answer
      fetching = undefined;
      throw reason;
    }
  };

  const deliver = (name: EventName, payload: unknown): void => {
    const checked = schemas === undefined ? undefined : schemas.events[name].safeParse(payload);
    if (checked?.success === false) {
      console_.warn(ipcTexts.eventLeftOut(name));
      return;
    }
    for (const listener of listeners.get(name) ?? []) listener((checked?.data ?? payload) as never);
  };
  const answerWith = ({ name, answer }: Waiting, value: unknown, { commands }: Contract): void => {
    const checked = commands[name].output.safeParse(value);
    answer(checked.success ? ok(checked.data as never) : err(problem('internal', ipcTexts.answerMalformed(name))));
  };

  const stop = transport.onMessage((message) => {
    const reply = asReply(message);
    if (reply !== undefined) {
      const call = waiting.get(reply.id);
      if (call === undefined) return;
      waiting.delete(reply.id);
      const { result } = reply;
      if (!result.ok) return call.answer(err(result.error));
      if (schemas !== undefined) return answerWith(call, result.value, schemas);
      if (firstAnswers.has(call.name)) return call.answer(ok(result.value as never));
      void fetchSchemas().then(
        (fetched) => answerWith(call, result.value, fetched),
        () => call.answer(err(problem('internal', ipcTexts.answerUnchecked(call.name)))),
      );
      return;
    }
    const event = asEvent(message);
    if (event === undefined || (schemas !== undefined && !(event.name in schemas.events))) return;
    const name = event.name as EventName;
    if (name === 'wire.closed') {
      closed = true;
      for (const call of waiting.values()) call.answer(err(problem('wire-closed')));
      waiting.clear();
    }
    deliver(name, event.payload);
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
    async checkFromNowOn() {
      // without them what comes is passed on as it is, and every other answer asks again
      await fetchSchemas().catch(() => undefined);
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
