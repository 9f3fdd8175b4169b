/** What the work knows of the thread that it runs in. */
import { isMainThread, parentPort, workerData } from 'node:worker_threads';
import type { FromThread } from './thread-messages.ts';

/** What this thread's program is, to the last byte; undefined in the host's own thread (there is no program of its own there). */
export const programOfThread = (): string | undefined =>
  isMainThread ? undefined : ((workerData as { program?: unknown } | null)?.program as string | undefined);

/** One line for the log, which the host writes. */
export const sayToLog = (text: string): void => parentPort?.postMessage({ kind: 'said', text } satisfies FromThread);
