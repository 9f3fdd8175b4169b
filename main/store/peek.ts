/**
 * Whose records file this is, read without opening it as a database: opening one alone may tidy its journal into it, and somebody else's file,
 * or a newer Flueside's, is to stay as it is to the last byte.
 */
import { closeSync, existsSync, openSync, readSync, statSync } from 'node:fs';

export type Peeked =
  | { readonly kind: 'none' }
  /** nothing was ever kept in it */
  | { readonly kind: 'empty' }
  | { readonly kind: 'no-database' }
  | { readonly kind: 'database'; readonly owner: number; readonly version: number };

const MAGIC = 'SQLite format 3\0';
/** @source SQLite file format, 1.3 "The Database Header": user version at 60, application id at 68, first cell count of page 1 at 103 */
const HEADER = { bytes: 108, version: 60, owner: 68, cells: 103 } as const;

export function peek(path: string): Peeked {
  if (!existsSync(path)) return { kind: 'none' };
  const wal = `${path}-wal`;
  // what the journal holds is newer than the file
  const page = (existsSync(wal) ? firstPageOf(wal) : undefined) ?? startOf(path, 0, HEADER.bytes);
  if (page.length === 0) return { kind: 'empty' };
  if (page.length < HEADER.bytes || page.toString('latin1', 0, MAGIC.length) !== MAGIC) return { kind: 'no-database' };
  const owner = page.readUInt32BE(HEADER.owner);
  const version = page.readUInt32BE(HEADER.version);
  const isBlank = owner === 0 && version === 0 && page.readUInt16BE(HEADER.cells) === 0 && page[100] === 0x0d;
  return isBlank ? { kind: 'empty' } : { kind: 'database', owner, version };
}

function startOf(path: string, at: number, bytes: number): Buffer {
  const file = openSync(path, 'r');
  try {
    const buffer = Buffer.alloc(bytes);
    return buffer.subarray(0, readSync(file, buffer, 0, bytes, at));
  } finally {
    closeSync(file);
  }
}

/**
 * The newest committed first page of a journal; undefined when it holds none.
 *
 * @source SQLite file format, 4 "The Write-Ahead Log": header of 32 bytes with page size at 8 and salts at 16; frames of 24 bytes and a page,
 * page number at 0, size after commit at 4, salts at 8
 */
function firstPageOf(wal: string): Buffer | undefined {
  const { size } = statSync(wal);
  const head = startOf(wal, 0, 32);
  if (head.length < 32 || (head.readUInt32BE(0) & 0xfffffffe) !== 0x377f0682) return undefined;
  const pageBytes = head.readUInt32BE(8);
  if (pageBytes < 512 || pageBytes > 65_536) return undefined;
  let seen: Buffer | undefined;
  let committed: Buffer | undefined;
  for (let at = 32; at + 24 + pageBytes <= size; at += 24 + pageBytes) {
    const frame = startOf(wal, at, 24 + HEADER.bytes);
    if (!frame.subarray(8, 16).equals(head.subarray(16, 24))) break;
    if (frame.readUInt32BE(0) === 1) seen = frame.subarray(24);
    if (frame.readUInt32BE(4) !== 0) committed = seen;
  }
  return committed;
}
