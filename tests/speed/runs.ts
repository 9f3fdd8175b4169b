/** A thousand stored runs in the list, and one run of a day at ten lines a second: opened, looked at near and far, exported. */
import { mkdirSync, mkdtempSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { monitorEventLoopDelay } from 'node:perf_hooks';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { createReportRuns } from '../../main/report/load-run.ts';
import { exportRun } from '../../main/runs/stored/run-export.ts';
import { openRunFile } from '../../main/runs/file/run-file.ts';
import { createKeptResults } from '../../main/runs/stored/kept-results.ts';
import { createRunFolder } from '../../main/runs/file/run-folder.ts';
import { createStoredRuns, findJudged } from '../../main/runs/stored/stored-runs.ts';
import { Settings } from '../../shared/ipc/settings.ts';
import { encodeEntry, encodeHeader } from '../../shared/measurement/run-format.ts';
import { DAY_LINES as LINES, writeDayRun } from '../helpers/day-run.ts';
import { burnerLines, runHeader } from '../helpers/ports/run-lines.ts';
import type { SpeedReport } from './speed-report.ts';

const RUNS = 1000;
const ROUNDS = 25;

const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0;

// what is held is only known after a collection; a program bundled for Node has no flag of its own
setFlagsFromString('--expose-gc');
const collect = runInNewContext('gc') as () => void;
/** the heap and what typed arrays hold outside it */
const heldMb = (): number => {
  collect();
  const { heapUsed, arrayBuffers } = process.memoryUsage();
  return (heapUsed + arrayBuffers) / 2 ** 20;
};

/** @returns seconds on the clock and of the processor (others may be busy beside us), the longest time the loop stood still (ms), and what the process grew by at its widest (MB resident) */
async function watched<T>(work: () => Promise<T>): Promise<{ result: T; seconds: number; cpuS: number; blockMs: number; grownMb: number }> {
  const delay = monitorEventLoopDelay({ resolution: 5 });
  const before = process.memoryUsage().rss;
  let most = before;
  const timer = setInterval(() => (most = Math.max(most, process.memoryUsage().rss)), 100);
  delay.enable();
  const cpu = process.cpuUsage();
  const from = performance.now();
  const result = await work();
  const { user, system } = process.cpuUsage(cpu);
  const seconds = (performance.now() - from) / 1000;
  delay.disable();
  clearInterval(timer);
  return { result, seconds, cpuS: (user + system) / 1e6, blockMs: delay.max / 1e6, grownMb: (most - before) / 2 ** 20 };
}

export async function speedRuns(report: SpeedReport): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'flueside-speed-'));
  const runs = join(folder, 'runs');
  mkdirSync(runs);
  try {
    await list(runs, report);
    await day(folder, runs, report);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

async function list(runs: string, report: SpeedReport): Promise<void> {
  // half an hour at a line a second each
  const body = burnerLines({ seconds: 1800 })
    .map((line) => encodeEntry({ kind: 'line', ...line }))
    .join('');
  for (let at = 0; at < RUNS; at++) {
    const runId = `run-${String(at).padStart(4, '0')}`;
    writeFileSync(join(runs, `${runId}.run`), encodeHeader(runHeader({ runId })) + body, 'latin1');
  }
  const first = await watched(() => createRunFolder(runs).list());
  if (first.result.length !== RUNS) throw new Error(`${first.result.length} runs in the list`);
  report('list of 1 000 runs, never measured before', first.seconds * 1000, 'ms', `longest block ${first.blockMs.toFixed(0)} ms`);
  const starts: number[] = [];
  for (let round = 0; round < ROUNDS; round++) starts.push((await watched(() => createRunFolder(runs).list())).seconds * 1000);
  report('list of 1 000 runs at every later start', median(starts), 'ms', `worst ${Math.max(...starts).toFixed(0)}; goal: at most 1000`);
}

async function day(folder: string, runs: string, report: SpeedReport): Promise<void> {
  const runId = 'day';
  const path = writeDayRun(folder, runId, LINES);
  report('a day at 10 Hz, file', statSync(path).size / 2 ** 20, 'MB', `${LINES} lines`);
  const settings = Settings.parse({});
  const stored = createStoredRuns(runs, () => ({}));
  const before = heldMb();
  const opened = await watched(async () => {
    const from = performance.now();
    for (let stage = 'curves'; stage === 'curves';) {
      const seen = await stored.look(runId);
      stage = seen.ok ? (seen.value.progress?.stage ?? 'through') : 'failed';
    }
    report('its curves are whole', (performance.now() - from) / 1000, 's', 'they grow on the screen from the first quarter of a second');
    return stored.open(runId);
  });
  if (!opened.result.ok) throw new Error(opened.result.error.code);
  const { fold, trace } = opened.result.value;
  if (fold.counters.lines !== LINES) throw new Error(`${fold.counters.lines} lines were read`);
  report(
    'all of it is read',
    opened.seconds,
    's',
    `${opened.cpuS.toFixed(1)} s of the processor, longest block ${opened.blockMs.toFixed(0)} ms, ${opened.grownMb.toFixed(0)} MB more at the widest`,
  );
  report('held while it is open', heldMb() - before, 'MB', 'goal: bounded, whatever the length');
  const again = await watched(() => stored.open(runId));
  report('opening it again', again.seconds * 1000, 'ms');
  for (const [name, widthMs] of [
    ['the whole day', 86_400_000],
    ['an hour', 3_600_000],
    ['a minute', 60_000],
  ] as const) {
    const times = Array.from({ length: ROUNDS }, (_, round) => {
      const fromMs = ((86_400_000 - widthMs) * round) / ROUNDS;
      const from = performance.now();
      const answer = trace.history(fold, fromMs, fromMs + widthMs, 3000);
      JSON.stringify(answer);
      return performance.now() - from;
    });
    report(`points of ${name}, written for the window`, median(times), 'ms', `worst ${Math.max(...times).toFixed(1)}; a frame is 16.7`);
  }
  for (const form of ['csv', 'json', 'text'] as const) {
    const target = join(folder, `day.${form}`);
    const file = await openRunFile(path);
    if (!file.ok) throw new Error(file.error.code);
    const made = await watched(() => exportRun(form, { file: file.value, isReplay: false, settings, foldSettings: {} }, target));
    report(
      `export as ${form}`,
      made.seconds,
      's',
      `${(statSync(target).size / 2 ** 20).toFixed(0)} MB, ${made.cpuS.toFixed(1)} s of the processor, longest block ${made.blockMs.toFixed(0)} ms, ${made.grownMb.toFixed(0)} MB more at the widest`,
    );
  }
  const reports = createReportRuns(folder);
  const firstLook = await watched(() => reports.load(runId, {}));
  report(
    'read for a report',
    firstLook.seconds,
    's',
    `${firstLook.cpuS.toFixed(1)} s of the processor, longest block ${firstLook.blockMs.toFixed(0)} ms`,
  );
  const later = await watched(() => reports.load(runId, {}));
  report('read for the next preview', later.seconds * 1000, 'ms', 'the hash of the file and what came since');
  await afterRestart(folder, runs, runId, report);
}

/** What was derived from the run was kept beside it: another program that starts reads it instead of the run. */
async function afterRestart(folder: string, runs: string, runId: string, report: SpeedReport): Promise<void> {
  const kept = createKeptResults(folder, { program: 'speed', said: (text) => console.log(text) });
  const fresh = () => ({ stored: createStoredRuns(runs, () => ({}), kept), reports: createReportRuns(folder, kept) });
  const first = fresh();
  await first.stored.open(runId);
  const writing = await watched(() => first.stored.rested());
  report('keeping what was read, once', writing.seconds * 1000, 'ms', `longest block ${writing.blockMs.toFixed(0)} ms`);
  await first.reports.load(runId, {});
  const path = join(runs, `${runId}.run`);
  const file = await openRunFile(path);
  if (!file.ok) throw new Error(file.error.code);
  const parts = { file: file.value, isReplay: false, settings: Settings.parse({}), foldSettings: {} };
  const made = await watched(() =>
    exportRun('json', { ...parts, found: () => findJudged(kept, runId, path, {}) }, join(folder, 'again.json')),
  );
  report('export as json of a run that was read before', made.seconds, 's', `${made.cpuS.toFixed(1)} s of the processor`);
  for (const [name, look] of [
    ['the same day opened after a restart', async () => (await fresh().stored.open(runId)).ok],
    ['its report after a restart', async () => (await fresh().reports.load(runId, {})) !== undefined],
  ] as const) {
    const rounds = [];
    for (let round = 0; round < ROUNDS; round++) rounds.push(await watched(look));
    if (rounds.some(({ result }) => !result)) throw new Error(`${name}: not read`);
    const blocks = rounds.map(({ blockMs }) => blockMs);
    report(
      name,
      median(rounds.map(({ seconds }) => seconds)),
      's',
      `longest block ${Math.max(...blocks).toFixed(0)} ms; goal: at most 0.5 s`,
      ROUNDS,
    );
  }
}
