// Installs what package-lock.json names, when it is not there yet. Node built-ins only: it runs before node_modules exists.
import { existsSync, readFileSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { runChild } from './child.mjs';

export const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..');

/** Everything that the lockfile asks for on every machine is there in that version. */
export function isInstalled() {
  const read = (path) => JSON.parse(readFileSync(join(root, path), 'utf8')).packages;
  try {
    const wanted = read('package-lock.json');
    const found = read('node_modules/.package-lock.json');
    return Object.entries(wanted).every(
      ([path, { version, optional, devOptional }]) => path === '' || optional || devOptional || found[path]?.version === version,
    );
  } catch {
    return false;
  }
}

/** npm's own program: the one that runs us, else the one beside this Node. */
function npmProgram() {
  const own = process.env.npm_execpath;
  const beside = dirname(process.execPath);
  const candidates = [
    own,
    join(beside, 'node_modules', 'npm', 'bin', 'npm-cli.js'),
    join(beside, '..', 'lib', 'node_modules', 'npm', 'bin', 'npm-cli.js'),
  ];
  return candidates.find((path) => path !== undefined && basename(path) === 'npm-cli.js' && existsSync(path));
}

const installLimitMs = 15 * 60_000;

/** @returns {Promise<boolean>} */
export async function installIfMissing(say) {
  if (isInstalled()) return true;
  const npm = npmProgram();
  if (npm === undefined) {
    say('npm was not found. Run "npm ci" in this folder once, then start again.');
    return false;
  }
  say('Installing what Flueside needs (half a minute with a good connection) ...');
  const startedMs = Date.now();
  let saidMs = 0;
  const { code, output, killed } = await runChild(process.execPath, [npm, 'ci', '--no-audit', '--no-fund', '--loglevel=error'], {
    cwd: root,
    capture: true,
    stillWorks(ms) {
      if (ms - saidMs >= 15_000) {
        saidMs = ms;
        say(`  still installing (${Math.round(ms / 1000)} s)`);
      }
      return ms > installLimitMs ? 'it took longer than 15 minutes' : undefined;
    },
  });
  if (code === 0) {
    say(`Installed in ${Math.round((Date.now() - startedMs) / 1000)} s.`);
    return true;
  }
  say(`Installing failed${killed === undefined ? '' : ` (${killed})`}:\n${output.trim().split('\n').slice(-15).join('\n')}`);
  return false;
}

/** Node 20.19+ or 22.12+ (what the build tools ask for). @returns {string | undefined} what is wrong */
export function nodeComplaint(version = process.versions.node) {
  const [major, minor] = version.split('.').map(Number);
  const fits = (major === 20 && minor >= 19) || (major === 22 && minor >= 12) || major > 22;
  return fits ? undefined : `Flueside needs Node 20.19 or newer, or 22.12 or newer; this is ${version}.`;
}
