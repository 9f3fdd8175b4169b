/** The file that makes a folder an office. */
import { randomUUID } from 'node:crypto';
import { existsSync } from 'node:fs';
import { mkdir, open, readFile, rename, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import { problem, type Problem } from '../../../shared/problem.ts';
import { err, ok, type Result } from '../../../shared/result.ts';
import { officeTexts } from '../../../shared/words/host.ts';
import { codeOf, guarded, PART, problemOfFolder, writeOnce } from './files.ts';

export const OFFICE_FILE = 'flueside-office.json';
export const ASIDE = 'set-aside';
const FOLDER_VERSION = 1;
const FORMAT = 'flueside-office';

const MarkerFile = z.object({
  format: z.literal(FORMAT),
  version: z.number(),
  id: z.string().min(1).max(100),
  name: z.string().min(1).max(120),
});
export type Marker = { readonly officeId: string; readonly name: string };

/** Begins an office, or says which one is there already. */
export async function initFolderOffice(folder: string, name: string): Promise<Result<{ id: string; isNew: boolean }, Problem>> {
  // only the last part of the path: where the share is not connected, no office is begun in its stead
  const made = await guarded(folder, 'write', () => mkdir(folder).catch(unlessThere));
  if (!made.ok) return made;
  const here = await readMarker(folder);
  if (here.ok) return ok({ id: here.value.officeId, isNew: false });
  if (here.error.code !== 'office-none') return here;
  const id = randomUUID();
  return guarded(folder, 'write', async () => {
    const path = join(folder, OFFICE_FILE);
    // what has our name and is not ours, or is damaged, stays where a person can find it
    if (existsSync(path)) {
      await mkdir(join(folder, ASIDE), { recursive: true });
      await rename(path, join(folder, ASIDE, `${OFFICE_FILE}.${id.slice(0, 8)}`));
    }
    await writeOnce(path, `${JSON.stringify({ format: FORMAT, version: FOLDER_VERSION, id, name }, null, 2)}\n`);
    return { id, isNew: true };
  });
}

const unlessThere = (failure: unknown): void => {
  if (codeOf(failure) !== 'EEXIST') throw failure;
};

export async function readMarker(folder: string): Promise<Result<Marker, Problem>> {
  let text: string;
  try {
    text = await readFile(join(folder, OFFICE_FILE), 'utf8');
  } catch (failure) {
    return err(await missing(folder, failure));
  }
  const claim = z.object({ format: z.literal(FORMAT), version: z.number() }).safeParse(parse(text));
  if (!claim.success) return err(problem('office-none', officeTexts.notOurFile(OFFICE_FILE)));
  if (claim.data.version > FOLDER_VERSION) return err(problem('office-newer'));
  const marker = MarkerFile.safeParse(parse(text));
  return marker.success
    ? ok({ officeId: marker.data.id, name: marker.data.name })
    : err(problem('office-none', officeTexts.damagedFile(OFFICE_FILE)));
}

/** A share that is not connected looks like a folder that was never there. */
async function missing(folder: string, failure: unknown): Promise<Problem> {
  if (codeOf(failure) !== 'ENOENT') return problemOfFolder(failure, folder, 'read');
  const isThere = await stat(folder).then(
    (found) => found.isDirectory(),
    () => false,
  );
  return isThere ? problem('office-none', folder) : problemOfFolder(failure, folder, 'read');
}

/** The time that the share gives a file that was written now, beside ours. A share that cannot be written has no clock for us. */
export async function clockAhead(folder: string, wallMs: () => number): Promise<number | undefined> {
  const path = join(folder, `clock-${randomUUID().slice(0, 8)}${PART}`);
  try {
    const file = await open(path, 'w');
    await file.close();
    const there = (await stat(path)).mtimeMs;
    return Math.round(there - wallMs());
  } catch {
    return undefined;
  } finally {
    await rm(path, { force: true }).catch(() => undefined);
  }
}

function parse(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
