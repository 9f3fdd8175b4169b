/**
 * Kills a process at random moments while it restores, makes backups, takes visits in or exports them. What is there afterwards, opened as the
 * next start opens it, has to be one whole state: nothing acknowledged is lost, nothing is half, and no book is empty without a word.
 */
import { spawn } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { packVisits } from '../../main/report/visit-package.ts';
import { createAppliances } from '../../main/store/appliances.ts';
import { makeBackup } from '../../main/store/backup/backup.ts';
import { openRecords, type OpenRecords } from '../../main/store/open.ts';
import { recoverRestore, tidyDataFolder } from '../../main/store/backup/restore.ts';
import { WORK_FOLDER } from '../../main/store/work-folder.ts';
import { createVisits } from '../../main/store/visits.ts';
import { smallVisit, START } from '../shared/report/small-visit.ts';
import { readBackup } from '../../main/store/backup/backup-file.ts';

export const recordsWorks = ['restore', 'backup', 'import', 'export'] as const;
export type RecordsWork = (typeof recordsWorks)[number];

export type RecordsReport = {
  work: RecordsWork;
  rounds: number;
  /** killed while the work was under way */
  killed: number;
  /** works that were acknowledged before a kill */
  acknowledged: number;
  lost: number;
  halfStates: number;
  silentEmptyBooks: number;
  problems: string[];
};

const VISITS = 20;
const RUN = `head\n${'12\tline\t5.1,13,204,21\n'.repeat(120_000)}`;

function createRandom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
}

async function opened(folder: string): Promise<OpenRecords> {
  const records = await openRecords({ folder, wallMs: START });
  if (!records.ok) throw new Error(records.error.code);
  return records.value;
}

/** The state of a folder by name, in its records, its runs and its settings alike. */
async function makeState(folder: string, name: string, visits: number): Promise<void> {
  mkdirSync(join(folder, 'runs'), { recursive: true });
  const { db, close } = await opened(folder);
  db.run('DELETE FROM visit');
  const book = createVisits(db, () => undefined);
  for (let n = 1; n <= visits; n++) book.adopt(smallVisit({ id: `${name}-${n}`, number: n, runs: [] }), START);
  close();
  writeFileSync(join(folder, 'runs', 'run-1.run'), `${name}\n${RUN}`);
  writeFileSync(join(folder, 'settings.json'), JSON.stringify({ technician: { name } }));
}

/** @returns the name of the state, or what is wrong with it */
async function stateOf(
  folder: string,
): Promise<{ name?: string; notices: number; wrong?: string; acknowledged: (id: string) => boolean; close: () => void }> {
  const recovered = recoverRestore(folder);
  if (!recovered.ok) return { notices: 1, wrong: recovered.error.code, acknowledged: () => false, close: () => undefined };
  tidyDataFolder(folder);
  const { db, notices, close } = await opened(folder);
  const ids = createVisits(db, () => undefined).list({ limit: 500 });
  const appliances = createAppliances(db);
  const names = new Set(ids.ok ? ids.value.visits.map(({ id }) => id.split('-')[0] ?? '') : []);
  const run = existsSync(join(folder, 'runs', 'run-1.run')) ? readFileSync(join(folder, 'runs', 'run-1.run'), 'latin1') : '';
  const settings = existsSync(join(folder, 'settings.json')) ? readFileSync(join(folder, 'settings.json'), 'utf8') : '';
  const [name] = names;
  const isWhole = names.size === 1 && ids.ok && ids.value.total === VISITS && run === `${name}\n${RUN}` && settings.includes(`"${name}"`);
  return {
    ...(name === undefined ? {} : { name }),
    notices: notices.length,
    ...(isWhole
      ? {}
      : { wrong: `visits of ${[...names].join(' and ') || 'nobody'}, run of ${run.slice(0, run.indexOf('\n'))}, ${settings}` }),
    acknowledged: (id) => appliances.get(id).ok,
    close,
  };
}

type Ended = { lines: string[]; wasKilled: boolean };
function runChild(childFile: string, args: string[], killAfterMs: number | undefined): Promise<Ended & { tookMs: number }> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [childFile, ...args], { stdio: ['ignore', 'pipe', 'inherit'] });
    let text = '';
    let readyMs: number | undefined;
    child.stdout.on('data', (piece: Buffer) => {
      text += piece.toString();
      if (readyMs !== undefined || !text.includes('ready\n')) return;
      readyMs = performance.now();
      if (killAfterMs !== undefined) setTimeout(() => child.kill('SIGKILL'), killAfterMs);
    });
    child.once('error', reject);
    child.once('close', (_code, signal) =>
      resolve({
        lines: text.split('\n').slice(0, -1),
        wasKilled: signal === 'SIGKILL',
        tookMs: performance.now() - (readyMs ?? performance.now()),
      }),
    );
  });
}

