/** What Electron's stand-in and the journey say to each other, over the channel of the process. */
import { EventEmitter } from 'node:events';
import type { FromShell, ToShell } from './fake-messages.ts';

export const tell = (message: FromShell): void => void process.send?.(message);
/** What the desktop app must not do. */
export const breach = (what: string): void => tell({ kind: 'breach', what });
const heard = new EventEmitter();
// one turn for each, as the real runtime gives it: what follows from an answer is done before the next press is heard
process.on('message', (message: ToShell) => setImmediate(() => heard.emit(message.kind, message)));
export const onHeard = <K extends ToShell['kind']>(kind: K, listener: (message: Extract<ToShell, { kind: K }>) => void): void =>
  void heard.on(kind, listener);

let lastId = 0;
export const nextId = (): number => (lastId += 1);
const waiting = new Map<number, { done: (value: unknown) => void; fail: (why: Error) => void }>();
onHeard('answer', ({ id, value, failure }) => {
  const one = waiting.get(id);
  waiting.delete(id);
  if (failure === undefined) one?.done(value);
  else one?.fail(new Error(failure));
});
export const askJourney = <T>(make: (id: number) => FromShell): Promise<T> =>
  new Promise<T>((done, fail) => {
    const id = nextId();
    waiting.set(id, { done: done as (value: unknown) => void, fail });
    tell(make(id));
  });
