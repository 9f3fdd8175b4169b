/** What a person waits for before anything is there: the command line's answer, the address of the app; and the reading of an hour from a file. */
import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { startAppProcess } from '../helpers/app-process.ts';
import { writeDayRun } from '../helpers/day-run.ts';
import type { SpeedReport } from './speed-report.ts';

const ROUNDS = 20;
const READ_ROUNDS = 3;
const HOUR_LINES = 36_000;
const cli = resolve('dist/main/cli.mjs');
/** the command line itself says what it took of the processor */
const SAYS_TIME =
  'data:text/javascript,process.on("exit",()=>{const{user,system}=process.cpuUsage();process.stderr.write(`cpu ${user+system}\\n`)})';

const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0;

/** @returns seconds on the clock, and what it wrote to standard error */
function run(command: string, args: readonly string[]): Promise<{ seconds: number; said: string }> {
  return new Promise((done, fail) => {
    const from = performance.now();
    const child = spawn(command, args, { stdio: ['ignore', 'ignore', 'pipe'], shell: false });
    let said = '';
    child.stderr.on('data', (chunk: Buffer) => (said += chunk.toString()));
    child.once('error', fail);
    child.once('close', (code) =>
      code === 0
        ? done({ seconds: (performance.now() - from) / 1000, said })
        : fail(new Error(`${command} ${args.join(' ')} ended with ${String(code)}: ${said}`)),
    );
  });
}

async function rounds<T>(count: number, work: () => Promise<T>): Promise<T[]> {
  const all: T[] = [];
  for (let round = 0; round < count; round++) all.push(await work());
  return all;
}
const medianSeconds = (all: readonly { readonly seconds: number }[]): number => median(all.map(({ seconds }) => seconds));

export async function speedStart(report: SpeedReport): Promise<void> {
  report('command line, start to answer', medianSeconds(await rounds(ROUNDS, () => run(process.execPath, [cli, '--help']))), 's');
  // how npm is called by what it started itself; without that there is no npm to measure
  const npm = process.env['npm_execpath'];
  if (npm !== undefined) {
    const throughNpm = await rounds(ROUNDS, () => run(process.execPath, [npm, 'run', '-s', 'cli', '--', '--help']));
    report('command line, start to answer, through npm', medianSeconds(throughNpm), 's');
  }
  const folder = mkdtempSync(join(tmpdir(), 'flueside-speed-'));
  try {
    const file = writeDayRun(folder, 'hour', HOUR_LINES);
    const read = await rounds(READ_ROUNDS, () => run(process.execPath, ['--import', SAYS_TIME, cli, 'read', file, '--json']));
    const cpuS = read.map(({ said }) => Number(/cpu (\d+)/.exec(said)?.[1]) / 1e6);
    report('read of an hour at 10 Hz, processor time', median(cpuS), 's', `median of ${READ_ROUNDS}; recipe as stored`);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
  const starts = await rounds(ROUNDS, async () => {
    const from = performance.now();
    const app = await startAppProcess();
    const seconds = (performance.now() - from) / 1000;
    await app.stop();
    return { seconds };
  });
  report('host started to address', medianSeconds(starts), 's', 'without npm');
}
