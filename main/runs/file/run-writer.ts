/**
 * Keeps a run: appends at once, syncs to the disk at least once a second, never throws and never makes the caller wait.
 *
 * What has been handed in waits in memory only while a write is on its way, so a killed process loses what came in the last
 * milliseconds. When the disk is full or refuses, everything goes on to a fallback file in the temporary folder and the run
 * file is tried again every few seconds; once it takes writes again, what was set aside is added first, in order.
 */
import { constants } from 'node:fs';
import { open, type FileHandle } from 'node:fs/promises';
import { problem, type Problem } from '../../../shared/problem.ts';
import { createFallback, type Fallback } from './fallback.ts';

export interface RunWriter {
  /** takes one encoded entry, line end included */
  append(text: string): void;
  /** resolves when everything handed in so far is on the disk (or, if that fails, in the fallback) */
  flush(): Promise<void>;
  /** flushes, syncs and closes; nothing may be appended after */
  close(): Promise<void>;
  /** bytes waiting in memory */
  readonly waitingBytes: number;
  /** bytes that had to be given up because neither disk took them and memory was full; 0 on any good day */
  readonly lostBytes: number;
}

export interface RunWriterParts {
  /** told when writing starts to fail, and with undefined when it works again */
  readonly onProblem: (found: Problem | undefined) => void;
  /** where the fallback file goes; the system's temporary folder */
  readonly fallbackFolder: string;
  readonly runId: string;
  readonly syncEveryMs?: number;
  readonly retryEveryMs?: number;
  /** bytes kept in memory when neither disk takes them */
  readonly memoryLimit?: number;
}

const SYNC_EVERY_MS = 900; // under the promised second
const RETRY_EVERY_MS = 3000;
const MEMORY_LIMIT = 16 * 1024 * 1024;

/**
 * @param path must not exist yet when `fromByte` is 0
 * @param fromByte length of the good part of an existing file; what follows it (a torn last line) is cut off
 */
export async function createRunWriter(path: string, fromByte: number, parts: RunWriterParts): Promise<RunWriter> {
  const { syncEveryMs = SYNC_EVERY_MS, retryEveryMs = RETRY_EVERY_MS, memoryLimit = MEMORY_LIMIT } = parts;
  let handle: FileHandle | undefined;
  let fallback: Fallback | undefined;
  let goodLength = fromByte;
  let waiting: string[] = [];
  let waitingBytes = 0;
  let lostBytes = 0;
  let writing: Promise<void> | undefined;
  let isDirty = false;
  let isClosed = false;
  let failedAtMs: number | undefined;

  const openFile = async (): Promise<FileHandle> => {
    const flags = goodLength === 0 ? constants.O_RDWR | constants.O_CREAT : constants.O_RDWR;
    const opened = await open(path, flags, 0o600);
    await opened.truncate(goodLength).catch(() => undefined); // a device has no length
    return opened;
  };

  const failed = (cause: unknown): void => {
    const code = (cause as NodeJS.ErrnoException).code;
    const isFull = code === 'ENOSPC' || code === 'EDQUOT';
    if (failedAtMs === undefined) parts.onProblem(problem(isFull ? 'disk-full' : 'disk-failed', code ?? String(cause)));
    failedAtMs = performance.now();
  };

  /** Writes all of `bytes` at the end of what is known to be good; a part that went in is cut off again by the next try. */
  const writeWhole = async (bytes: Uint8Array): Promise<void> => {
    handle ??= await openFile();
    let done = 0;
    while (done < bytes.length) {
      const { bytesWritten } = await handle.write(bytes, done, bytes.length - done, goodLength + done);
      if (bytesWritten === 0) throw Object.assign(new Error('no bytes were taken'), { code: 'EIO' });
      done += bytesWritten;
    }
    goodLength += done;
    isDirty = true;
  };

  const sync = async (): Promise<void> => {
    if (!isDirty || handle === undefined) return;
    isDirty = false;
    await handle.datasync();
  };

  const drain = async (): Promise<void> => {
    while (waiting.length > 0) {
      const texts = waiting;
      const size = waitingBytes;
      const mayTry = failedAtMs === undefined || performance.now() - failedAtMs >= retryEveryMs || isClosed;
      if (mayTry) {
        try {
          if (failedAtMs !== undefined) {
            await handle?.close().catch(() => undefined);
            handle = undefined;
          }
          if (fallback !== undefined) {
            await fallback.giveBack(writeWhole);
            fallback = undefined;
          }
          waiting = [];
          waitingBytes = 0;
          await writeWhole(Buffer.from(texts.join(''), 'latin1'));
          if (failedAtMs !== undefined) {
            failedAtMs = undefined;
            parts.onProblem(undefined);
          }
          continue;
        } catch (cause) {
          if (waiting !== texts) {
            waiting = texts.concat(waiting);
            waitingBytes += size;
          }
          failed(cause);
        }
      }
      if (!(await setAside())) return;
    }
  };

  /** @returns false when even the fallback refused; memory keeps it then, up to its limit */
  const setAside = async (): Promise<boolean> => {
    const texts = waiting;
    const size = waitingBytes;
    waiting = [];
    waitingBytes = 0;
    try {
      fallback ??= await createFallback(parts.fallbackFolder, parts.runId, goodLength);
      await fallback.add(Buffer.from(texts.join(''), 'latin1'));
      return true;
    } catch {
      waiting = texts.concat(waiting);
      waitingBytes += size;
      dropOldest();
      return false;
    }
  };
  const dropOldest = (): void => {
    let dropped = 0;
    while (waitingBytes > memoryLimit && dropped < waiting.length) {
      const size = (waiting[dropped++] as string).length;
      waitingBytes -= size;
      lostBytes += size;
    }
    if (dropped > 0) waiting = waiting.slice(dropped);
  };

  const start = (): Promise<void> => {
    writing ??= drain()
      .catch(failed)
      .finally(() => {
        writing = undefined;
      });
    return writing;
  };

  const timer = setInterval(() => {
    if (failedAtMs !== undefined && (fallback !== undefined || waiting.length > 0) && performance.now() - failedAtMs >= retryEveryMs) {
      if (waiting.length === 0) waiting.push('');
      void start();
    }
    void sync().catch(failed);
  }, syncEveryMs);
  timer.unref();

  try {
    handle = await openFile();
  } catch (cause) {
    failed(cause);
  }

  return {
    append(text) {
      if (isClosed) return;
      waiting.push(text);
      waitingBytes += text.length;
      if (waitingBytes > memoryLimit) dropOldest();
      void start();
    },
    async flush() {
      while (writing !== undefined) await writing;
    },
    async close() {
      if (isClosed) return;
      isClosed = true;
      clearInterval(timer);
      while (writing !== undefined) await writing;
      if (waiting.length > 0 || fallback !== undefined) {
        if (waiting.length === 0) waiting.push('');
        await start();
      }
      await sync().catch(failed);
      await handle?.close().catch(() => undefined);
      await fallback?.close();
    },
    get waitingBytes() {
      return waitingBytes;
    },
    get lostBytes() {
      return lostBytes;
    },
  };
}
