import { closeSync, fsyncSync, linkSync, mkdirSync, openSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { processStart } from './process-start.ts';

export const LOCK_FILE = 'flueside.lock';

/** Who has this data folder open. `address` and `secret` let a second start ask the first for a window; the file is readable by its owner only. */
export const LockHolder = z.object({
  pid: z.number().int().positive(),
  started: z.string(),
  host: z.enum(['electron', 'browser']),
  address: z.string().optional(),
  secret: z.string().optional(),
});
export type LockHolder = z.infer<typeof LockHolder>;

export type InstanceLock = {
  /** Adds what a second start needs to know, once the host listens. */
  announce(more: { address: string; secret: string }): void;
  release(): void;
};

/**
 * One program per data folder. The lock is taken over when its holder has ended (kill -9, power cut): no such process, or one that was
 * started at another time.
 *
 * @param isAlive asked about a holder found in the file
 * @returns the lock, or who holds it
 * @throws the file system's own error when the folder cannot be written
 */
export function takeLock(
  folder: string,
  host: LockHolder['host'],
  isAlive = holderIsAlive,
): { lock: InstanceLock } | { holder: LockHolder } {
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  const path = join(folder, LOCK_FILE);
  const self: LockHolder = { pid: process.pid, started: processStart(process.pid) ?? '', host };
  for (let attempt = 0; attempt < 10; attempt += 1) {
    if (createOnce(path, self)) return { lock: heldLock(path, self) };
    const text = readText(path);
    if (text === undefined) continue; // released meanwhile
    const holder = parseHolder(text);
    if (holder !== undefined && isAlive(holder)) return { holder };
    removeStale(path, text);
  }
  throw new Error(`${path} changes hands all the time`);
}

export function holderIsAlive({ pid, started }: LockHolder): boolean {
  const now = processStart(pid);
  if (now === undefined) return false;
  // where the system does not tell, a running process counts: better to refuse than to write twice. Where it does, a lock of ours says it too
  return now === '' || now === started;
}

function heldLock(path: string, self: LockHolder): InstanceLock {
  let current = self;
  return {
    announce(more) {
      current = { ...self, ...more };
      const temporary = `${path}.${self.pid}`;
      writeWhole(temporary, current);
      renameSync(temporary, path);
    },
    release() {
      const holder = parseHolder(readText(path) ?? '');
      if (holder?.pid === self.pid && holder.started === self.started) rmSync(path, { force: true });
    },
  };
}

/** The file appears whole or not at all: written beside, then linked, which fails when the name is taken. */
function createOnce(path: string, holder: LockHolder): boolean {
  const temporary = `${path}.${holder.pid}`;
  writeWhole(temporary, holder);
  try {
    linkSync(temporary, path);
    return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'EEXIST') return false;
    // a file system without hard links (FAT, some network folders)
    return createExclusively(path, holder);
  } finally {
    rmSync(temporary, { force: true });
  }
}

function createExclusively(path: string, holder: LockHolder): boolean {
  try {
    writeFileSync(path, JSON.stringify(holder), { flag: 'wx', mode: 0o600 });
    return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'EEXIST') return false;
    throw error;
  }
}

function writeWhole(path: string, holder: LockHolder): void {
  const file = openSync(path, 'w', 0o600);
  try {
    writeFileSync(file, JSON.stringify(holder));
    fsyncSync(file);
  } finally {
    closeSync(file);
  }
}

/** Two starts may find the same stale lock. It is moved away first and looked at again: a fresh one that was moved by mistake is put back. */
function removeStale(path: string, staleText: string): void {
  const aside = `${path}.stale-${process.pid}`;
  try {
    renameSync(path, aside);
  } catch {
    return; // the other start was quicker
  }
  try {
    if (readText(aside) !== staleText) linkSync(aside, path);
  } catch {
    // somebody else holds the name by now; the loop looks again
  } finally {
    rmSync(aside, { force: true });
  }
}

function readText(path: string): string | undefined {
  try {
    return readFileSync(path, 'utf8');
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return undefined;
    throw error;
  }
}

function parseHolder(text: string): LockHolder | undefined {
  try {
    const checked = LockHolder.safeParse(JSON.parse(text));
    return checked.success ? checked.data : undefined;
  } catch {
    return undefined;
  }
}
