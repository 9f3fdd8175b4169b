import { createWriteStream, mkdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import type { Readable } from 'node:stream';
import { Transform } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import type { Clock } from '../../shared/clock.ts';
import { UPLOAD_LIMIT_BYTES, type UploadDone } from '../../shared/ipc/handshake.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { newToken } from './token.ts';

export type UploadedFile = { readonly path: string; readonly fileName: string; readonly bytes: number };

/** Files that a window handed in, waiting for the command that uses them. They lie in a folder of their own, emptied at every start. */
export interface Uploads {
  receive(stream: Readable, fileName: string): Promise<Result<UploadDone, Problem>>;
  /** @returns the file, once; whoever takes it removes it */
  take(upload: string): UploadedFile | undefined;
  close(): void;
}

const KEPT_MS = 10 * 60_000;
const KEPT_COUNT = 8;

export function createUploads(folder: string, clock: Clock, limitBytes = UPLOAD_LIMIT_BYTES): Uploads {
  rmSync(folder, { recursive: true, force: true });
  const waiting = new Map<string, UploadedFile & { untilMs: number }>();
  let underWay = 0;

  const forgetOld = (): void => {
    for (const [token, { path, untilMs }] of waiting) {
      if (untilMs > clock.nowMs() && waiting.size <= KEPT_COUNT) continue;
      waiting.delete(token);
      rmSync(path, { force: true });
    }
  };

  return {
    async receive(stream, fileName) {
      if (underWay >= 2) return err(problem('too-fast'));
      underWay += 1;
      const token = newToken();
      const path = join(folder, token);
      let bytes = 0;
      const counter = new Transform({
        transform(chunk: Buffer, _encoding, done) {
          bytes += chunk.length;
          done(bytes > limitBytes ? new TooBig() : null, chunk);
        },
      });
      try {
        mkdirSync(folder, { recursive: true, mode: 0o700 });
        await pipeline(stream, counter, createWriteStream(path, { mode: 0o600 }));
      } catch (failure) {
        rmSync(path, { force: true });
        if (failure instanceof TooBig) return err(problem('file-too-big', `At most ${Math.round(limitBytes / 1024 / 1024)} MB.`));
        return err(problem((failure as NodeJS.ErrnoException).code === 'ENOSPC' ? 'disk-full' : 'disk-failed', (failure as Error).message));
      } finally {
        underWay -= 1;
      }
      waiting.set(token, { path, fileName, bytes, untilMs: clock.nowMs() + KEPT_MS });
      forgetOld();
      return ok({ upload: token, fileName, bytes });
    },
    take(upload) {
      forgetOld();
      const found = waiting.get(upload);
      waiting.delete(upload);
      return found;
    },
    close: () => rmSync(folder, { recursive: true, force: true }),
  };
}

class TooBig extends Error {}
