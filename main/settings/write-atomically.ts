import { closeSync, fsyncSync, openSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';

/**
 * Writes a small file so that a reader, or a power cut, finds the old one or the new one and never half of it: temporary file, fsync, rename,
 * fsync of the folder.
 *
 * @throws the file system's own error; the old file is untouched then
 */
export function writeAtomically(path: string, text: string): void {
  const temporary = `${path}.${process.pid}.new`;
  try {
    const file = openSync(temporary, 'w', 0o600);
    try {
      writeFileSync(file, text);
      fsyncSync(file);
    } finally {
      closeSync(file);
    }
    renameSync(temporary, path);
  } catch (error) {
    rmSync(temporary, { force: true });
    throw error;
  }
  syncFolder(dirname(path));
}

/** Makes the rename itself durable. Windows has no such call and says so; the rename is journaled there. */
function syncFolder(folder: string): void {
  if (process.platform === 'win32') return;
  const handle = openSync(folder, 'r');
  try {
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}
