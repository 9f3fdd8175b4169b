/**
 * What was derived from a run, kept beside the runs so that nothing is read twice. Never the only copy: what is damaged, of another version, of other
 * settings or of a run that has grown is left aside and made anew. The key holds everything that the result follows from: the bytes of the run (and
 * with them its recipe and what was changed during it), the settings, and the program that derived it.
 */
import { createHash } from 'node:crypto';
import { createReadStream, existsSync, readdirSync, rmSync, rmdirSync } from 'node:fs';
import { mkdir, readFile, rename, rm, stat, utimes, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { deserialize, serialize } from 'node:v8';
import { crc32 } from 'node:zlib';
import { runsTexts } from '../../../shared/words/host.ts';

/** what a file looked like before it was read, so that one that grows in the meantime is told from it */
type RunStamp = { readonly size: number; readonly mtimeMs: number };

export interface KeptResults {
  /** @returns undefined where nothing is kept: a short run is read faster than it is kept */
  stampOf(path: string): Promise<RunStamp | undefined>;
  /** @returns undefined where nothing is kept that follows from just these inputs */
  find(runId: string, path: string, kind: KeptKind, inputs: unknown): Promise<{ facts: unknown; numbers: Float64Array } | undefined>;
  /** nothing is kept of a file that is no longer as it was when its reading began; a disk that fails is no trouble for anybody */
  keep(runId: string, path: string, kind: KeptKind, inputs: unknown, result: Derived, before: RunStamp): Promise<void>;
  /** the run is gone */
  forget(runId: string): void;
}
/** what is shown of a stored run, and what a report shows of it */
export type KeptKind = 'read' | 'report';
type Derived = { readonly facts: unknown; readonly numbers?: Float64Array | undefined };

const LEAST_BYTES = 1 << 20;
const MOST_FILES = 40;
const MOST_BYTES = 1 << 30;
const MAGIC = 'FSKEPT1\n';
/** ours alone: whatever else is in the folder is somebody else's and is never removed */
const KEPT_FOLDER = '.flueside-kept';
const OWN_NAME = /^([0-9A-Za-z][0-9A-Za-z_-]{0,79})\.(?:read|report)(?:\.\d+\.new)?$/;
/** magic, then the lengths and checks of the facts and of the numbers, then the key */
const HEAD_BYTES = 8 + 4 * 4 + 32;

function ownFiles(folder: string): { name: string; runId: string }[] {
  try {
    return readdirSync(folder).flatMap((name) => {
      const runId = OWN_NAME.exec(name)?.[1];
      return runId === undefined ? [] : [{ name, runId }];
    });
  } catch {
    return [];
  }
}

/** Removes what was kept, of all runs or of some. What cannot be removed now is removed at the next start, or is no longer true to its key. */
export function forgetKept(dataFolder: string, isAsked: (runId: string, name: string) => boolean = () => true): void {
  const folder = join(dataFolder, KEPT_FOLDER);
  for (const { name, runId } of ownFiles(folder)) {
    if (!isAsked(runId, name)) continue;
    try {
      rmSync(join(folder, name), { force: true });
    } catch {
      // the next start tries again
    }
  }
  try {
    rmdirSync(folder);
  } catch {
    // not there, or not empty
  }
}

/** At start, under the lock: nothing half written stays, and nothing of a run that is no longer here. */
export const tidyKept = (dataFolder: string): void =>
  forgetKept(dataFolder, (runId, name) => name.endsWith('.new') || !existsSync(join(dataFolder, 'runs', `${runId}.run`)));

export type KeptParts = {
  /** what derives: its version and its code; undefined: nothing is kept */
  readonly program: string | undefined;
  readonly said: (text: string) => void;
  /** the shortest run of which anything is kept */
  readonly leastBytes?: number;
};

export function createKeptResults(dataFolder: string, { program, said, leastBytes = LEAST_BYTES }: KeptParts): KeptResults {
  const folder = join(dataFolder, KEPT_FOLDER);
  const pathOf = (runId: string, kind: KeptKind): string => join(folder, `${runId}.${kind}`);
  const keyOf = async (path: string, inputs: unknown): Promise<Buffer> => {
    const hash = createHash('sha256');
    hash.update(JSON.stringify([program, inputs]));
    hash.update('\n');
    for await (const chunk of createReadStream(path, { highWaterMark: 1 << 20 }) as AsyncIterable<Uint8Array>) hash.update(chunk);
    return hash.digest();
  };
  const stampOf = async (path: string): Promise<RunStamp | undefined> => {
    try {
      const { size, mtimeMs } = await stat(path);
      return program === undefined || size < leastBytes ? undefined : { size, mtimeMs };
    } catch {
      return undefined;
    }
  };
  const discard = async (file: string, why: string): Promise<undefined> => {
    said(runsTexts.resultsLeftAside(why));
    await rm(file, { force: true }).catch(() => undefined);
    return undefined;
  };

  const makeRoom = async (): Promise<void> => {
    const names = ownFiles(folder).filter(({ name }) => !name.endsWith('.new'));
    const files = await Promise.all(names.map(async ({ name }) => ({ name, ...(await stat(join(folder, name))) })));
    files.sort((a, b) => b.mtimeMs - a.mtimeMs);
    let bytes = 0;
    for (const [at, { name, size }] of files.entries()) {
      bytes += size;
      if (at >= MOST_FILES || bytes > MOST_BYTES) await rm(join(folder, name), { force: true });
    }
  };

  return {
    stampOf,
    forget: (runId) => forgetKept(dataFolder, (id) => id === runId),
    async find(runId, path, kind, inputs) {
      const file = pathOf(runId, kind);
      let held: Buffer;
      try {
        held = await readFile(file);
      } catch {
        return undefined;
      }
      try {
        if (held.length < HEAD_BYTES || held.toString('latin1', 0, 8) !== MAGIC) return await discard(file, 'another version');
        const [factsLength, factsCheck, numbersLength, numbersCheck] = [8, 12, 16, 20].map((at) => held.readUInt32LE(at)) as [
          number,
          number,
          number,
          number,
        ];
        const facts = held.subarray(HEAD_BYTES, HEAD_BYTES + factsLength);
        const from = HEAD_BYTES + factsLength;
        const numbers = held.subarray(from, from + numbersLength);
        if (held.length !== from + numbersLength || crc32(facts) !== factsCheck || crc32(numbers) !== numbersCheck)
          return await discard(file, 'damaged');
        if (!held.subarray(24, HEAD_BYTES).equals(await keyOf(path, inputs))) return await discard(file, runsTexts.resultsOfOther);
        // newest use last to go
        const now = new Date();
        await utimes(file, now, now).catch(() => undefined);
        const aligned = new Float64Array(numbersLength / 8);
        Buffer.from(aligned.buffer).set(numbers);
        return { facts: deserialize(facts), numbers: aligned };
      } catch {
        return discard(file, 'damaged');
      }
    },
    async keep(runId, path, kind, inputs, { facts, numbers = new Float64Array(0) }, before) {
      const file = pathOf(runId, kind);
      const half = `${file}.${process.pid}.new`;
      try {
        const key = await keyOf(path, inputs);
        const now = await stampOf(path);
        if (now?.size !== before.size || now.mtimeMs !== before.mtimeMs) return;
        const body = serialize(facts);
        const rest = Buffer.from(numbers.buffer, numbers.byteOffset, numbers.byteLength);
        const head = Buffer.alloc(HEAD_BYTES);
        head.write(MAGIC, 'latin1');
        for (const [at, value] of [body.length, crc32(body), rest.length, crc32(rest)].entries()) head.writeUInt32LE(value, 8 + 4 * at);
        key.copy(head, 24);
        await mkdir(folder, { recursive: true, mode: 0o700 });
        await writeFile(half, Buffer.concat([head, body, rest]), { mode: 0o600 });
        await rename(half, file);
        await makeRoom();
      } catch (cause) {
        said(runsTexts.resultsNotKept((cause as NodeJS.ErrnoException).code ?? 'unknown'));
        await rm(half, { force: true }).catch(() => undefined);
      }
    },
  };
}
