/** Visits on their way to another computer: one zip with the visits, their appliances and instruments, and their run files. */
import { readFileSync, statSync } from 'node:fs';
import { strFromU8, strToU8, unzipSync, zipSync, type Zippable } from 'fflate';
import { z } from 'zod';
import { Instrument } from '../../shared/bench/instrument.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { Appliance } from '../../shared/tuning/appliance.ts';
import { Visit } from '../../shared/tuning/visit.ts';

export const PACKAGE_FORMAT = 'flueside-visits';
export const PACKAGE_VERSION = 1;
const LIST = 'visits.json';
/** only these names exist in a package, so that a path can lead nowhere else */
const RUN_NAME = /^runs\/([0-9A-Za-z][0-9A-Za-z_-]{0,79})\.run$/;
const LIMITS = { entries: 5000, bytes: 1024 * 2 ** 20 };

const PackageList = z.object({
  format: z.literal(PACKAGE_FORMAT),
  version: z.number().int(),
  madeBy: z.string(),
  visits: z.array(z.unknown()).max(500),
  appliances: z.array(z.object({ id: z.string().min(1).max(100), appliance: Appliance })).max(500),
  instruments: z.array(z.object({ id: z.string().min(1).max(100), instrument: Instrument })).max(500),
});

export type VisitPackage = {
  readonly visits: readonly Visit[];
  readonly appliances: readonly { readonly id: string; readonly appliance: Appliance }[];
  readonly instruments: readonly { readonly id: string; readonly instrument: Instrument }[];
  /** run id -> the file's bytes */
  readonly runs: ReadonlyMap<string, Uint8Array>;
  /** visits that this program could not read */
  readonly unreadable: number;
};

/** @param runs run id -> path of its file */
export function packVisits(
  content: Omit<VisitPackage, 'runs' | 'unreadable'>,
  runs: ReadonlyMap<string, string>,
  madeBy: string,
): Result<Uint8Array, Problem> {
  const { visits, appliances, instruments } = content;
  const list: z.infer<typeof PackageList> = {
    format: PACKAGE_FORMAT,
    version: PACKAGE_VERSION,
    madeBy,
    visits: [...visits],
    appliances: [...appliances],
    instruments: [...instruments],
  };
  const files: Zippable = { [LIST]: strToU8(JSON.stringify(list)) };
  let total = 0;
  for (const [runId, path] of runs) {
    total += statSync(path).size;
    if (total > LIMITS.bytes) return err(problem('file-too-big', 'Export fewer visits at a time, or make a backup.'));
    files[`runs/${runId}.run`] = readFileSync(path);
  }
  return ok(zipSync(files, { level: 6 }));
}

/** Nothing is written anywhere: the package is read into memory, bounded, and checked. */
export function unpackVisits(bytes: Uint8Array): Result<VisitPackage, Problem> {
  let refusal: Problem | undefined;
  let total = 0;
  let entries = 0;
  let files: Record<string, Uint8Array>;
  try {
    files = unzipSync(bytes, {
      filter: ({ name, originalSize }) => {
        entries += 1;
        total += originalSize;
        if (name !== LIST && !RUN_NAME.test(name))
          refusal ??= problem('file-foreign', `It holds '${name.slice(0, 80)}', which no package of visits has.`);
        else if (entries > LIMITS.entries || total > LIMITS.bytes)
          refusal ??= problem('file-too-big', 'It would unpack to more than any package holds.');
        return refusal === undefined;
      },
    });
  } catch (failure) {
    return err(problem(bytes[0] === 0x50 && bytes[1] === 0x4b ? 'file-damaged' : 'file-foreign', String((failure as Error).message)));
  }
  if (refusal !== undefined) return err(refusal);
  const text = files[LIST];
  if (text === undefined) return err(problem('file-foreign'));
  let raw: unknown;
  try {
    raw = JSON.parse(strFromU8(text));
  } catch {
    return err(problem('file-damaged'));
  }
  const claim = z.object({ format: z.literal(PACKAGE_FORMAT), version: z.number() }).safeParse(raw);
  if (!claim.success) return err(problem('file-foreign'));
  if (claim.data.version > PACKAGE_VERSION) return err(problem('file-newer'));
  const list = PackageList.safeParse(raw);
  if (!list.success) return err(problem('file-damaged', list.error.issues[0]?.message));
  const visits = list.data.visits.flatMap((visit) => Visit.safeParse(visit).data ?? []);
  const runs = new Map(
    Object.entries(files).flatMap(([name, content]): [string, Uint8Array][] => {
      const runId = RUN_NAME.exec(name)?.[1];
      return runId === undefined ? [] : [[runId, content]];
    }),
  );
  const { appliances, instruments } = list.data;
  return ok({ visits, appliances, instruments, runs, unreadable: list.data.visits.length - visits.length });
}
