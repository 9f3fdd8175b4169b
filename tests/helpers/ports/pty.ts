/** An instrument on a pseudo-terminal, in a Python process of its own. POSIX only. */
import { spawn, spawnSync, type ChildProcess } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { OpenPort } from '../../../main/source/serial-port.ts';
import type { LedInstrument } from '../host/led-time.ts';

/** Why tests with a pseudo-terminal cannot run here; undefined when they can. */
export const noPty: string | undefined =
  process.platform === 'win32'
    ? 'Windows has no pseudo-terminals'
    : spawnSync('python3', ['-c', 'import pty']).status === 0
      ? undefined
      : 'python3 is not there';
if (noPty !== undefined) console.warn(`Tests with a pseudo-terminal are skipped: ${noPty}.`);

/** A real port that tells how many bytes have come and how many questions have gone through it. */
export function watchedPort(open: OpenPort) {
  let bytes = 0;
  let questions = 0;
  const openPort: OpenPort = async (path, settings) => {
    const opened = await open(path, settings);
    if (!opened.ok) return opened;
    const port = opened.value;
    return {
      ok: true,
      value: {
        onBytes: (listener) =>
          port.onBytes((came) => {
            bytes += came.length;
            listener(came);
          }),
        onClose: (listener) => port.onClose(listener),
        async write(asked) {
          questions += 1;
          const done = await port.write(asked);
          if (!done.ok) questions -= 1;
          return done;
        },
        close: () => port.close(),
      },
    };
  };
  return { openPort, bytes: () => bytes, questions: () => questions };
}

/**
 * Leads the time of an instrument and of a host in this very process, until something is so. What one of them sends has come to the other
 * before time goes on, however late the system hands it over.
 */
export function leader(
  pty: Pty,
  port: Pick<ReturnType<typeof watchedPort>, 'bytes' | 'questions'>,
  clock: { advance(ms: number): Promise<void> },
  stepMs: number,
) {
  let ms = 0;
  const [lost, lostQuestions] = [{ count: 0 }, { count: 0 }];
  /** what was sent while the port was unplugged never comes */
  const come = async (sent: () => number, taken: () => number, gone: { count: number }): Promise<void> => {
    for (const endMs = performance.now() + 2000; taken() < sent() - gone.count && performance.now() < endMs;)
      await new Promise((resolve) => setTimeout(resolve, 1));
    gone.count = Math.max(0, sent() - taken());
  };
  return async (isSo: () => boolean, mostMs = 120_000): Promise<void> => {
    for (const endMs = ms + mostMs; !isSo(); await clock.advance(stepMs)) {
      if (ms >= endMs) throw new Error(`still not so after ${mostMs / 1000} s: ${isSo.toString()}`);
      ms += stepMs;
      await come(port.questions, () => pty.received(), lostQuestions);
      await pty.goTo(ms);
      await come(() => pty.sent(), port.bytes, lost);
    }
  };
}

export interface Pty extends LedInstrument {
  /** the port's name */
  readonly path: string;
  /** @returns the next answer of the instrument that begins with `expected` */
  ask(command: string, expected?: string): Promise<string>;
  readonly process: ChildProcess;
  /** lines that came from the other side */
  received(): number;
  /** bytes handed over up to the last `goTo` */
  sent(): number;
  /** from the first time on its time is led: what it does by itself falls into this */
  goTo(ms: number): Promise<void>;
  stop(): Promise<void>;
}

export async function startPty(script = 'pty-instrument.py', args: readonly string[] = []): Promise<Pty> {
  const folder = mkdtempSync(join(tmpdir(), 'flueside-pty-'));
  const path = join(folder, 'port');
  // programs are bundled elsewhere, so that the script is looked up from the project's root there
  const here = fileURLToPath(new URL(`./${script}`, import.meta.url));
  const file = here.includes('dist') ? join(process.cwd(), 'tests', 'helpers', 'ports', script) : here;
  const child = spawn('python3', [file, path, ...args], { stdio: ['pipe', 'pipe', 'inherit'] });
  let text = '';
  let listeners: (() => void)[] = [];
  let ledToMs: number | undefined;
  let received = 0;
  let sent = 0;
  let part = '';
  const going: (() => void)[] = [];
  child.once('exit', () => going.splice(0).forEach((resolve) => resolve()));
  child.stdout.on('data', (piece: Buffer) => {
    text += piece.toString();
    part += piece.toString();
    const lines = part.split('\n');
    part = lines.pop() ?? '';
    received += lines.filter((line) => line.startsWith('received ')).length;
    // these answers are nobody else's business
    for (let went = /^went (\d+)\n/m.exec(text); went !== null; went = /^went (\d+)\n/m.exec(text)) {
      text = text.replace(went[0], '');
      sent = Number(went[1]);
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
    received: () => received,
    sent: () => sent,
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
