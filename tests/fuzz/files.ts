/**
 * Files that somebody changed: backups, packages of visits, run files, records and recipes with bytes turned, cut out, doubled or made up. Whatever
 * comes of them, it is an answer: nothing throws, and nothing is written outside its place.
 */
import { mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { packVisits, unpackVisits } from '../../main/report/visit-package.ts';
import { measureRunFile, openRunFile } from '../../main/runs/file/run-file.ts';
import { createAppliances } from '../../main/store/appliances.ts';
import { makeBackup } from '../../main/store/backup/backup.ts';
import { checkRecordsFile, openRecords } from '../../main/store/open.ts';
import { createVisits } from '../../main/store/visits.ts';
import { createLineReader } from '../../shared/lines/reading/read-line.ts';
import { shippedRecipes } from '../../shared/lines/shipped-recipes.ts';
import { checkRecipe } from '../../shared/measurement/check-recipe.ts';
import { createRunFold } from '../../shared/pipeline/fold-run.ts';
import { writeDayRun } from '../helpers/day-run.ts';
import { smallVisit, START } from '../shared/report/small-visit.ts';
import { readBackup } from '../../main/store/backup/backup-file.ts';

export type FileFuzz = { kind: string; bytes: number; files: number; taken: number };
export type Random = () => number;

export function seeded(seed: number): Random {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
}

/** One to eight changes of the kinds that disks, networks and people make. */
export function mutated(original: Uint8Array, random: Random): Buffer {
  let bytes = Buffer.from(original);
  const at = (length: number): number => Math.floor(random() * Math.max(1, length));
  for (let n = 1 + at(8); n > 0; n--) {
    const place = at(bytes.length);
    const kind = random();
    if (kind < 0.4) bytes[place] = at(256);
    else if (kind < 0.6) bytes[place] = (bytes[place] ?? 0) ^ (1 << at(8));
    else if (kind < 0.7) bytes = bytes.subarray(0, place);
    else if (kind < 0.8) bytes = Buffer.concat([bytes.subarray(0, place), bytes.subarray(place + at(200))]);
    else if (kind < 0.9) bytes = Buffer.concat([bytes.subarray(0, place), bytes.subarray(at(bytes.length), place), bytes.subarray(place)]);
    else bytes.fill(random() < 0.5 ? 0 : 0xff, place, Math.min(bytes.length, place + at(400)));
  }
  return bytes;
}

type Kind = { readonly original: Uint8Array; readonly ending: string; readonly take: (path: string, scratch: string) => Promise<boolean> };

async function kinds(base: string): Promise<Record<string, Kind>> {
  const folder = join(base, 'original');
  mkdirSync(join(folder, 'runs'), { recursive: true });
  writeFileSync(join(folder, 'settings.json'), '{}');
  const runPath = writeDayRun(folder, 'run-1', 300);
  const opened = await openRecords({ folder, wallMs: START });
  if (!opened.ok) throw new Error(opened.error.code);
  const visits = createVisits(opened.value.db, () => undefined);
  for (let n = 1; n <= 8; n++) visits.adopt(smallVisit({ id: `visit-${n}`, number: n }), START);
  createAppliances(opened.value.db).save('unit', { format: 1, name: 'Furnace', kind: 'furnace' }, START);
  const backup = join(base, 'backup.zip');
  const made = await makeBackup({
    dataFolder: folder,
    db: opened.value.db,
    target: backup,
    token: 'fuzz',
    wallMs: START,
    appVersion: 'fuzz',
  });
  if (!made.ok) throw new Error(made.error.code);
  opened.value.close();
  const pack = join(base, 'package.zip');
  await packVisits(pack, { visits: [smallVisit()], appliances: [], instruments: [], knowledge: [] }, new Map([['run-1', runPath]]), 'fuzz');
  return {
    backups: { original: readFileSync(backup), ending: 'zip', take: async (path, scratch) => (await readBackup(path, scratch)).ok },
    packages: { original: readFileSync(pack), ending: 'zip', take: async (path, scratch) => (await unpackVisits(path, scratch)).ok },
    runs: { original: readFileSync(runPath), ending: 'run', take: (path) => takeRun(path) },
    records: { original: readFileSync(join(folder, 'records.db')), ending: 'db', take: (path, scratch) => takeRecords(path, scratch) },
    recipes: {
      original: Buffer.from(JSON.stringify(Object.values(shippedRecipes))),
      ending: 'json',
      take: (path) => Promise.resolve(takeRecipes(readFileSync(path, 'utf8'))),
    },
  };
}

async function takeRun(path: string): Promise<boolean> {
  const file = await openRunFile(path);
  await measureRunFile(path);
  if (!file.ok) return false;
  const fold = createRunFold(file.value.header, {});
  for await (const entry of file.value.entries()) fold.push(entry);
  JSON.stringify(fold.readings());
  return true;
}

async function takeRecords(path: string, scratch: string): Promise<boolean> {
  mkdirSync(scratch, { recursive: true });
  writeFileSync(join(scratch, 'records.db'), readFileSync(path));
  writeFileSync(join(scratch, 'records.in-use'), '');
  const checked = checkRecordsFile(path, START);
  const opened = await openRecords({ folder: scratch, wallMs: START });
  if (!opened.ok) return false;
  const visits = createVisits(opened.value.db, () => undefined);
  visits.list({ search: 'a' });
  for (let n = 1; n <= 8; n++) visits.get(`visit-${n}`);
  createAppliances(opened.value.db).list({ sort: 'due', today: '2026-01-01' });
  opened.value.close();
  return checked.ok;
}

function takeRecipes(text: string): boolean {
  let raw: unknown;
  try {
    raw = JSON.parse(text);
  } catch {
    return false;
  }
  for (const one of Array.isArray(raw) ? (raw as unknown[]) : []) {
    const recipe = checkRecipe(one);
    if (!recipe.ok) continue;
    const reader = createLineReader(recipe.value);
    for (const bytes of ['4.2,13,204,21', '9e307,9e307,9e307,9e307', 'O2 4.2 CO 13', '', '\x02;;;\x03', '{"O2":1e308}']) {
      const read = reader.read({ timeMs: 0, bytes });
      if (read.kind !== 'sample') continue;
      for (const value of Object.values(read.sample.values)) if (!Number.isFinite(value)) throw new Error(`a value is ${value}`);
    }
  }
  return true;
}

/** @throws Error with kind, seed and number when something throws */
export async function fuzzFiles(bytesOfEach: number, seed: number): Promise<FileFuzz[]> {
  const base = mkdtempSync(join(tmpdir(), 'flueside-fuzz-'));
  const results: FileFuzz[] = [];
  try {
    for (const [kind, { original, ending, take }] of Object.entries(await kinds(base))) {
      const random = seeded(seed);
      const result: FileFuzz = { kind, bytes: 0, files: 0, taken: 0 };
      const place = join(base, 'place');
      while (result.bytes < bytesOfEach) {
        const bytes = mutated(original, random);
        mkdirSync(place);
        const path = join(place, `file.${ending}`);
        writeFileSync(path, bytes);
        try {
          if (await take(path, join(place, 'scratch'))) result.taken += 1;
        } catch (cause) {
          throw new Error(
            `fuzz: ${kind}, seed ${seed}, file ${result.files}: ${cause instanceof Error ? (cause.stack ?? '') : String(cause)}`,
            {
              cause,
            },
          );
        }
        const strangers = readdirSync(place).filter((name) => !name.startsWith('file.') && name !== 'scratch');
        if (strangers.length > 0) throw new Error(`fuzz: ${kind} wrote ${strangers.join(', ')}`);
        rmSync(place, { recursive: true, force: true });
        result.bytes += Math.max(1, bytes.length);
        result.files += 1;
      }
      results.push(result);
    }
    return results;
  } finally {
    rmSync(base, { recursive: true, force: true });
  }
}
