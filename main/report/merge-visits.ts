/** Takes visits of another computer in. Nothing that is here is ever overwritten. */
import type { ApplianceKnowledge } from '../../shared/measurement/knowledge.ts';
import { existsSync, mkdirSync, rmSync } from 'node:fs';
import { basename, join } from 'node:path';
import { isoWithZone } from '../../shared/format/date.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { betterKnown } from '../../shared/office/merge-documents.ts';
import { mergeVisit } from '../../shared/office/merge-visit.ts';
import { movedInEdit } from '../../shared/tuning/visit/appliance-edits.ts';
import { Visit } from '../../shared/tuning/visit/visit.ts';
import { reportWords } from '../../shared/words/paper/page-one.ts';
import { createPauses } from '../pauses.ts';
import { copyPhotos, takeInPhotos } from '../photos/photo-files.ts';
import { attempt, problemOf } from '../store/attempt.ts';
import { renamePatiently, syncFolder } from '../store/files.ts';
import { isBeginningOf } from './same-start.ts';
import type { StoreTables } from '../store/tables.ts';
import { visitHash } from '../store/visits.ts';
import { createRunFolder } from '../runs/file/run-folder.ts';
import type { VisitPackage } from './visit-package.ts';

/** its visits one by one, from wherever they wait */
export type ArrivedPackage = Omit<VisitPackage, 'visits'> & { readonly visits: Iterable<Visit> | AsyncIterable<Visit> };
export type Merged = {
  added: number;
  same: number;
  corrected: number;
  copies: number;
  refused: number;
  appliances: number;
  instruments: number;
  runs: number;
};

export type MergePlace = {
  readonly dataFolder: string;
  /** where the run files of the package lie, whole and on the disk */
  readonly unpacked: string;
  /** runs that are written to at this moment */
  readonly underWay?: ReadonlySet<string>;
  /** everything or nothing */
  readonly inSlices: <T>(work: (tables: StoreTables) => Promise<Result<T, Problem>>) => Promise<Result<T, Problem>>;
  readonly wallMs: number;
  readonly newId: () => string;
  /** who takes them in */ readonly by: string;
};

/**
 * The run files come first, each whole or not at all, then all records in one transaction: a kill in between leaves runs without a visit, which
 * the same package completes when it is taken in again.
 */
export async function mergeVisits(
  content: ArrivedPackage,
  { dataFolder, unpacked, underWay = new Set(), wallMs, newId, by, inSlices }: MergePlace,
): Promise<Result<Merged, Problem>> {
  const written = await placeRuns(content.runs, { dataFolder, unpacked, underWay });
  if (!written.ok) return written;
  const added = [...written.value.added];
  let isTaken = false;
  try {
    const photos = attempt(() =>
      takeInPhotos(
        dataFolder,
        content.photos.map((name) => ({ name: basename(name), path: join(unpacked, ...name.split('/')) })),
      ),
    );
    if (!photos.ok) return photos;
    added.push(...photos.value);
    const merged = await inSlices((tables) => mergeRecords(tables, content, { dataFolder, wallMs, newId, by }));
    isTaken = merged.ok;
    return merged.ok ? ok({ ...merged.value, runs: written.value.count }) : merged;
  } finally {
    if (!isTaken) for (const path of added) rmSync(path, { force: true });
  }
}

async function mergeRecords(
  tables: StoreTables,
  content: ArrivedPackage,
  { dataFolder, wallMs, newId, by }: Pick<MergePlace, 'dataFolder' | 'wallMs' | 'newId' | 'by'>,
): Promise<Result<Merged, Problem>> {
  const pauses = createPauses();
  const count: Merged = { added: 0, same: 0, corrected: 0, copies: 0, refused: content.unreadable, appliances: 0, instruments: 0, runs: 0 };
  for (const { id, appliance } of content.appliances) {
    // what is here stays as it is, and so do its edits: a person who was taken out does not come back with a visit
    const here = tables.appliances.get(id);
    if (here.ok) continue;
    if (here.error.code !== 'not-found') return here;
    const saved = tables.appliances.put(id, appliance, [movedInEdit({ wallMs, by })], wallMs);
    if (!saved.ok) return saved;
    count.appliances += 1;
  }
  for (const { id, instrument } of content.instruments) {
    // as appliances: what is here stays, whatever the other computer has under this id
    const here = tables.documents.instrument.get(id);
    if (here.ok) continue;
    if (here.error.code !== 'not-found') return here;
    const saved = tables.documents.instrument.save(id, instrument, { wallMs });
    if (!saved.ok) return saved;
    count.instruments += 1;
  }
  for (const { applianceId, known } of content.knowledge) {
    const here = tables.documents.knowledge.get(applianceId);
    if (here.ok && betterKnown(here.value.body as ApplianceKnowledge, known) !== known) continue;
    const saved = tables.documents.knowledge.save(applianceId, known, { wallMs, parentId: applianceId });
    if (!saved.ok) return saved;
  }
  // one at a time: five hundred in one go would hold up a run that is captured
  for await (const visit of content.visits) {
    await pauses.take();
    const taken = takeVisit(tables, visit, { dataFolder, wallMs, newId });
    if (!taken.ok) return taken;
    count[taken.value] += 1;
  }
  return ok(count);
}

