/**
 * Long work beside the loop that stamps lines: in a thread of its own, so that whatever is read, folded, written or packed there, a line gets its
 * true time. The thread starts with the first piece of work and ends when there was none for a while. Where no program for it lies beside this one
 * (unit tests from the sources), the same work is done in this thread, in short pieces.
 */
import { createHash } from 'node:crypto';
import { existsSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { Worker } from 'node:worker_threads';
import type { Jobs, JobName } from './jobs.ts';
import { revive, type FromThread, type ToThread } from './thread-messages.ts';
import { defined } from '../../shared/defined.ts';

export interface Background {
  /** @throws what the work throws, with its `code`; an Error when the thread ended in the middle */
  run<K extends JobName>(name: K, ask: Parameters<Jobs[K]>[0], watch?: JobWatch): Promise<Awaited<ReturnType<Jobs[K]>>>;
  /** told what the thread has to say for the log */
  listen?(said: (text: string) => void): void;
  /** what is under way fails */
  close(): Promise<void>;
}

export type JobWatch = {
  /** told which share of the work is done, 0 to 1 */
  readonly reached?: (share: number) => void;
  readonly signal?: AbortSignal;
  /** what the work asks for piece by piece while it goes on */
  readonly feed?: AsyncIterable<unknown> | Iterable<unknown>;
};

const PROGRAM = 'background-thread.cjs';
/** what it has read of runs is at hand for as long */
const IDLE_MS = 10 * 60_000;
/** a thread that has nothing at hand is 40 MB for nothing; starting it takes a tenth of a second */
const BARE_MS = 20_000;
/** work that leaves nothing behind which the next could use */
const leavesNothing: ReadonlySet<JobName> = new Set<JobName>([
  'judgeLines',
  'forgetStored',
  'measureRun',
  'visitLinks',
  'packVisits',
  'unpackVisits',
  'writeBackup',
  'readBackup',
]);

/** Beside the bundle that this is in, or beside the folder of its parts. */
function backgroundProgram(): string | undefined {
  const here = dirname(fileURLToPath(import.meta.url));
  return [join(here, PROGRAM), join(here, '..', PROGRAM)].find((path) => existsSync(path));
}

/** All work in this thread. */
export const inThisThread: Background = {
  async run(name, ask, watch = {}) {
    const { jobs } = await import('./jobs.ts');
    const { reached = () => undefined, signal, feed = [] } = watch;
    type Job = (ask: never, watch: object) => Promise<never>;
    return (jobs[name] as unknown as Job)(ask as never, { reached, ...defined({ signal }), feed });
  },
  close: () => Promise.resolve(),
};

type Pending = {
  readonly resolve: (answer: never) => void;
  readonly reject: (failure: Error) => void;
  readonly reached: (share: number) => void;
  feed: AsyncIterator<unknown> | Iterator<unknown> | undefined;
};

/** @param program the bundled program of the thread; without one everything is done in this thread */
export function createBackground(
  program: string | undefined = backgroundProgram(),
  { idleMs = IDLE_MS, bareMs = BARE_MS }: { readonly idleMs?: number; readonly bareMs?: number } = {},
): Background {
  if (program === undefined) return inThisThread;
  let worker: Promise<Worker> | undefined;
  let current: Worker | undefined;
  let idle: NodeJS.Timeout | undefined;
  // has the thread read something that the next work may ask for again?
  let isBare = true;
  let isClosed = false;
  let heard = (text: string): void => void text;
  let lastId = 0;
  const pending = new Map<number, Pending>();

  const ended = (): Error => new Error('The background thread ended.');
  const failAll = (failure: Error): void => {
    worker = undefined;
    current = undefined;
    isBare = true;
    const left = [...pending.values()];
    pending.clear();
    for (const { reject } of left) reject(failure);
  };
  const start = async (): Promise<Worker> => {
    // read here and not by the thread: inside the archive of an installed program only this thread is sure to find it
    const bytes = await readFile(program);
    const thread = new Worker(bytes.toString('utf8'), {
      eval: true,
      workerData: { url: pathToFileURL(program).href, program: createHash('sha256').update(bytes).digest('hex') },
    });
    // alone it keeps no program alive
    thread.unref();
    current = thread;
    // one that was ended for want of work goes a moment later, when there may be another already
    const gone = (failure: Error): void => {
      if (current === thread) failAll(failure);
    };
    thread.on('message', (said: FromThread) => void hear(thread, said));
    thread.on('error', gone);
    thread.on('exit', () => gone(ended()));
    return thread;
  };

  const hear = async (thread: Worker, said: FromThread): Promise<void> => {
    if (said.kind === 'said') return heard(said.text);
    const one = pending.get(said.id);
    if (one === undefined) return;
    if (said.kind === 'reached') return one.reached(said.share);
    if (said.kind === 'pull') {
      try {
        const next: IteratorResult<unknown, unknown> = (await one.feed?.next()) ?? { done: true, value: undefined };
        const done = next.done === true;
        thread.postMessage({ kind: 'fed', id: said.id, done, value: done ? undefined : next.value } satisfies ToThread<JobName>);
      } catch (failure) {
        finish(said.id);
        thread.postMessage({ kind: 'stop', id: said.id } satisfies ToThread<JobName>);
        one.reject(failure as Error);
      }
      return;
    }
    finish(said.id);
    if (said.kind === 'done') one.resolve(said.answer as never);
    else one.reject(revive(said.failure));
  };
  const finish = (id: number): void => {
    pending.delete(id);
    if (pending.size > 0) return;
    clearTimeout(idle);
    idle = setTimeout(() => void end(), isBare ? Math.min(bareMs, idleMs) : idleMs);
    idle.unref();
  };
  const end = async (): Promise<void> => {
    const ending = worker;
    worker = undefined;
    current = undefined;
    isBare = true;
    await (await ending?.catch(() => undefined))?.terminate();
  };

  return {
    async run(name, ask, { reached = () => undefined, signal, feed } = {}) {
      if (isClosed) throw new Error('The background thread is closed.');
      signal?.throwIfAborted();
      clearTimeout(idle);
      isBare &&= leavesNothing.has(name);
      worker ??= start();
      const id = ++lastId;
      // a program that is to end waits for the work, as it would if it did the work itself
      const awake = setInterval(() => undefined, 60_000);
      const stop = (): void => void worker?.then((thread) => thread.postMessage({ kind: 'stop', id } satisfies ToThread<JobName>));
      try {
        return await new Promise<never>((resolve, reject) => {
          const source =
            feed === undefined ? undefined : Symbol.asyncIterator in feed ? feed[Symbol.asyncIterator]() : feed[Symbol.iterator]();
          pending.set(id, { resolve, reject, reached, feed: source });
          signal?.addEventListener('abort', stop, { once: true });
          worker?.then(
            (thread) => thread.postMessage({ kind: 'run', id, name, ask } satisfies ToThread<JobName>),
            (failure: Error) => {
              worker = undefined;
              finish(id);
              reject(failure);
            },
          );
        });
      } finally {
        clearInterval(awake);
        signal?.removeEventListener('abort', stop);
      }
    },
    listen: (said) => void (heard = said),
    async close() {
      isClosed = true;
      clearTimeout(idle);
      await end();
      failAll(ended());
    },
  };
}
