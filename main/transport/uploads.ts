import { once } from 'node:events';
import { createWriteStream, rmSync } from 'node:fs';
import { statfs } from 'node:fs/promises';
import { dirname } from 'node:path';
import type { Readable } from 'node:stream';
import { Transform } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import type { Clock } from '../../shared/clock.ts';
import { BACKUP_LIMIT_BYTES, UPLOAD_LIMIT_BYTES, type UploadDone, type UploadKind } from '../../shared/ipc/handshake.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { removeQuietly, workPath } from '../store/work-folder.ts';
import { newToken } from './token.ts';

export type UploadedFile = { readonly path: string; readonly fileName: string; readonly bytes: number };

/** Files that a window handed in, waiting for the command that uses them. Those that are ours and left over go at the next start. */
export interface Uploads {
  receive(stream: Readable, fileName: string, kind?: UploadKind): Promise<Result<UploadDone, Problem>>;
  /** @returns the file, once; whoever takes it removes it */
  take(upload: string): UploadedFile | undefined;
  close(): void;
}

const KEPT_MS = 10 * 60_000;
const KEPT_COUNT = 8;

/** left free when a backup is taken in: it has to be unpacked as well */
const SPARE_BYTES = 64 * 2 ** 20;
const usualLimits: Record<UploadKind, number> = { file: UPLOAD_LIMIT_BYTES, backup: BACKUP_LIMIT_BYTES };

export function createUploads(dataFolder: string, clock: Clock, limits: Record<UploadKind, number> = usualLimits): Uploads {
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
    async receive(stream, fileName, kind = 'file') {
      if (underWay >= 2) return err(problem('too-fast'));
      underWay += 1;
      const token = newToken();
      const path = workPath(dataFolder, 'upload', token);
      let bytes = 0;
      const limitBytes = kind === 'backup' ? Math.min(limits.backup, await freeBytes(dirname(path))) : limits.file;
      const counter = new Transform({
        transform(chunk: Buffer, _encoding, done) {
          bytes += chunk.length;
          done(bytes > limitBytes ? new TooBig() : null, chunk);
        },
      });
      const file = createWriteStream(path, { mode: 0o600 });
      try {
        await pipeline(stream, counter, file);
      } catch (failure) {
        // the file may still be about to be made: taken away before that, it would stay
        if (!file.closed) await once(file, 'close').catch(() => undefined);
        rmSync(path, { force: true });
        if (failure instanceof TooBig && limitBytes < limits[kind]) return err(problem('disk-full'));
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
    close() {
      for (const { path } of waiting.values()) removeQuietly(path);
      waiting.clear();
    },
  };
}

class TooBig extends Error {}

/** A backup that does not fit is refused before it fills the disk under a run that is captured. */
async function freeBytes(folder: string): Promise<number> {
  try {
    const { bavail, bsize } = await statfs(folder);
    return Math.max(0, bavail * bsize - SPARE_BYTES);
  } catch {
    return Infinity;
  }
}
