/**
 * Backup and restore as one zip. A backup counts only after it has been read back; a restore never overwrites:
 * what was there is moved into a folder of its own first.
 */
import { createHash } from 'node:crypto';
import {
  closeSync,
  createReadStream,
  existsSync,
  fsyncSync,
  mkdirSync,
  openSync,
  readdirSync,
  renameSync,
  rmSync,
  statSync,
  unlinkSync,
  writeSync,
} from 'node:fs';
import { dirname, join } from 'node:path';
import { Unzip, UnzipInflate, UnzipPassThrough, Zip, ZipDeflate, strToU8 } from 'fflate';
import { z } from 'zod';
import { err, ok, type Result } from '../../shared/result.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { problemOf } from './attempt.ts';
import { RECORDS_FILE, stamp } from './open.ts';
import type { Database } from './database.ts';
import { parseJson } from './documents.ts';

const MANIFEST = 'manifest.json';
export const BACKUP_FORMAT = 'flueside-backup';
export const BACKUP_VERSION = 1;
/** Far above any real backup (10 000 visits, 1 000 day-long runs), far below a zip bomb. */
const LIMITS = { files: 20_000, bytes: 200 * 2 ** 30, manifestBytes: 16 * 2 ** 20, growth: 200 };

const Manifest = z.object({
  format: z.literal(BACKUP_FORMAT),
  version: z.number().int(),
  madeWallMs: z.number(),
  appVersion: z.string(),
  files: z.array(z.object({ name: z.string(), size: z.number(), sha256: z.string() })).max(LIMITS.files),
});
export type Manifest = z.infer<typeof Manifest>;

/** Only these names exist in a backup; everything else in a zip is refused, so that a path can lead nowhere else. */
export const isBackupName = (name: string): boolean =>
  name === RECORDS_FILE || name === 'settings.json' || name === MANIFEST || /^(runs|recipes|photos)\/[\w][\w. ()-]{0,150}$/.test(name);

export type BackupDone = { readonly files: number; readonly bytes: number };

/** Writes `target` (through a temporary file), then reads it back and compares every hash. */
export async function makeBackup({
  dataFolder,
  db,
  target,
  wallMs,
  appVersion,
}: {
  dataFolder: string;
  db: Database;
  target: string;
  wallMs: number;
  appVersion: string;
}): Promise<Result<BackupDone, Problem>> {
  const snapshot = join(dataFolder, `records-snapshot-${stamp(wallMs)}.db`);
  const part = `${target}.part`;
  try {
    // a whole, checkpointed copy of the records while they stay in use
    db.exec(`VACUUM INTO '${snapshot.replace(/'/g, "''")}'`);
    const sources = [{ name: RECORDS_FILE, path: snapshot }, ...listFiles(dataFolder)];
    await writeZip(part, sources, { format: BACKUP_FORMAT, version: BACKUP_VERSION, madeWallMs: wallMs, appVersion });
    const back = await readZip(part, undefined);
    if (!back.ok) return back;
    renameSync(part, target);
    return ok({ files: back.value.files.length, bytes: statSync(target).size });
  } catch (failure) {
    const known = problemOf(failure);
    if (known === undefined) throw failure;
    return err(known);
  } finally {
    for (const path of [snapshot, part]) if (existsSync(path)) unlinkSync(path);
  }
}

/**
 * Puts a backup in the place of what is there. The records must be closed. Everything is unpacked and checked beside the data folder first;
 * only then is the old content moved into `before-restore-…` inside the data folder.
 */
export async function restoreBackup({
  dataFolder,
  source,
  wallMs,
}: {
  dataFolder: string;
  source: string;
  wallMs: number;
}): Promise<Result<BackupDone & { kept: string }, Problem>> {
  const fresh = join(dataFolder, `restore-${stamp(wallMs)}.part`);
  const kept = `before-restore-${stamp(wallMs)}`;
  try {
    if (!existsSync(source)) return err(problem('file-not-found'));
    const unpacked = await readZip(source, fresh);
    if (!unpacked.ok) return unpacked;
    mkdirSync(join(dataFolder, kept), { recursive: true });
    for (const name of movable(dataFolder)) renameSync(join(dataFolder, name), join(dataFolder, kept, name));
    for (const name of readdirSync(fresh)) renameSync(join(fresh, name), join(dataFolder, name));
    return ok({ files: unpacked.value.files.length, bytes: unpacked.value.files.reduce((sum, file) => sum + file.size, 0), kept });
  } catch (failure) {
    const known = problemOf(failure);
    if (known === undefined) throw failure;
    return err(known);
  } finally {
    rmSync(fresh, { recursive: true, force: true });
  }
}

const movable = (dataFolder: string): string[] =>
  readdirSync(dataFolder).filter((name) =>
    [RECORDS_FILE, `${RECORDS_FILE}-wal`, `${RECORDS_FILE}-shm`, 'records.in-use', 'settings.json', 'runs', 'recipes', 'photos'].includes(
      name,
    ),
  );

function listFiles(dataFolder: string): { name: string; path: string }[] {
  const found: { name: string; path: string }[] = [];
  if (existsSync(join(dataFolder, 'settings.json'))) found.push({ name: 'settings.json', path: join(dataFolder, 'settings.json') });
  for (const folder of ['runs', 'recipes', 'photos']) {
    const path = join(dataFolder, folder);
    if (!existsSync(path)) continue;
    for (const entry of readdirSync(path, { withFileTypes: true })) {
      if (entry.isFile() && isBackupName(`${folder}/${entry.name}`))
        found.push({ name: `${folder}/${entry.name}`, path: join(path, entry.name) });
    }
  }
  return found;
}

