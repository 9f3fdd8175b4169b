/** Takes visits of another computer in. Nothing that is here is ever overwritten. */
import { closeSync, fsyncSync, mkdirSync, openSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Problem } from '../../shared/problem.ts';
import { ok, type Result } from '../../shared/result.ts';
import { movedInEdit } from '../../shared/tuning/appliance-edits.ts';
import { Visit } from '../../shared/tuning/visit.ts';
import { reportWords } from '../../shared/words/report.ts';
import { attempt } from '../store/attempt.ts';
import type { Shelf } from '../store/records.ts';
import { visitHash } from '../store/visits.ts';
import { createRunFolder } from '../runs/run-folder.ts';
import type { VisitPackage } from './visit-package.ts';

export type Merged = { added: number; same: number; corrected: number; copies: number; refused: number; appliances: number; runs: number };

export type MergePlace = {
  readonly dataFolder: string;
  readonly wallMs: number;
  readonly newId: () => string;
  /** who takes them in */ readonly by: string;
};

export function mergeVisits(shelf: Shelf, content: VisitPackage, { dataFolder, wallMs, newId, by }: MergePlace): Result<Merged, Problem> {
  const count: Merged = { added: 0, same: 0, corrected: 0, copies: 0, refused: content.unreadable, appliances: 0, runs: 0 };
  for (const { id, appliance } of content.appliances) {
    // what is here stays as it is, and so do its edits: a person who was taken out does not come back with a visit
    const here = shelf.appliances.get(id);
    if (here.ok) continue;
    if (here.error.code !== 'not-found') return here;
    const saved = shelf.appliances.put(id, appliance, [movedInEdit({ wallMs, by })], wallMs);
    if (!saved.ok) return saved;
    count.appliances += 1;
  }
  for (const visit of content.visits) {
    const taken = takeVisit(shelf, visit, { wallMs, newId });
    if (!taken.ok) return taken;
    count[taken.value] += 1;
  }
  const written = writeRuns(dataFolder, content.runs);
  if (!written.ok) return written;
  return ok({ ...count, runs: written.value });
}

type Fate = 'added' | 'same' | 'corrected' | 'copies' | 'refused';

function takeVisit(shelf: Shelf, visit: Visit, { wallMs, newId }: Pick<MergePlace, 'wallMs' | 'newId'>): Result<Fate, Problem> {
  // a signed record that no longer gives its hash is no record
  if (visit.signature !== undefined && visitHash(visit) !== visit.signature.hash) return ok('refused');
  const here = shelf.visits.get(visit.id);
  if (!here.ok) {
    if (here.error.code !== 'not-found') return here;
    const adopted = shelf.visits.adopt(visit, wallMs);
    return adopted.ok ? ok('added') : adopted;
  }
  const ours = here.value.visit;
  if (sameText({ ...visit, number: ours.number }, ours)) return ok('same');
  if (visit.signature !== undefined && visit.signature.hash === ours.signature?.hash) {
    // one signed body: only corrections can differ, and they only grow
    if (begins(ours.edits, visit.edits)) return ok('same');
    if (begins(visit.edits, ours.edits)) {
      const grown = shelf.visits.change(visit.id, wallMs, (stored) => ok({ ...stored, edits: visit.edits }));
      return grown.ok ? ok('corrected') : grown;
    }
  }
  // a copy whose signature stood over another id would not hold: what was signed is said in words, and stays at its own computer
  const { signature, ...rest } = visit;
  const text = [
    reportWords.copyNote(visit.number),
    signature === undefined ? undefined : reportWords.copySigned(signature.name, new Date(signature.wallMs).toISOString(), signature.hash),
  ]
    .filter((part) => part !== undefined)
    .join(' ');
  const copy: Visit = { ...rest, id: newId(), notes: [...visit.notes.slice(-499), { wallMs, text }] };
  if (hasCopy(shelf, visit, copy)) return ok('same');
  const kept = shelf.visits.adopt(copy, wallMs);
  return kept.ok ? ok('copies') : kept;
}

/** The same file taken in twice must not make a second copy. */
function hasCopy(shelf: Shelf, visit: Visit, copy: Visit): boolean {
  const found = shelf.visits.list({ applianceId: visit.applianceId, limit: 500 });
  if (!found.ok) return false;
  return found.value.visits.some(({ id, startedWallMs }) => {
    if (startedWallMs !== visit.startedWallMs || id === visit.id) return false;
    const other = shelf.visits.get(id);
    return other.ok && sameText(bare(other.value.visit), bare(copy));
  });
}
const bare = (visit: Visit): object => ({ ...visit, id: '', number: 0, notes: visit.notes.slice(0, -1) });
const sameText = (a: object, b: object): boolean => stable(a) === stable(b);
const stable = (value: object): string => {
  const checked = Visit.safeParse(value);
  return JSON.stringify(checked.success ? checked.data : value);
};
const begins = (longer: readonly unknown[], shorter: readonly unknown[]): boolean =>
  shorter.length <= longer.length && shorter.every((edit, index) => JSON.stringify(edit) === JSON.stringify(longer[index]));

function writeRuns(dataFolder: string, runs: VisitPackage['runs']): Result<number, Problem> {
  const folder = createRunFolder(join(dataFolder, 'runs'));
  return attempt(() => {
    mkdirSync(join(dataFolder, 'runs'), { recursive: true });
    let written = 0;
    for (const [runId, bytes] of runs) {
      const path = folder.pathOf(runId);
      if (path !== undefined && writeNew(path, bytes)) written += 1;
    }
    return written;
  });
}

/** @returns false when there is a file of that name: it stays as it is */
function writeNew(path: string, bytes: Uint8Array): boolean {
  let file: number;
  try {
    file = openSync(path, 'wx', 0o600);
  } catch (failure) {
    if ((failure as NodeJS.ErrnoException).code === 'EEXIST') return false;
    throw failure;
  }
  try {
    writeFileSync(file, bytes);
    fsyncSync(file);
  } finally {
    closeSync(file);
  }
  return true;
}
