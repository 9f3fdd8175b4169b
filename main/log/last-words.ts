/** A failure that nobody caught: what was captured is brought to the disk and the store is closed before anything is said. */
import type { Log } from './log.ts';

type Process = {
  on(event: 'uncaughtException' | 'unhandledRejection', listener: (failure: unknown) => void): unknown;
  exit(code: number): void;
};

const LONGEST_MS = 5000;

/**
 * @param close flushes run files and closes the store; runs of an instrument stay open, to be gone on with
 * @param say to the person, last
 */
export function handleUncaught(
  on: Process,
  {
    log,
    close,
    say,
    sleep,
  }: { log: Log; close: () => Promise<void>; say: (failure: unknown) => void; sleep: (ms: number) => Promise<void> },
): void {
  let isEnding = false;
  const end = async (where: string, failure: unknown): Promise<void> => {
    log.failedLast(where, failure);
    // a second failure on the way out is written down and changes nothing
    if (isEnding) return;
    isEnding = true;
    await Promise.race([close().catch((second: unknown) => log.failedLast('closing', second)), sleep(LONGEST_MS)]);
    say(failure);
    on.exit(1);
  };
  on.on('uncaughtException', (failure) => void end('uncaughtException', failure));
  on.on('unhandledRejection', (failure) => void end('unhandledRejection', failure));
}
