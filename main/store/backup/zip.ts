/** Zips written and read as streams: the packing is done by other threads, and only pieces are ever in memory. */
import { createHash } from 'node:crypto';
import { createReadStream, createWriteStream, mkdirSync, readSync, openSync, closeSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { Transform, Writable, type Readable } from 'node:stream';
import { finished, pipeline } from 'node:stream/promises';
import yauzl from 'yauzl';
import yazl from 'yazl';
import { problem, type Problem } from '../../../shared/problem.ts';
import { err, ok, type Result } from '../../../shared/result.ts';
import { problemOf } from '../attempt.ts';
import { syncFile } from '../files.ts';
import { storeTexts } from '../../../shared/words/host.ts';

export type ZipSource = { readonly name: string } & ({ readonly path: string } | { readonly text: string });
export type ZippedFile = { readonly name: string; readonly size: number; readonly sha256: string };

/** small enough that hashing one is no pause for anybody */
const PIECE = 128 * 1024;
/** from here on a zip needs its wide form, which must be said before the size is known */
const WIDE_BYTES = 2 ** 31;

/**
 * @param last made when the others are in: a list with their hashes
 * @throws what the disk throws
 */
export async function writeZip(
  path: string,
  sources: Iterable<ZipSource> | AsyncIterable<ZipSource>,
  last?: { name: string; text: (files: readonly ZippedFile[]) => string },
): Promise<void> {
  const zip = new yazl.ZipFile();
  const output = zip.outputStream as Readable;
  zip.on('error', (failure: Error) => output.destroy(failure));
  const written = pipeline(output, createWriteStream(path, { mode: 0o600 }));
  written.catch(() => undefined);
  const files: ZippedFile[] = [];
  try {
    for await (const source of sources) {
      const { name } = source;
      if ('text' in source) {
        zip.addBuffer(Buffer.from(source.text), name);
        continue;
      }
      const { path: from } = source;
      const meter = createMeter();
      const read = pipeline(createReadStream(from, { highWaterMark: PIECE }), meter.stream);
      read.catch(() => undefined);
      zip.addReadStream(meter.stream, name, { forceZip64Format: statSync(from).size > WIDE_BYTES });
      await Promise.race([
        Promise.all([read, finished(meter.stream)]),
        written.then(() => Promise.reject(new Error('The zip ended early.'))),
      ]);
      files.push({ name, ...meter.read() });
    }
    if (last !== undefined) zip.addBuffer(Buffer.from(last.text(files)), last.name);
    zip.end();
    await written;
    syncFile(path);
  } catch (failure) {
    output.destroy();
    await written.catch(() => undefined);
    throw failure;
  }
}

export type ZipLimits = {
  readonly files: number;
  /** unpacked, all together */
  readonly bytes: number;
  /** unpacked bytes for each packed one */
  readonly growth: number;
  /** one part that is read as text, and all of them */
  readonly textBytes: number;
  readonly allTextBytes: number;
};

export type ReadZip = { readonly files: ReadonlyMap<string, { readonly size: number; readonly sha256: string }> };

export type ZipReading = {
  /** where the files go; without it they are only looked through */
  readonly into: string | undefined;
  readonly allows: (name: string) => boolean;
  readonly isText: (name: string) => boolean;
  readonly onText: (name: string, text: string) => void;
  readonly limits: ZipLimits;
};

/**
 * Unpacks into `into` where given. Sizes are looked at before anything is unpacked; a name that is not allowed ends it at once, so no path can
 * lead anywhere else.
 */
export async function readZip(path: string, { into, allows, isText, onText, limits }: ZipReading): Promise<Result<ReadZip, Problem>> {
  let zip: yauzl.ZipFile | undefined;
  let writing = false;
  try {
    const packed = statSync(path).size;
    zip = await yauzl.openPromise(path, { lazyEntries: true, autoClose: false, strictFileNames: true });
    if (zip.entryCount > limits.files) return err(tooBig());
    const entries: yauzl.Entry[] = [];
    let total = 0;
    let text = 0;
    const names = new Set<string>();
    for await (const entry of zip.eachEntry()) {
      const name = entry.fileName;
      if (!allows(name) || names.has(name)) return err(problem('file-foreign', `It holds '${name.slice(0, 80)}'.`));
      names.add(name);
      total += entry.uncompressedSize;
      if (isText(name)) text += entry.uncompressedSize;
      const isLong = isText(name) && entry.uncompressedSize > limits.textBytes;
      if (isLong || text > limits.allTextBytes || total > limits.bytes || total > packed * limits.growth + 2 ** 24) return err(tooBig());
      entries.push(entry);
    }
    const files = new Map<string, { size: number; sha256: string }>();
    for (const entry of entries) {
      const name = entry.fileName;
      const meter = createMeter();
      writing = false;
      const stream = await zip.openReadStreamPromise(entry);
      if (isText(name)) {
        const pieces: Buffer[] = [];
        await pipeline(stream, meter.stream, collector(pieces));
        onText(name, Buffer.concat(pieces).toString('utf8'));
        continue;
      }
      if (into === undefined) await pipeline(stream, meter.stream, collector());
      else {
        const target = join(into, ...name.split('/'));
        writing = true;
        mkdirSync(dirname(target), { recursive: true, mode: 0o700 });
        await pipeline(stream, meter.stream, createWriteStream(target, { flags: 'wx', mode: 0o600 }));
        syncFile(target);
      }
      files.set(name, meter.read());
    }
    return ok({ files });
  } catch (failure) {
    const known = problemOf(failure);
    if (known !== undefined) return err(known);
    // the reader throws plain errors for what is wrong with the zip: the file's fault, not ours
    const { message, code } = failure as NodeJS.ErrnoException;
    if (writing && code !== undefined && !code.startsWith('Z_')) return err(problem('disk-failed', message));
    return err(
      problem(
        /invalid relative path|absolute path|invalid characters/.test(message) || !startsLikeZip(path) ? 'file-foreign' : 'file-damaged',
        message,
      ),
    );
  } finally {
    zip?.close();
  }
}

const tooBig = (): Problem => problem('file-too-big', storeTexts.unpacksTooBig);

const collector = (pieces?: Buffer[]): Writable =>
  new Writable({
    write(piece: Buffer, _encoding, done) {
      pieces?.push(piece);
      done();
    },
  });

function createMeter() {
  const hash = createHash('sha256');
  let size = 0;
  const stream = new Transform({
    transform(piece: Buffer, _encoding, done) {
      size += piece.length;
      hash.update(piece);
      done(null, piece);
    },
  });
  return { stream, read: () => ({ size, sha256: hash.digest('hex') }) };
}

function startsLikeZip(path: string): boolean {
  const start = Buffer.alloc(2);
  try {
    const file = openSync(path, 'r');
    try {
      return readSync(file, start, 0, 2, 0) === 2 && start.toString('latin1') === 'PK';
    } finally {
      closeSync(file);
    }
  } catch {
    return false;
  }
}
