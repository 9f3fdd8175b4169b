/** Visits on their way between the records and a package, in forms that travel between threads one by one. */
import { mkdirSync } from 'node:fs';
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { boundedJson, RECORD_LIMITS } from '../../shared/ipc/bounded-json.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import type { Named } from '../../shared/bench/find-instrument.ts';
import { Visit, withCorrections } from '../../shared/tuning/visit/visit.ts';
import { photoName, photosOf } from '../photos/photo-files.ts';
import { problemOf } from '../store/attempt.ts';
import { unpackVisits, type VisitPackage } from './visit-package.ts';
import { reportTexts } from '../../shared/words/host.ts';

/** A visit as it is stored, or why it is not there. */
export type StoredBody = Result<string, Problem>;
type Feed = AsyncIterable<unknown> | Iterable<unknown>;
export type Links = {
  readonly applianceIds: readonly string[];
  readonly instruments: readonly Named[];
  readonly runIds: readonly string[];
  /** names of their photos */
  readonly photos: readonly string[];
};

const readBody = (body: string): Visit | undefined => Visit.safeParse(boundedJson(body, RECORD_LIMITS)).data;

/** What goes with these visits. All of them must be there and readable. */
export async function linksOf(feed: Feed): Promise<Result<Links, Problem>> {
  const links = {
    applianceIds: new Set<string>(),
    instruments: new Map<string, Named>(),
    runIds: new Set<string>(),
    photos: new Set<string>(),
  };
  for await (const one of feed) {
    const body = one as StoredBody;
    if (!body.ok) return body;
    const visit = readBody(body.value);
    if (visit === undefined) return err(problem('store-damaged', reportTexts.visitUnreadable));
    if (visit.applianceId !== undefined) links.applianceIds.add(visit.applianceId);
    // as it reads now, like the report
    const { instrumentId, instrumentName } = withCorrections(visit);
    links.instruments.set(JSON.stringify([instrumentId, instrumentName]), { instrumentId, instrumentName });
    for (const { id } of visit.runs) links.runIds.add(id);
    for (const photo of photosOf(visit)) {
      const name = photoName(visit.id, photo);
      if (name !== undefined) links.photos.add(name);
    }
  }
  return ok({
    applianceIds: [...links.applianceIds],
    instruments: [...links.instruments.values()],
    runIds: [...links.runIds],
    photos: [...links.photos],
  });
}

/** Without those that were removed in another window meanwhile. */
export async function* visitsIn(feed: Feed): AsyncGenerator<Visit> {
  for await (const one of feed) {
    const body = one as StoredBody;
    const visit = body.ok ? readBody(body.value) : undefined;
    if (visit !== undefined) yield visit;
  }
}

export type ArrivedFiles = Omit<VisitPackage, 'visits'> & {
  /** each visit, read and checked, in a file of its own */
  readonly visits: readonly string[];
};

/** @param into an empty folder for what is unpacked; nothing else is written anywhere */
export async function unpackToFiles(path: string, into: string): Promise<Result<ArrivedFiles, Problem>> {
  const content = await unpackVisits(path, into);
  if (!content.ok) return content;
  try {
    const folder = join(into, 'visits');
    mkdirSync(folder, { recursive: true, mode: 0o700 });
    const visits: string[] = [];
    for (const [n, visit] of content.value.visits.entries()) {
      const file = join(folder, `${n}.json`);
      await writeFile(file, JSON.stringify(visit), { mode: 0o600 });
      visits.push(file);
    }
    return ok({ ...content.value, visits });
  } catch (failure) {
    const known = problemOf(failure);
    if (known === undefined) throw failure;
    return err(known);
  }
}

/** They were checked when they were written, a moment ago, by this program. */
export async function* visitsFrom(files: readonly string[]): AsyncGenerator<Visit> {
  for (const file of files) yield JSON.parse(await readFile(file, 'utf8')) as Visit;
}
