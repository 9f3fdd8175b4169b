import { open, stat } from 'node:fs/promises';

const PIECE = 1 << 18;

/** True when the file `path` is shorter than `whole` and every byte of it stands there too. */
export async function isBeginningOf(path: string, whole: string): Promise<boolean> {
  const [{ size }, { size: wholeSize }] = await Promise.all([stat(path), stat(whole)]);
  if (size >= wholeSize) return false;
  const [one, other] = [await open(path, 'r'), await open(whole, 'r')];
  try {
    const [left, right] = [Buffer.alloc(PIECE), Buffer.alloc(PIECE)];
    for (let at = 0; at < size; at += PIECE) {
      const bytes = Math.min(PIECE, size - at);
      await one.read(left, 0, bytes, at);
      await other.read(right, 0, bytes, at);
      if (!left.subarray(0, bytes).equals(right.subarray(0, bytes))) return false;
    }
    return true;
  } finally {
    await one.close();
    await other.close();
  }
}