/** @param childFile the built records-child */
export async function recordsKillRounds(childFile: string, work: RecordsWork, rounds: number, seed: number): Promise<RecordsReport> {
  const random = createRandom(seed);
  const report: RecordsReport = { work, rounds, killed: 0, acknowledged: 0, lost: 0, halfStates: 0, silentEmptyBooks: 0, problems: [] };
  const base = mkdtempSync(join(tmpdir(), 'flueside-crash-records-'));
  const first = join(base, 'first');
  const folder = join(base, 'data');
  const fresh = (): void => {
    rmSync(folder, { recursive: true, force: true });
    cpSync(first, folder, { recursive: true });
  };
  try {
    await prepare(first, base, work);
    fresh();
    const { tookMs } = await runChild(childFile, [folder, work, 'once'], undefined);
    fresh();
    for (let round = 1; round <= rounds; round++) {
      if (work === 'import' || round % 10 === 0) fresh();
      const { lines, wasKilled } = await runChild(childFile, [folder, work], random() * tookMs * 1.3);
      if (wasKilled) report.killed += 1;
      const done = lines.filter((line) => line.startsWith('done ')).length;
      report.acknowledged += done;
      const complain = (what: string): void => void report.problems.push(`round ${round}: ${what}`);
      // the mark of a bad end may be told, and nothing else
      for (const line of lines) if (line.startsWith('problem ')) complain(line);
      if (work === 'import') await checkImport(report, { childFile, folder, done, complain });
      else await checkState(report, { folder, lines, complain });
      const left = existsSync(join(folder, WORK_FOLDER)) ? readdirSync(join(folder, WORK_FOLDER)) : [];
      if (left.length > 0) complain(`left over: ${left.join(', ')}`);
    }
    return report;
  } finally {
    rmSync(base, { recursive: true, force: true });
  }
}

type Checked = { folder: string; complain: (what: string) => void };

async function checkState(report: RecordsReport, { folder, lines, complain }: Checked & { lines: readonly string[] }): Promise<void> {
  const state = await stateOf(folder);
  try {
    if (state.name === undefined && state.notices === 0) report.silentEmptyBooks += 1;
    if (state.wrong !== undefined) {
      report.halfStates += 1;
      complain(state.wrong);
    }
    for (const line of lines) if (line.startsWith('saved ') && !state.acknowledged(line.slice(6))) report.lost += 1;
    if (report.work === 'restore') {
      const begun = lines.filter((line) => line.startsWith('begin ')).map((line) => Number(line.slice(6)));
      const done = lines.filter((line) => line.startsWith('done ')).map((line) => Number(line.slice(5)));
      const nameOf = (n: number): string => (n % 2 === 0 ? 'alpha' : 'beta');
      const last = done.at(-1);
      if (last !== undefined && state.name !== nameOf(last) && state.name !== nameOf(begun.at(-1) ?? last)) report.lost += 1;
    }
  } finally {
    state.close();
  }
  if (report.work !== 'backup') return;
  for (const name of readdirSync(folder).filter((one) => /^flueside-backup-.*\.zip$/.test(one))) {
    const read = await readBackup(join(folder, name), undefined);
    if (!read.ok) {
      report.halfStates += 1;
      complain(`${name}: ${read.error.code}`);
    }
    rmSync(join(folder, name));
  }
}

async function checkImport(
  report: RecordsReport,
  { childFile, folder, done, complain }: Checked & { childFile: string; done: number },
): Promise<void> {
  const look = async (): Promise<{ visits: number; run: 'none' | 'half' | 'whole' }> => {
    recoverRestore(folder);
    tidyDataFolder(folder);
    const { db, close } = await opened(folder);
    const list = createVisits(db, () => undefined).list({ limit: 500 });
    const visits = list.ok ? list.value.visits.filter(({ id }) => id.startsWith('gamma')).length : -1;
    close();
    const path = join(folder, 'runs', 'taken.run');
    const run = !existsSync(path) ? 'none' : readFileSync(path, 'latin1') === RUN ? 'whole' : 'half';
    return { visits, run };
  };
  const after = await look();
  if ((after.visits !== 0 && after.visits !== VISITS) || after.run === 'half') {
    report.halfStates += 1;
    complain(JSON.stringify(after));
  }
  if (done > 0 && (after.visits !== VISITS || after.run !== 'whole')) report.lost += 1;
  // taken in once more, it is complete
  await runChild(childFile, [folder, 'import', 'once'], undefined);
  const again = await look();
  if (again.visits !== VISITS || again.run !== 'whole') {
    report.lost += 1;
    complain(`after a second import: ${JSON.stringify(again)}`);
  }
}

async function prepare(first: string, base: string, work: RecordsWork): Promise<void> {
  mkdirSync(first, { recursive: true });
  for (const [index, name] of ['beta', 'alpha'].entries()) {
    await makeState(first, name, VISITS);
    if (work !== 'restore') continue;
    const { db, close } = await opened(first);
    const target = join(base, `${name}.zip`);
    const made = await makeBackup({ dataFolder: first, db, target, token: name, wallMs: START, appVersion: 'crash test' });
    close();
    if (!made.ok) throw new Error(made.error.code);
    renameSync(target, join(first, `flueside-backup-2026-01-0${2 - index}.zip`));
  }
  if (work !== 'import') return;
  writeFileSync(join(base, 'taken.run'), RUN);
  const visits = Array.from({ length: VISITS }, (_, n) => smallVisit({ id: `gamma-${n}`, number: 100 + n, runs: [] }));
  const runs = new Map([['taken', join(base, 'taken.run')]]);
  const packed = await packVisits(
    join(base, 'package.zip'),
    { visits, appliances: [], instruments: [], knowledge: [] },
    runs,
    'crash test',
  );
  if (!packed.ok) throw new Error(packed.error.code);
}

export const isGoodRecords = ({ rounds, killed, lost, halfStates, silentEmptyBooks, problems }: RecordsReport): boolean =>
  lost === 0 && halfStates === 0 && silentEmptyBooks === 0 && problems.length === 0 && killed > rounds / 2;
