// npm start: installs and builds what is missing, chooses the host, runs it. Node built-ins only until everything is installed.
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { endWithUs, runChild } from './child.mjs';
import { electronProgram, failedLately, fetchElectron, proxyInUse } from './electron-runtime.mjs';
import { installIfMissing, nodeComplaint, root } from './install.mjs';
import { sandboxTrouble } from './linux-sandbox.mjs';

const say = (text) => process.stdout.write(`${text}\n`);
process.stdout.on('error', () => undefined);

// room for what was made just now: the usual 16 MB fill twice over before anything is thrown away, and the host makes little
const memoryFlags = ['--max-semi-space-size=4'];
// what V8's threads took while they compiled is given back once it is free: left alone, glibc keeps 18 MB of it (other systems do not read the name)
const hostEnvironment = { MALLOC_TRIM_THRESHOLD_: '131072', ...process.env };
const EXIT_USAGE = 2;
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
    const isRoot = process.platform === 'linux' && process.getuid() === 0;
    say(`Flueside starts in its own window (${choice.why}${isRoot ? '; without a sandbox, because you are root' : ''}).`);
    const startedMs = Date.now();
    const { code } = await runChild(choice.electron, electronWords(isRoot), { cwd: root, env: electronEnvironment(), ipc: true });
    // 2: an option that is refused; the browser host would refuse or misread it as well
    if (code === 0 || code === EXIT_USAGE || Date.now() - startedMs > 10_000) return code;
    choice.why = `Electron ended with ${code} at once`;
  }
  const why = choice.why === '' ? [] : ['--why', choice.why];
  const { code } = await runChild(process.execPath, [...memoryFlags, join(root, 'dist', 'main', 'node.mjs'), ...hostArgs, ...why], {
    cwd: root,
    env: hostEnvironment,
    ipc: true,
  });
  return code;
}

/** Behind the marker everything is ours (main/shell/shell-arguments.ts), so that a misspelt option can be refused. */
function electronWords(isRoot) {
  return [...(isRoot ? ['--no-sandbox'] : []), root, '--own-options-follow', ...hostArgs];
}

/** Inherited from an editor or another app, it would make Electron a plain Node without a window. */
function electronEnvironment() {
  const { ELECTRON_RUN_AS_NODE: _, ...env } = process.env;
  return env;
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
  const forBrowser = ['--port', '--linger'].find((name) => hostArgs.some((arg) => arg === name || arg.startsWith(`${name}=`)));
  if (forBrowser !== undefined) return { why: `${forBrowser} is for a browser window` };
  const hasDisplay = process.platform !== 'linux' || Boolean(process.env.DISPLAY) || Boolean(process.env.WAYLAND_DISPLAY);
  if (!hasDisplay) return { why: 'no display here, so neither Electron nor a browser window' };
  const present = electronProgram();
  if (present !== undefined) return withSandbox(present, 'Electron is here');
  const failure = wants('--electron') ? undefined : failedLately();
  if (failure !== undefined) return { why: `${failure}; "npm start -- --electron" tries again` };
  const proxy = proxyInUse();
  say(`Fetching the Electron runtime, once (about 110 MB${proxy === undefined ? '' : `, through the proxy ${proxy}`}) ...`);
  const why = await fetchElectron({ say });
  const fetched = electronProgram();
  return fetched === undefined
    ? { why: `no Electron runtime: ${why ?? 'it is incomplete'}` }
    : withSandbox(fetched, 'Electron was fetched');
}

/** The desktop app is never started without its sandbox behind the person's back: said in words, and a browser window meanwhile. */
function withSandbox(electron, why) {
  const trouble = sandboxTrouble(electron);
  if (trouble === undefined) return { electron, why };
  say(`The desktop window needs one command on this computer, once: ${trouble.why}. In a terminal:\n  ${trouble.command}`);
  return { why: 'the desktop window cannot be protected yet' };
}

process.exit(await main());
