/** The program of the background thread. Wiring only: what it does is in `background/jobs.ts`. */
import { setPriority } from 'node:os';
import { parentPort } from 'node:worker_threads';
import { jobs } from './background/jobs.ts';
import type { JobName } from './background/jobs.ts';
import { plain, type FromThread, type ToThread } from './background/thread-messages.ts';

const port = parentPort;
if (port === null) throw new Error('This is the program of a thread.');
const say = (message: FromThread): void => port.postMessage(message);

// on Linux this counts for the thread that asks; elsewhere it would slow the whole program
if (process.platform === 'linux') {
  try {
    setPriority(0, 4);
  } catch {
    // not allowed here: it works without
  }
}

type Fed = { readonly done: boolean; readonly value: unknown };
type Pull = { readonly taken: (piece: Fed) => void; readonly stopped: (why: Error) => void };
const underWay = new Map<number, { abort: AbortController; awaited: Pull | undefined }>();

async function* feedOf(id: number): AsyncGenerator<unknown> {
  for (;;) {
    const one = underWay.get(id);
    if (one === undefined) return;
    one.abort.signal.throwIfAborted();
    const { done, value } = await new Promise<Fed>((taken, stopped) => {
      one.awaited = { taken, stopped };
      say({ kind: 'pull', id });
    });
    if (done) return;
    yield value;
  }
}

async function run({ id, name, ask }: Extract<ToThread<JobName>, { kind: 'run' }>): Promise<void> {
  const abort = new AbortController();
  underWay.set(id, { abort, awaited: undefined });
  try {
    const job = jobs[name] as (ask: never, watch: object) => Promise<unknown>;
    const watch = { reached: (share: number) => say({ kind: 'reached', id, share }), signal: abort.signal, feed: feedOf(id) };
    const answer = await job(ask as never, watch);
    say({ kind: 'done', id, answer });
  } catch (failure) {
    say({ kind: 'failed', id, failure: plain(failure) });
  } finally {
    underWay.delete(id);
  }
}

port.on('message', (message: ToThread<JobName>) => {
  if (message.kind === 'run') {
    void run(message);
    return;
  }
  const one = underWay.get(message.id);
  if (message.kind !== 'stop') {
    one?.awaited?.taken(message);
    return;
  }
  one?.abort.abort();
  one?.awaited?.stopped(one.abort.signal.reason as Error);
});
