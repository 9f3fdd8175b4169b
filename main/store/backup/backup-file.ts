/** What a backup file holds, and how it is written and checked. */
import { z } from 'zod';
import { RECORDS_FILE } from '../open.ts';
import { type ZipSource, writeZip, type ZippedFile, readZip } from './zip.ts';
import { type Result, ok, err } from '../../../shared/result.ts';
import { type Problem, problem } from '../../../shared/problem.ts';
import { parseJson } from '../documents.ts';
import { storeTexts } from '../../../shared/words/host.ts';

const MANIFEST = 'manifest.json';

export const BACKUP_FORMAT = 'flueside-backup' as const;
export const BACKUP_VERSION = 1;

/** Far above any real backup (10 000 visits, 1 000 day-long runs), far below a zip bomb. */
const LIMITS = { files: 20_000, bytes: 200 * 2 ** 30, textBytes: 8 * 2 ** 20, allTextBytes: 8 * 2 ** 20, growth: 200 };
const Manifest = z.object({
  format: z.literal(BACKUP_FORMAT),
  version: z.number().int(),
  madeWallMs: z.number(),
  appVersion: z.string(),
  files: z.array(z.object({ name: z.string(), size: z.number(), sha256: z.string() })).max(LIMITS.files),
});
export type Manifest = z.infer<typeof Manifest>;

export const SETTINGS_FILE = 'settings.json';
/** Only these names exist in a backup; everything else in a zip is refused, so that a path can lead nowhere else. */
export const isBackupName = (name: string): boolean =>
  name === RECORDS_FILE || name === SETTINGS_FILE || name === MANIFEST || /^(runs|recipes|photos)\/[\w][\w. ()-]{0,150}$/.test(name);
export type BackupHead = Omit<Manifest, 'files'>;

/** Files and their list. @throws what the disk throws */
export const writeBackup = (part: string, sources: readonly ZipSource[], head: BackupHead): Promise<void> =>
  writeZip(part, sources, { name: MANIFEST, text: (files) => manifestText(head, files) });
const manifestText = (head: BackupHead, files: readonly ZippedFile[]): string => JSON.stringify({ ...head, files });
/** Reads a backup, unpacking it into `into` where given, and checks names, sizes and hashes against its list. */
export async function readBackup(path: string, into: string | undefined): Promise<Result<Manifest, Problem>> {
  let listText = '';
  const isText = (name: string): boolean => name === MANIFEST;
  const read = await readZip(path, { into, allows: isBackupName, isText, onText: (_, text) => (listText = text), limits: LIMITS });
  if (!read.ok) return read;
  const { files } = read.value;
  const raw = parseJson(listText);
  const version = z.object({ format: z.literal(BACKUP_FORMAT), version: z.number() }).safeParse(raw);
  if (!version.success) return err(problem('file-foreign'));
  if (version.data.version > BACKUP_VERSION) return err(problem('file-newer'));
  const manifest = Manifest.safeParse(raw);
  if (!manifest.success) return err(problem('file-damaged', storeTexts.noList));
  if (manifest.data.files.length !== files.size) return err(problem('file-damaged', storeTexts.otherFiles));
  for (const { name, size, sha256 } of manifest.data.files) {
    const found = files.get(name);
    if (found === undefined || found.size !== size || found.sha256 !== sha256)
      return err(problem('file-damaged', storeTexts.otherContents(name)));
  }
  if (!files.has(RECORDS_FILE)) return err(problem('file-damaged', storeTexts.noRecords));
  return ok(manifest.data);
}
