/** An instrument on a pseudo-terminal, in a Python process of its own. POSIX only. */
import { spawn, spawnSync, type ChildProcess } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { LedInstrument } from './led-time.ts';

/** Why tests with a pseudo-terminal cannot run here; undefined when they can. */
export const noPty: string | undefined =
  process.platform === 'win32'
    ? 'Windows has no pseudo-terminals'
    : spawnSync('python3', ['-c', 'import pty']).status === 0
      ? undefined
      : 'python3 is not there';
if (noPty !== undefined) console.warn(`Tests with a pseudo-terminal are skipped: ${noPty}.`);

/** Leads the time of an instrument and of a host in this very process, until something is so. */
export function leader(pty: Pty, clock: { advance(ms: number): Promise<void> }, stepMs: number) {
  let ms = 0;
  return async (isSo: () => boolean, mostMs = 120_000): Promise<void> => {
    for (const endMs = ms + mostMs; !isSo(); await clock.advance(stepMs)) {
      if (ms >= endMs) throw new Error(`still not so after ${mostMs / 1000} s: ${isSo.toString()}`);
      ms += stepMs;
      await pty.goTo(ms);
    }
  };
}

export interface Pty extends LedInstrument {
  /** the port's name */
  readonly path: string;
  /** @returns the next answer of the instrument that begins with `expected` */
  ask(command: string, expected?: string): Promise<string>;
  readonly process: ChildProcess;
  /** from the first time on its time is led: what it does by itself falls into this */
  goTo(ms: number): Promise<void>;
  stop(): Promise<void>;
}

export async function startPty(script = 'pty-instrument.py', args: readonly string[] = []): Promise<Pty> {
  const folder = mkdtempSync(join(tmpdir(), 'flueside-pty-'));
  const path = join(folder, 'port');
  // programs are bundled elsewhere, so that the script is looked up from the project's root there
  const here = fileURLToPath(new URL(`./${script}`, import.meta.url));
  const file = here.includes('dist') ? join(process.cwd(), 'tests', 'helpers', script) : here;
  const child = spawn('python3', [file, path, ...args], { stdio: ['pipe', 'pipe', 'inherit'] });
  let text = '';
  let listeners: (() => void)[] = [];
  let ledToMs: number | undefined;
  const going: (() => void)[] = [];
  child.once('exit', () => going.splice(0).forEach((resolve) => resolve()));
  child.stdout.on('data', (piece: Buffer) => {
    text += piece.toString();
    // these answers are nobody else's business
    while (/^went\n/m.test(text)) {
      text = text.replace(/^went\n/m, '');
      going.shift()?.();
    }
    const told = listeners;
    listeners = [];
    for (const listener of told) listener();
  });
  const answer = async (expected: string): Promise<string> => {
    for (;;) {
      const lines = text.split('\n');
      const at = lines.findIndex((line, index) => index < lines.length - 1 && line.startsWith(expected));
      if (at >= 0) {
        text = lines.slice(at + 1).join('\n');
        return lines[at] as string;
      }
      if (child.exitCode !== null) throw new Error(`the instrument ended; it had said: ${text}`);
      await new Promise<void>((resolve) => listeners.push(resolve));
    }
  };
  if (script === 'pty-instrument.py') await answer('ready');
  return {
    path,
    process: child,
    ask(command, expected = command.split(' ')[0] ?? '') {
      child.stdin.write(`${command}\n`);
      return answer(expected);
    },
    async goTo(ms) {
      if (child.exitCode !== null || child.signalCode !== null) return;
      if (ledToMs === undefined) child.stdin.write('led\n');
      const went = new Promise<void>((resolve) => going.push(resolve));
      child.stdin.write(`go ${ms - (ledToMs ?? 0)}\n`);
      ledToMs = ms;
      await went;
    },
    async stop() {
      if (child.exitCode === null && child.signalCode === null) {
        const ended = new Promise((resolve) => child.once('exit', resolve));
        child.stdin.end();
        child.kill('SIGTERM');
        await ended;
      }
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
