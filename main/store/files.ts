/** Small steps on the disk that the store's promises rest on. */
import { chmodSync, closeSync, fsyncSync, mkdirSync, openSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';

/** Other accounts of this computer are not to read it. Windows has the folder's own rights for that. */
export function onlyForOwner(path: string): void {
  if (process.platform === 'win32') return;
  try {
    chmodSync(path, 0o600);
  } catch {
    // a file system without rights (FAT, some network folders), or somebody else's file: nothing that could be done
  }
}

/** Makes the folder of the records one that only its owner can look into. */
export function ownFolder(path: string): void {
  mkdirSync(path, { recursive: true, mode: 0o700 });
  if (process.platform === 'win32') return;
  try {
    chmodSync(path, 0o700);
  } catch {
    // as above
  }
}

export function syncFile(path: string): void {
  const file = openSync(path, 'r+');
  try {
    fsyncSync(file);
  } finally {
    closeSync(file);
  }
}

/** Makes renames in it durable. Windows has no such call; renames are journaled there. */
export function syncFolder(path: string): void {
  if (process.platform === 'win32') return;
  const handle = openSync(path, 'r');
  try {
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}

const TRIES = 6;
const WAIT_MS = 60;

/** A virus scanner or an indexer holds a file for a moment on Windows: a few tries before it counts. @throws the file system's own error */
export function renamePatiently(from: string, to: string): void {
  for (let n = 1; ; n++) {
    try {
      return renameSync(from, to);
    } catch (failure) {
      const { code } = failure as NodeJS.ErrnoException;
      if (process.platform !== 'win32' || n === TRIES || (code !== 'EBUSY' && code !== 'EPERM' && code !== 'EACCES')) throw failure;
      Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, WAIT_MS);
    }
  }
}

/** Writes through a temporary file, so that a reader, or a power cut, finds the old content or the new, never half of it. */
export function writeWhole(path: string, content: string | Uint8Array, mode?: number): void {
  const temporary = `${path}.part`;
  try {
    const file = openSync(temporary, 'w', mode);
    try {
      writeFileSync(file, content);
      fsyncSync(file);
    } finally {
      closeSync(file);
    }
    renamePatiently(temporary, path);
  } catch (failure) {
    rmSync(temporary, { force: true });
    throw failure;
  }
  syncFolder(dirname(path));
}
