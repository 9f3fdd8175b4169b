/**
 * A file in the temporary folder that takes what the run file refuses. Its name says which run it belongs to and from which byte
 * on it goes, so that a later start can put both together again even when this process was killed in between.
 */
import { constants } from 'node:fs';
import { lstat, open, readdir, rm, truncate } from 'node:fs/promises';
import { randomBytes } from 'node:crypto';
import { join } from 'node:path';

export interface Fallback {
  add(bytes: Uint8Array): Promise<void>;
  /** hands everything back in order and removes the file */
  giveBack(write: (bytes: Uint8Array) => Promise<void>): Promise<void>;
  close(): Promise<void>;
}

const NAME = /^flueside-(.+)-from-(\d+)-[0-9a-f]{8}\.part$/;
const PIECE = 1 << 20;

export async function createFallback(folder: string, runId: string, fromByte: number): Promise<Fallback> {
  const path = join(folder, `flueside-${runId}-from-${fromByte}-${randomBytes(4).toString('hex')}.part`);
  // exclusive: somebody else's file or link of that name is never written to
  const handle = await open(path, constants.O_RDWR | constants.O_CREAT | constants.O_EXCL, 0o600);
  let length = 0;
  let returned = 0;
  return {
    async add(bytes) {
      let done = 0;
      while (done < bytes.length) {
        const { bytesWritten } = await handle.write(bytes, done, bytes.length - done, length + done);
        if (bytesWritten === 0) throw new Error('the fallback file takes no bytes');
        done += bytesWritten;
      }
      length += done;
      await handle.datasync();
    },
    async giveBack(write) {
      const piece = Buffer.alloc(PIECE);
      while (returned < length) {
        const { bytesRead } = await handle.read(piece, 0, Math.min(PIECE, length - returned), returned);
        if (bytesRead === 0) break;
        await write(Uint8Array.from(piece.subarray(0, bytesRead)));
        returned += bytesRead;
      }
      await handle.close();
      await rm(path, { force: true });
    },
    close: () => handle.close().catch(() => undefined),
  };
}

/**
 * Puts what a killed process had set aside for this run behind the run file's good part.
 *
 * @returns how many bytes were added
 */
export async function recoverFallback(folder: string, runId: string, runPath: string): Promise<number> {
  let added = 0;
  for (const name of await readdir(folder).catch(() => [] as string[])) {
    const parts = NAME.exec(name);
    if (parts?.[1] !== runId) continue;
    const path = join(folder, name);
    const { isFile, uid } = await lstat(path).then((s) => ({ isFile: s.isFile(), uid: s.uid }));
    if (!isFile || (process.getuid !== undefined && uid !== process.getuid())) continue;
    const from = Number(parts[2]);
    const size = (await lstat(runPath)).size;
    if (from > size) continue; // belongs to a file that was longer: not ours to guess
    await truncate(runPath, from);
    const source = await open(path, 'r');
    const target = await open(runPath, 'r+');
    try {
      const piece = Buffer.alloc(PIECE);
      for (let at = 0; ;) {
        const { bytesRead } = await source.read(piece, 0, PIECE, at);
        if (bytesRead === 0) break;
        await target.write(piece, 0, bytesRead, from + at);
        at += bytesRead;
        added += bytesRead;
      }
      await target.datasync();
    } finally {
      await source.close();
      await target.close();
    }
    await rm(path, { force: true });
  }
  return added;
}
