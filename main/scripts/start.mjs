// npm start: installs and builds what is missing, chooses the host, runs it. Node built-ins only until everything is installed.
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { endWithUs, runChild } from './child.mjs';
import { electronProgram, failedLately, fetchElectron } from './electron-runtime.mjs';
import { installIfMissing, nodeComplaint, root } from './install.mjs';

const say = (text) => process.stdout.write(`${text}\n`);
process.stdout.on('error', () => undefined);

const own = new Set(['--browser', '--electron']);
const args = process.argv.slice(2);
const wants = (name) => args.includes(name);
const hostArgs = args.filter((arg) => !own.has(arg));

async function main() {
  const complaint = nodeComplaint();
  if (complaint !== undefined) return give(complaint);
  endWithUs();
  if (!(await installIfMissing(say))) return 1;
  if (!(await build())) return 1;

  const choice = wants('--help') ? { why: '' } : await chooseHost();
  if (choice.electron !== undefined) {
    say(`Flueside starts in its own window (${choice.why}).`);
    const startedMs = Date.now();
    const sandbox = process.platform === 'linux' && process.getuid() === 0 ? ['--no-sandbox'] : [];
    const { code } = await runChild(choice.electron, [...sandbox, root, ...hostArgs], { cwd: root, ipc: true });
    if (code === 0 || Date.now() - startedMs > 10_000) return code;
    choice.why = `Electron ended with ${code} at once`;
  }
  const why = choice.why === '' ? [] : ['--why', choice.why];
  const { code } = await runChild(process.execPath, [join(root, 'dist', 'main', 'node.mjs'), ...hostArgs, ...why], {
    cwd: root,
    ipc: true,
  });
  return code;
}

function give(text) {
  process.stderr.write(`${text}\n`);
  return 1;
}

async function build() {
  const first = !existsSync(join(root, 'dist', 'renderer', 'index.html'));
  if (first) say('Building ...');
  try {
    const { ensureMain, ensureRenderer } = await import('./build-output.mjs');
    await ensureMain();
    await ensureRenderer();
    return true;
  } catch (failure) {
    give(`Building failed: ${failure instanceof Error ? failure.message : String(failure)}`);
    return false;
  }
}

/** @returns {Promise<{ electron?: string, why: string }>} */
async function chooseHost() {
  if (wants('--browser')) return { why: 'a browser window was asked for' };
  if (wants('--no-open')) return { why: 'no window was asked for' };
  const hasDisplay = process.platform !== 'linux' || Boolean(process.env.DISPLAY) || Boolean(process.env.WAYLAND_DISPLAY);
  if (!hasDisplay) return { why: 'no display here, so neither Electron nor a browser window' };
  const present = electronProgram();
  if (present !== undefined) return { electron: present, why: 'Electron is here' };
  const failure = wants('--electron') ? undefined : failedLately();
  if (failure !== undefined) return { why: `${failure}; "npm start -- --electron" tries again` };
  say('Fetching the Electron runtime, once (about 110 MB) ...');
  const why = await fetchElectron({ limitMs: wants('--electron') ? 600_000 : 60_000 });
  const fetched = electronProgram();
  return fetched === undefined
    ? { why: `no Electron runtime: ${why ?? 'it is incomplete'}` }
    : { electron: fetched, why: 'Electron was fetched' };
}

process.exit(await main());
