// npm test: everything that must hold, in one go. The last line is the plain count. Node built-ins only until everything is installed.
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { endWithUs, runChild } from './child.mjs';
import { addCounts, lastLine } from './count-results.mjs';
import { electronProgram } from './electron-runtime.mjs';
import { installIfMissing, nodeComplaint, root } from './install.mjs';

const say = (text) => process.stdout.write(`${text}\n`);
const counts = [];
const failedParts = [];

/** Runs one part and says how it went. A part that counts nothing itself is one failure when it fails. @returns true when it held */
async function part(name, run) {
  const startedMs = Date.now();
  const result = await run().catch((bug) => ({ failed: 1, output: String(bug?.stack ?? bug) }));
  const { passed = 0, failed = 0, skipped = 0, broken = [], output = '', skippedWhy } = result;
  counts.push({ passed, failed, skipped });
  const seconds = ((Date.now() - startedMs) / 1000).toFixed(1);
  const counted = passed + skipped > 0 ? ` (${lastLine({ passed, failed, skipped })})` : '';
  say(`${name}: ${skippedWhy !== undefined ? `skipped, ${skippedWhy}` : `${failed === 0 ? 'ok' : 'FAILED'}${counted}, ${seconds} s`}`);
  if (failed > 0) {
    failedParts.push(name);
    say([output.trim(), ...broken].filter((text) => text !== '').join('\n'));
  }
  return failed === 0;
}

/** Two at a time: each of these keeps one core busy. */
async function twoAtATime(parts) {
  const waiting = [...parts];
  const lane = async () => {
    for (let next = waiting.shift(); next !== undefined; next = waiting.shift()) await part(...next);
  };
  await Promise.all([lane(), lane()]);
}

/** A tool of node_modules that passes or fails as a whole. */
const tool = (path, args) => async () => {
  const { code, output, killed } = await runChild(process.execPath, [join(root, 'node_modules', ...path.split('/')), ...args], {
    cwd: root,
    capture: true,
    stillWorks: (ms) => (ms > 15 * 60_000 ? 'not done after 15 minutes' : undefined),
  });
  return { failed: code === 0 ? 0 : 1, output: killed ?? output };
};

async function main() {
  const complaint = nodeComplaint();
  if (complaint !== undefined) throw new Error(complaint);
  endWithUs();
  if (!(await installIfMissing(say))) throw new Error('Nothing was tested.');

  say('Checking lint, types and format ...');
  await twoAtATime([
    ['lint', tool('eslint/bin/eslint.js', ['.', '--max-warnings', '0'])],
    ...['tests', 'renderer', 'main', 'shared'].map((folder) => [`types of ${folder}`, tool('typescript/bin/tsc', ['-p', folder])]),
    ['format', tool('prettier/bin/prettier.cjs', ['--check', '--log-level', 'warn', '.'])],
  ]);
  const { ensureMain, ensureRenderer } = await import('./build-output.mjs');
  const built = await part('build', async () => {
    await ensureMain();
    await ensureRenderer();
    return {};
  });
  const { runVitest } = await import('./run-vitest.mjs');
  say('Running the unit, property, golden and architecture tests ...');
  await part('unit, property, golden, architecture', () => runVitest('unit', join('tests', 'vitest.config.ts')));
  say('Running the journeys ...');
  await part('journeys in Chromium', async () => {
    if (!built) return { failed: 1, output: 'The app was not built.' };
    const { runJourneys } = await import('./journeys.mjs');
    return runJourneys([]);
  });
  if (electronProgram() === undefined) say('journeys in Electron: skipped, no Electron runtime here');
}

await main().catch((failure) => {
  counts.push({ passed: 0, failed: 1, skipped: 0 });
  say(String(failure?.message ?? failure));
});
if (failedParts.length > 0) say(`\nFailed: ${failedParts.join('; ')}`);
if (!existsSync(join(root, 'node_modules'))) say('Nothing is installed.');
const total = addCounts(counts);
// what is still in the pipe goes out first
process.stdout.write(`${lastLine(total)}\n`, () => process.exit(total.failed === 0 ? 0 : 1));
