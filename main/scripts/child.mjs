// Children are started as this very Node (or a program by path), never through a shell, and never outlive us.
import { spawn } from 'node:child_process';
import { constants, setPriority } from 'node:os';
import { clearInterval, setInterval } from 'node:timers';

const running = new Set();
const killGraceMs = 5000;

/** Ends every child that is still running; asked once in a friendly way, then not. */
export function endChildren(signal = 'SIGTERM') {
  for (const child of running) child.kill(signal);
  setTimeout(() => {
    for (const child of running) child.kill('SIGKILL');
  }, killGraceMs).unref();
}

/**
 * Runs a program to its end.
 *
 * @param options.behind it works with what others leave of the processors
 * @param options.stillWorks called every second with the milliseconds so far; a text it returns is why the child is killed
 * @returns {Promise<{ code: number, output: string, killed?: string }>} `output` only with `capture`
 */
export function runChild(program, args, { cwd, env, capture = false, behind = false, stillWorks, ipc = false, onOutput } = {}) {
  return new Promise((resolve) => {
    const pipe = capture ? 'pipe' : 'inherit';
    const child = spawn(program, args, {
      cwd,
      env: env ?? process.env,
      stdio: ipc ? ['inherit', pipe, pipe, 'ipc'] : ['ignore', pipe, pipe],
    });
    running.add(child);
    if (behind) goBehind(child);
    let output = '';
    let killed;
    const startedMs = Date.now();
    const take = (chunk) => {
      output = (output + chunk).slice(-200_000);
      onOutput?.(String(chunk));
    };
    child.stdout?.on('data', take);
    child.stderr?.on('data', take);
    const watch = setInterval(() => {
      killed ??= stillWorks?.(Date.now() - startedMs);
      if (killed !== undefined) child.kill('SIGKILL');
    }, 500);
    const end = (code) => {
      clearInterval(watch);
      running.delete(child);
      resolve({ code, output, ...(killed === undefined ? {} : { killed }) });
    };
    child.once('error', (error) => {
      output += error.message;
      end(1);
    });
    child.once('close', (code, signal) => end(code ?? (signal === 'SIGINT' ? 130 : 1)));
  });
}

/** Where the processors are wanted by more than there are, it gets a tenth of what others get. */
function goBehind({ pid }) {
  if (pid === undefined) return;
  try {
    setPriority(pid, constants.priority.PRIORITY_BELOW_NORMAL);
  } catch {
    // it has ended, or may not be moved: then it takes its share as it is
  }
}

/** Ctrl-C, a closed terminal, or a killed parent: everything ends. Hosts end by themselves in an orderly way; we wait for them. */
export function endWithUs() {
  let asked = false;
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) {
    process.on(signal, () => {
      if (running.size === 0) process.exit(130);
      // a terminal has sent SIGINT to the children too; sent again at once it would count as "now!"
      if (signal !== 'SIGINT' || asked || !process.stdin.isTTY) endChildren(signal);
      asked = true;
    });
  }
  const parent = process.ppid;
  setInterval(() => {
    if (process.ppid !== parent) endChildren();
  }, 1000).unref();
}
