// npm run shell [-- --runtime PATH] [TEST NAME]: the journeys of tests/e2e/shell in a real Electron. PATH (or FLUESIDE_ELECTRON) names any
// runtime; without it the one that npm start uses. One from before ESM main (Electron 28) gets a CommonJS build made for the test.
import { execFileSync, spawn } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { ensureMain, ensureRenderer, root } from './build-output.mjs';
import { endWithUs } from './child.mjs';
import { lastLine } from './count-results.mjs';
import { electronProgram } from './electron-runtime.mjs';
import { runVitest } from './run-vitest.mjs';

const args = process.argv.slice(2);
const at = args.indexOf('--runtime');
const asked = at < 0 ? process.env.FLUESIDE_ELECTRON : args.splice(at, 2)[1];
const program = asked || electronProgram();
if (program === undefined || !existsSync(program)) {
  console.error(
    program === undefined ? 'No Electron runtime is here. Name one: npm run shell -- --runtime PATH' : `There is no ${program}.`,
  );
  process.exit(1);
}

endWithUs();
await ensureMain();
await ensureRenderer();
const version = runtimeVersion(program);
const isOld = Number(version.split('.')[0]) < 28;
const { buildCommonJs, runtimeFor } = await import('../../tests/e2e/shell/commonjs-build.mjs');
const runtime = runtimeFor(program, isOld ? await buildCommonJs() : root);
console.log(`Electron ${version}${isOld ? ', with a CommonJS build made for this test' : ''}: ${program}`);
const ends = await ownDisplay();
process.env.FLUESIDE_SHELL_PROGRAM = runtime.program;
process.env.FLUESIDE_SHELL_WORDS = JSON.stringify(runtime.words);
const result = await runVitest('shell', join('tests', 'journeys.config.ts'), ['tests/e2e/shell/', ...args], { show: true });
ends.forEach((end) => end());
console.log(lastLine(result));
process.exit(result.failed === 0 ? 0 : 1);

/** @returns e.g. "45.4.1" */
function runtimeVersion(path) {
  const beside = join(dirname(path), 'version');
  if (existsSync(beside)) return readFileSync(beside, 'utf8').trim().replace(/^v/, '');
  try {
    const env = { ...process.env, ELECTRON_RUN_AS_NODE: '1' };
    return execFileSync(path, ['-p', 'process.versions.electron'], { env, encoding: 'utf8', timeout: 20_000 }).trim();
  } catch {
    return JSON.parse(readFileSync(join(root, 'node_modules', 'electron', 'package.json'), 'utf8')).version;
  }
}

/** Linux without a display: an own virtual one with a window manager, where these are installed. */
async function ownDisplay() {
  if (process.platform !== 'linux' || process.env.DISPLAY || process.env.WAYLAND_DISPLAY) return [];
  const server = spawn('Xvfb', ['-displayfd', '1', '-screen', '0', '1440x900x24', '-nolisten', 'tcp'], {
    stdio: ['ignore', 'pipe', 'ignore'],
  });
  const number = await new Promise((resolve, reject) => {
    server.once('error', () => reject(new Error('No display here, and Xvfb is not installed.')));
    server.once('exit', () => reject(new Error('Xvfb ended at once.')));
    server.stdout.once('data', (text) => resolve(String(text).trim()));
  });
  process.env.DISPLAY = `:${number}`;
  const manager = spawn('openbox', [], { stdio: 'ignore' });
  manager.once('error', () => console.log('openbox is not installed: windows have no frame.'));
  return [() => manager.kill(), () => server.kill()];
}