/** @returns the files that were not here before */
async function placeRuns(
  runs: VisitPackage['runs'],
  { dataFolder, unpacked, underWay }: Pick<MergePlace, 'dataFolder' | 'unpacked'> & { underWay: ReadonlySet<string> },
): Promise<Result<{ added: string[]; count: number }, Problem>> {
  const where = join(dataFolder, 'runs');
  const folder = createRunFolder(where);
  const added: string[] = [];
  let count = 0;
  try {
    mkdirSync(where, { recursive: true, mode: 0o700 });
    for (const [runId, name] of runs) {
      const path = folder.pathOf(runId);
      if (path === undefined || underWay.has(runId)) continue;
      const fresh = join(unpacked, ...name.split('/'));
      const isHere = existsSync(path);
      // what is here stays, unless it is no more than the beginning of what comes: half a file that an earlier program left
      if (isHere && !(await isBeginningOf(path, fresh))) continue;
      renamePatiently(fresh, path);
      if (!isHere) added.push(path);
      count += 1;
    }
    syncFolder(where);
    return ok({ added, count });
  } catch (failure) {
    for (const path of added) rmSync(path, { force: true });
    return err(problemOf(failure) ?? problem('disk-failed', (failure as Error).message));
  }
}

type Fate = 'added' | 'same' | 'corrected' | 'copies' | 'refused';

function takeVisit(
  tables: StoreTables,
  visit: Visit,
  { dataFolder, wallMs, newId }: Pick<MergePlace, 'dataFolder' | 'wallMs' | 'newId'>,
): Result<Fate, Problem> {
  // a signed record that no longer gives its hash is no record
  if (visit.signature !== undefined && visitHash(visit) !== visit.signature.hash) return ok('refused');
  const here = tables.visits.get(visit.id);
  if (!here.ok) {
    if (here.error.code !== 'not-found') return here;
    const adopted = tables.visits.adopt(visit, wallMs);
    return adopted.ok ? ok('added') : adopted;
  }
  const merge = mergeVisit(here.value.visit, visit, stable);
  if (merge.kind === 'same') return ok('same');
  if (merge.kind === 'corrected') {
    const grown = tables.visits.takeCorrections(visit.id, merge.edits, wallMs);
    return grown.ok ? ok('corrected') : grown;
  }
  // a copy whose signature stood over another id would not hold: what was signed is said in words, and stays at its own computer
  const { signature, ...rest } = visit;
  const text = [
    reportWords.copyNote(visit.number),
    signature === undefined ? undefined : reportWords.copySigned(signature.name, isoWithZone(signature.wallMs, 0), signature.hash),
  ]
    .filter((part) => part !== undefined)
    .join(' ');
  const copy: Visit = { ...rest, id: newId(), notes: [...visit.notes.slice(-499), { wallMs, text }] };
  if (hasCopy(tables, visit, copy)) return ok('same');
  const copied = attempt(() => copyPhotos(dataFolder, visit.id, copy));
  if (!copied.ok) return copied;
  const kept = tables.visits.adopt(copy, wallMs);
  return kept.ok ? ok('copies') : kept;
}

/** The same file taken in twice must not make a second copy. */
function hasCopy(tables: StoreTables, visit: Visit, copy: Visit): boolean {
  const found = tables.visits.list({ applianceId: visit.applianceId, limit: 500 });
  if (!found.ok) return false;
  return found.value.visits.some(({ id, startedWallMs }) => {
    if (startedWallMs !== visit.startedWallMs || id === visit.id) return false;
    const other = tables.visits.get(id);
    return other.ok && sameText(bare(other.value.visit), bare(copy));
  });
}
const bare = (visit: Visit): object => ({ ...visit, id: '', number: 0, notes: visit.notes.slice(0, -1) });
const sameText = (a: object, b: object): boolean => stable(a) === stable(b);
const stable = (value: object): string => {
  const checked = Visit.safeParse(value);
  return JSON.stringify(checked.success ? checked.data : value);
};
