/** Starts the built app as host 2 in a process of its own, with a fresh data folder, for the journeys. */
import { spawn, type ChildProcess } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { LED_BY_PARENT } from '../../../main/led-clock.ts';
import type { LedTime } from './led-time.ts';

export type AppProcessOptions = {
  /** 'none' (the start screen), 'simulated', 'typed', or a serial port's name; 'newcomer' leaves the option out */
  readonly source?: string;
  readonly speed?: number;
  /** leads the host's time */
  readonly time?: LedTime;
  /** go on in the folder of an earlier start */
  readonly dataFolder?: string;
  readonly extraArgs?: readonly string[];
  readonly env?: Readonly<Record<string, string>>;
};

export type AppProcess = {
  /** opens one window as operator, once */
  readonly link: string;
  /** `http://127.0.0.1:PORT/` */
  readonly address: string;
  readonly dataFolder: string;
  readonly process: ChildProcess;
  /** everything printed so far */
  output(): string;
  /** waits for a printed text */
  printed(pattern: RegExp, withinMs?: number): Promise<RegExpExecArray>;
  /** an orderly end; removes the data folder unless it was handed in or `keep` */
  stop(options?: { keep?: boolean }): Promise<number | null>;
  /** kill -9; the data folder stays */
  kill(): Promise<void>;
};

const builtHost = resolve('dist/main/node.mjs');

export async function startAppProcess({
  source = 'none',
  speed = 1,
  time,
  dataFolder,
  extraArgs = [],
  env = {},
}: AppProcessOptions = {}): Promise<AppProcess> {
  if (!existsSync(builtHost)) throw new Error('The app is not built: npm run build');
  const folder = dataFolder ?? mkdtempSync(join(tmpdir(), 'flueside-'));
  const sourceArgs = source === 'newcomer' ? [] : ['--source', source];
  const args = [builtHost, '--no-open', '--data', folder, '--speed', String(speed), ...sourceArgs, ...extraArgs];
  const led = time === undefined ? {} : { [LED_BY_PARENT]: '1' };
  const child = spawn(process.execPath, args, {
    stdio: ['ignore', 'pipe', 'pipe', ...(time === undefined ? [] : ['ipc' as const])],
    env: { ...process.env, ...led, ...env },
  });
  time?.lead(child);
  let output = '';
  const waiters = new Set<() => void>();
  const take = (chunk: Buffer): void => {
    output += chunk.toString();
    for (const waiter of [...waiters]) waiter();
  };
  child.stdout?.on('data', take);
  child.stderr?.on('data', take);
  const ended = new Promise<number | null>((done) => child.once('close', (code) => done(code)));

  const printed = (pattern: RegExp, withinMs = 20_000): Promise<RegExpExecArray> =>
    new Promise((done, fail) => {
      const finish = (act: () => void): void => {
        clearTimeout(timer);
        waiters.delete(look);
        act();
      };
      const look = (): void => {
        const found = pattern.exec(output);
        if (found !== null) finish(() => done(found));
      };
      const timer = setTimeout(
        () => finish(() => fail(new Error(`${String(pattern)} was not printed within ${withinMs} ms:\n${output}`))),
        withinMs,
      );
      void ended.then((code) =>
        finish(() => fail(new Error(`the app ended with ${String(code)} before it printed ${String(pattern)}:\n${output}`))),
      );
      waiters.add(look);
      look();
    });

  const [link, address] = await printed(/(http:\/\/127\.0\.0\.1:\d+\/)#code=[\w-]+/);
  return {
    link,
    address: address ?? '',
    dataFolder: folder,
    process: child,
    output: () => output,
    printed,
    async stop({ keep = false } = {}) {
      child.kill('SIGTERM');
      const code = await ended;
      if (dataFolder === undefined && !keep) rmSync(folder, { recursive: true, force: true });
      return code;
    },
    async kill() {
      child.kill('SIGKILL');
      await ended;
    },
  };
}
