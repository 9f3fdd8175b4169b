/** What a person waits for before anything is there: the command line's answer, the address of the app; and the reading of an hour from a file. */
import { spawn, type ChildProcessByStdio } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import type { Readable } from 'node:stream';
import { startAppProcess } from '../helpers/host/app-process.ts';
import { launchChromium } from '../helpers/browser/chromium.ts';
import { writeDayRun } from '../helpers/day-run.ts';
import type { SpeedReport } from './speed-report.ts';

const ROUNDS = 20;
const READ_ROUNDS = 3;
const WINDOW_ROUNDS = Number(process.env['FLUESIDE_ROUNDS'] ?? 20);
const HOUR_LINES = 36_000;
const cli = resolve('dist/main/cli.mjs');
const starter = resolve('main/scripts/start.mjs');
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
  report(
    'command line, start to answer',
    medianSeconds(await rounds(ROUNDS, () => run(process.execPath, [cli, '--help']))),
    's',
    '',
    ROUNDS,
  );
  // how npm is called by what it started itself; without that there is no npm to measure
  const npm = process.env['npm_execpath'];
  if (npm !== undefined) {
    const throughNpm = await rounds(ROUNDS, () => run(process.execPath, [npm, 'run', '-s', 'cli', '--', '--help']));
    report('command line, start to answer, through npm', medianSeconds(throughNpm), 's', '', ROUNDS);
  }
  const folder = mkdtempSync(join(tmpdir(), 'flueside-speed-'));
  try {
    const file = writeDayRun(folder, 'hour', HOUR_LINES);
    const read = await rounds(READ_ROUNDS, () => run(process.execPath, ['--import', SAYS_TIME, cli, 'read', file, '--json']));
    const cpuS = read.map(({ said }) => Number(/cpu (\d+)/.exec(said)?.[1]) / 1e6);
    report('read of an hour at 10 Hz, processor time', median(cpuS), 's', 'recipe as stored', READ_ROUNDS);
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
  report('host started to address', medianSeconds(starts), 's', 'without npm', ROUNDS);
  await toFirstValue(report);
}

/** `npm start` with everything built, to the first value of the simulated burner; the browser is there already, and looks at a new window each time. */
async function toFirstValue(report: SpeedReport): Promise<void> {
  const browser = await launchChromium({ whole: true });
  try {
    const shown = await rounds(WINDOW_ROUNDS, async () => {
      const folder = mkdtempSync(join(tmpdir(), 'flueside-speed-'));
      const page = await browser.newPage({ viewport: { width: 1280, height: 800 }, colorScheme: 'dark' });
      const from = performance.now();
      const started = spawn(process.execPath, [starter, '--no-open', '--simulated', '--data', folder], {
        stdio: ['ignore', 'pipe', 'inherit'],
      });
      try {
        const link = await linkFrom(started);
        const addressS = (performance.now() - from) / 1000;
        await page.goto(link);
        // looked for at every frame; a locator looks again after half a second only
        await page.waitForFunction(() => document.querySelector('.rows .figure:not(.off)') !== null);
        return { seconds: (performance.now() - from) / 1000, addressS };
      } finally {
        await page.close();
        const ended = new Promise((done) => started.once('close', done));
        started.kill('SIGTERM');
        await ended;
        rmSync(folder, { recursive: true, force: true });
      }
    });
    const addressS = median(shown.map((one) => one.addressS)).toFixed(2);
    report('started to the first value on screen', medianSeconds(shown), 's', `without npm; address after ${addressS} s`, WINDOW_ROUNDS);
  } finally {
    await browser.close();
  }
}

/** The window's address, as the start says it. */
function linkFrom(started: ChildProcessByStdio<null, Readable, null>): Promise<string> {
  return new Promise((done, fail) => {
    let said = '';
    started.stdout.on('data', (chunk: Buffer) => {
      said += chunk.toString();
      const found = /http:\/\/127\.0\.0\.1:\d+\/#code=[\w-]+/.exec(said);
      if (found !== null) done(found[0]);
    });
    started.once('close', (code) => fail(new Error(`npm start ended with ${String(code)}: ${said}`)));
  });
}
