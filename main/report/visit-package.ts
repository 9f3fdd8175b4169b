/**
 * Visits on their way to another computer: one zip with a list, one part for each visit, and the run files. Written and read as streams;
 * everything is bounded before it is taken apart.
 */
import { ApplianceKnowledge } from '../../shared/measurement/knowledge.ts';
import { statSync } from 'node:fs';
import { z } from 'zod';
import { Instrument } from '../../shared/bench/instrument.ts';
import { boundedJson, RECORD_LIMITS } from '../../shared/ipc/bounded-json.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { Appliance } from '../../shared/tuning/visit/appliance.ts';
import { Visit } from '../../shared/tuning/visit/visit.ts';
import { isPhotoName } from '../photos/photo-files.ts';
import { problemOf } from '../store/attempt.ts';
import { readZip, writeZip, type ZipSource } from '../store/backup/zip.ts';
import { reportTexts } from '../../shared/words/host.ts';

const PACKAGE_FORMAT = 'flueside-visits';
/** 2: visits with the id of their instrument beside its name. Packages of version 1 are read as well. */
export const PACKAGE_VERSION = 2;
const LIST = 'visits.json';
const VISIT_NAME = /^visits\/\d{1,4}\.json$/;
/** only these names exist in a package, so that a path can lead nowhere else */
const PHOTO_NAME = /^photos\/[^/]{1,140}$/;
const isPhotoEntry = (name: string): boolean => PHOTO_NAME.test(name) && isPhotoName(name.slice('photos/'.length));
const RUN_NAME = /^runs\/([0-9A-Za-z][0-9A-Za-z_-]{0,79})\.run$/;
const LIMITS = { files: 5000, bytes: 4 * 2 ** 30, growth: 200, textBytes: 4 * 2 ** 20, allTextBytes: 64 * 2 ** 20 };
/** of each kind in one package */
const MOST = 500;

const few = <T extends z.ZodType>(one: T) => z.array(one).max(MOST);
const PackageList = z.object({
  format: z.literal(PACKAGE_FORMAT),
  version: z.number().int(),
  madeBy: z.string().max(200),
  appliances: few(z.object({ id: z.string().min(1).max(100), appliance: Appliance })),
  instruments: few(z.object({ id: z.string().min(1).max(100), instrument: Instrument })),
  /** what visits have taught of these appliances; a package of an earlier version has none */
  knowledge: few(z.object({ applianceId: z.string().min(1).max(100), known: ApplianceKnowledge })).optional(),
});

export type PackageContent = {
  readonly appliances: readonly { readonly id: string; readonly appliance: Appliance }[];
  readonly instruments: readonly { readonly id: string; readonly instrument: Instrument }[];
  readonly knowledge: readonly { readonly applianceId: string; readonly known: ApplianceKnowledge }[];
};
export type VisitPackage = PackageContent & {
  readonly visits: readonly Visit[];
  /** run id -> where its file was unpacked to, below the folder that was given */
  readonly runs: ReadonlyMap<string, string>;
  /** names of photos, as they lie below the folder that was given */
  readonly photos: readonly string[];
  /** visits that this program could not read */
  readonly unreadable: number;
};

/**
 * @param visits fetched one by one, so that the windows and a run that is captured get their turn between them
 * @param runs run id -> path of its file
 */
export async function packVisits(
  target: string,
  content: PackageContent & { readonly visits: Iterable<Visit> | AsyncIterable<Visit> },
  runs: ReadonlyMap<string, string>,
  madeBy: string,
  photos: readonly { readonly name: string; readonly path: string }[] = [],
): Promise<Result<undefined, Problem>> {
  const { appliances, instruments, knowledge } = content;
  async function* parts(): AsyncGenerator<ZipSource> {
    const list: z.infer<typeof PackageList> = {
      format: PACKAGE_FORMAT,
      version: PACKAGE_VERSION,
      madeBy,
      appliances: [...appliances],
      instruments: [...instruments],
      ...(knowledge.length > 0 && { knowledge: [...knowledge] }),
    };
    yield { name: LIST, text: JSON.stringify(list) };
    let number = 0;
    for await (const visit of content.visits) yield { name: `visits/${number++}.json`, text: JSON.stringify(visit) };
    for (const [runId, path] of runs) yield { name: `runs/${runId}.run`, path };
    for (const { name, path } of photos) yield { name: `photos/${name}`, path };
  }
  try {
    let total = 0;
    for (const path of [...runs.values(), ...photos.map(({ path }) => path)]) total += statSync(path).size;
    if (total > LIMITS.bytes) return err(problem('file-too-big', reportTexts.exportFewer));
    await writeZip(target, parts());
    return ok(undefined);
  } catch (failure) {
    const known = problemOf(failure);
    if (known === undefined) throw failure;
    return err(known);
  }
}

/** @param into an empty folder for the run files; nothing else is written anywhere */
export async function unpackVisits(path: string, into: string): Promise<Result<VisitPackage, Problem>> {
  let listText = '';
  const visits: Visit[] = [];
  let unreadable = 0;
  const isVisit = (name: string): boolean => VISIT_NAME.test(name);
  const read = await readZip(path, {
    into,
    allows: (name) => name === LIST || isVisit(name) || RUN_NAME.test(name) || isPhotoEntry(name),
    isText: (name) => name === LIST || isVisit(name),
    onText(name, text) {
      if (name === LIST) return void (listText = text);
      const visit = Visit.safeParse(boundedJson(text, RECORD_LIMITS));
      if (visit.success) visits.push(visit.data);
      else unreadable += 1;
    },
    limits: LIMITS,
  });
  if (!read.ok) return read;
  if (listText === '') return err(problem('file-foreign'));
  const raw = boundedJson(listText, RECORD_LIMITS);
  if (raw === undefined) return err(problem('file-damaged'));
  const claim = z.object({ format: z.literal(PACKAGE_FORMAT), version: z.number() }).safeParse(raw);
  if (!claim.success) return err(problem('file-foreign'));
  if (claim.data.version > PACKAGE_VERSION) return err(problem('file-newer'));
  if (visits.length + unreadable > MOST) return err(problem('file-too-big', reportTexts.mostVisits(MOST)));
  const list = PackageList.safeParse(raw);
  if (!list.success) return err(problem('file-damaged', list.error.issues[0]?.message));
  const runs = new Map(
    [...read.value.files.keys()].flatMap((name): [string, string][] => {
      const runId = RUN_NAME.exec(name)?.[1];
      return runId === undefined ? [] : [[runId, name]];
    }),
  );
  const { appliances, instruments, knowledge = [] } = list.data;
  const photos = [...read.value.files.keys()].filter(isPhotoEntry);
  return ok({ visits, appliances, instruments, knowledge, runs, photos, unreadable });
}
