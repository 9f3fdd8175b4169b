// Is Electron's runtime here, and if not, can it be fetched? Its package is never required: that would start a download of its own.
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { root } from './install.mjs';
import { runChild } from './child.mjs';

const packageFolder = join(root, 'node_modules', 'electron');
const memoryFile = join(root, 'node_modules', '.flueside-electron.json');
const dayMs = 24 * 3600_000;

/** @returns {string | undefined} the program's path, when it is complete and of the version that package.json names */
export function electronProgram() {
  try {
    const name = existsSync(join(packageFolder, 'path.txt')) ? readFileSync(join(packageFolder, 'path.txt'), 'utf8') : undefined;
    const elsewhere = process.env.ELECTRON_OVERRIDE_DIST_PATH;
    if (elsewhere) return firstExisting(join(elsewhere, name ?? (process.platform === 'win32' ? 'electron.exe' : 'electron')));
    const wanted = JSON.parse(readFileSync(join(packageFolder, 'package.json'), 'utf8')).version;
    const found = readFileSync(join(packageFolder, 'dist', 'version'), 'utf8')
      .trim()
      .replace(/^v/, '');
    return name === undefined || found !== wanted ? undefined : firstExisting(join(packageFolder, 'dist', name));
  } catch {
    return undefined;
  }
}
const firstExisting = (path) => (existsSync(path) ? path : undefined);

/** @returns {string | undefined} why it is not tried now: it failed within the last 24 hours */
export function failedLately(nowMs = Date.now(), memory = memoryFile) {
  try {
    const { failedMs, why } = JSON.parse(readFileSync(memory, 'utf8'));
    const hours = (nowMs - failedMs) / 3600_000;
    return hours >= 0 && nowMs - failedMs < dayMs
      ? `fetching Electron failed ${hours < 1 ? 'less than an hour' : `${Math.floor(hours)} h`} ago: ${why}`
      : undefined;
  } catch {
    return undefined;
  }
}

/** @returns {string | undefined} the proxy that the download goes through, without a name or password in it */
export function proxyInUse(env = process.env) {
  const address = env.HTTPS_PROXY || env.https_proxy || env.HTTP_PROXY || env.http_proxy;
  if (!address) return undefined;
  try {
    return new URL(address).host || undefined;
  } catch {
    return undefined;
  }
}

/**
 * Runs Electron's own installer, which is given up when nothing has arrived for 30 s or after ten minutes: 110 MB at 1.5 Mbit/s.
 *
 * @param options.say told every ten seconds how much has arrived
 * @returns {Promise<string | undefined>} why it failed
 */
export async function fetchElectron({
  limitMs = 600_000,
  silenceMs = 30_000,
  sayEveryMs = 10_000,
  say = () => undefined,
  installer = join(packageFolder, 'install.js'),
  memory = memoryFile,
}) {
  // the download lands in a temporary folder of ours, so that its growth can be seen
  const temporary = join(root, 'node_modules', '.flueside-electron-download');
  rmSync(temporary, { recursive: true, force: true });
  mkdirSync(temporary, { recursive: true });
  const before = folderBytes(join(packageFolder, 'dist'));
  let lastBytes = -1;
  let lastGrowthMs = 0;
  let saidMs = 0;
  const stillWorks = (ms) => {
    const bytes = folderBytes(temporary) + folderBytes(join(packageFolder, 'dist'));
    if (bytes !== lastBytes) [lastBytes, lastGrowthMs] = [bytes, ms];
    if (ms - saidMs >= sayEveryMs) {
      saidMs = ms;
      say(`  ${Math.max(0, Math.round((bytes - before) / 1e6))} MB after ${Math.round(ms / 1000)} s`);
    }
    if (ms > limitMs) return `not done after ${Math.round(limitMs / 1000)} s`;
    return ms - lastGrowthMs > silenceMs ? `nothing arrived for ${Math.round(silenceMs / 1000)} s` : undefined;
  };
  // Electron's downloader looks at the usual proxy variables only when it is told to
  const proxy = proxyInUse() === undefined ? {} : { ELECTRON_GET_USE_PROXY: 'true' };
  const { ELECTRON_RUN_AS_NODE: _, ...inherited } = process.env;
  const env = { ...inherited, ...proxy, TMPDIR: temporary, TEMP: temporary, TMP: temporary };
  const { code, output, killed } = await runChild(process.execPath, [installer], { cwd: root, env, capture: true, stillWorks });
  rmSync(temporary, { recursive: true, force: true });
  if (code === 0 && electronProgram() !== undefined) {
    rmSync(memory, { force: true });
    return undefined;
  }
  const why = killed ?? firstSentence(output);
  writeFileSync(memory, JSON.stringify({ failedMs: Date.now(), why }));
  return why;
}

const firstSentence = (output) =>
  (output.split('\n').find((line) => line.trim() !== '') ?? 'no reason given')
    .trim()
    .replace(/^\w*Error: /, '')
    .slice(0, 120);

function folderBytes(folder) {
  try {
    return readdirSync(folder, { withFileTypes: true }).reduce((sum, entry) => {
      const path = join(folder, entry.name);
      return sum + (entry.isDirectory() ? folderBytes(path) : statSync(path).size);
    }, 0);
  } catch {
    return 0;
  }
}