/** Streams the files into a zip; only one chunk is in memory at a time. The manifest comes last, with the hash of each file. */
export async function writeZip(
  path: string,
  sources: readonly { name: string; path: string }[],
  head: Omit<Manifest, 'files'>,
): Promise<void> {
  const file = openSync(path, 'w');
  try {
    let failed: Error | undefined;
    const zip = new Zip((error, chunk) => {
      if (error !== null) failed = error;
      else writeSync(file, chunk);
    });
    const files: Manifest['files'] = [];
    for (const source of sources) {
      const entry = new ZipDeflate(source.name, { level: 6 });
      zip.add(entry);
      const hash = createHash('sha256');
      let size = 0;
      for await (const chunk of createReadStream(source.path, { highWaterMark: 256 * 1024 }) as AsyncIterable<Uint8Array>) {
        hash.update(chunk);
        size += chunk.length;
        entry.push(new Uint8Array(chunk), false);
      }
      entry.push(new Uint8Array(0), true);
      files.push({ name: source.name, size, sha256: hash.digest('hex') });
    }
    const manifest = new ZipDeflate(MANIFEST);
    zip.add(manifest);
    manifest.push(strToU8(JSON.stringify({ ...head, files })), true);
    zip.end();
    if (failed !== undefined) throw failed;
    fsyncSync(file);
  } finally {
    closeSync(file);
  }
}

/**
 * Streams a zip, unpacking into `into` where given, and checks names, sizes and hashes against the manifest.
 * Nothing outside `into` is ever written: a name that is not a backup's own ends the reading at once.
 */
export async function readZip(path: string, into: string | undefined): Promise<Result<Manifest, Problem>> {
  const seen = new Map<string, { size: number; sha256: string }>();
  const open = new Set<number>();
  let manifestText = '';
  let total = 0;
  let refusal: Problem | undefined;
  const compressed = statSync(path).size;
  const decoder = new TextDecoder();

  const unzip = new Unzip((entry) => {
    if (refusal !== undefined) return;
    const { name } = entry;
    if (!isBackupName(name) || seen.has(name) || seen.size >= LIMITS.files) {
      refusal = problem('file-foreign', `It holds '${name.slice(0, 80)}', which no backup has.`);
      return;
    }
    seen.set(name, { size: 0, sha256: '' });
    const hash = createHash('sha256');
    let size = 0;
    let file: number | undefined;
    if (into !== undefined && name !== MANIFEST) {
      const target = join(into, ...name.split('/'));
      mkdirSync(dirname(target), { recursive: true });
      file = openSync(target, 'wx');
      open.add(file);
    }
    entry.ondata = (error, chunk, final) => {
      if (error !== null) refusal ??= problem('file-damaged', String(error.message));
      if (refusal !== undefined) return;
      size += chunk.length;
      total += chunk.length;
      if (total > LIMITS.bytes || total > compressed * LIMITS.growth + 2 ** 24 || (name === MANIFEST && size > LIMITS.manifestBytes)) {
        refusal = problem('file-too-big', 'It would unpack to more than any backup holds.');
        return;
      }
      hash.update(chunk);
      if (name === MANIFEST) manifestText += decoder.decode(chunk, { stream: !final });
      else if (file !== undefined) writeSync(file, chunk);
      if (final) {
        seen.set(name, { size, sha256: hash.digest('hex') });
        if (file !== undefined) {
          fsyncSync(file);
          closeSync(file);
          open.delete(file);
        }
      }
    };
    entry.start();
  });
  unzip.register(UnzipInflate);
  unzip.register(UnzipPassThrough);
  try {
    for await (const chunk of createReadStream(path, { highWaterMark: 256 * 1024 }) as AsyncIterable<Uint8Array>) {
      unzip.push(new Uint8Array(chunk), false);
      if (refusal !== undefined) return err(refusal);
    }
    unzip.push(new Uint8Array(0), true);
  } catch (failure) {
    const known = problemOf(failure);
    // the zip reader throws plain errors (unknown method, bad data): the file's fault, not ours
    return err(known ?? problem('file-damaged', String((failure as Error).message)));
  } finally {
    for (const file of open) closeSync(file);
  }
  if (refusal !== undefined) return err(refusal);
  const raw = parseJson(manifestText);
  const version = z.object({ format: z.literal(BACKUP_FORMAT), version: z.number() }).safeParse(raw);
  if (!version.success) return err(problem('file-foreign'));
  if (version.data.version > BACKUP_VERSION) return err(problem('file-newer'));
  const manifest = Manifest.safeParse(raw);
  if (!manifest.success) return err(problem('file-damaged', 'Its list of files can not be read.'));
  if (manifest.data.files.length !== seen.size - 1) return err(problem('file-damaged', 'Files are missing or were added.'));
  for (const { name, size, sha256 } of manifest.data.files) {
    const found = seen.get(name);
    if (found === undefined || found.size !== size || found.sha256 !== sha256)
      return err(problem('file-damaged', `'${name}' is not what was backed up.`));
  }
  return ok(manifest.data);
}
