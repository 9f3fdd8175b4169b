// npm test: everything that must hold, in one go. The last line is the plain count. Node built-ins only until everything is installed.
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { endWithUs } from './child.mjs';
import { addCounts, lastLine } from './count-results.mjs';
import { electronProgram } from './electron-runtime.mjs';
import { installIfMissing, nodeComplaint, root } from './install.mjs';
import { checks, tool } from './lint.mjs';

const say = (text) => process.stdout.write(`${text}\n`);
const counts = [];
const failedParts = [];
const tests = [];
/** tests are timed from here: how long installing takes hangs on the connection, and is said beside it */
let startedMs = Date.now();
let installed = '';

/** Runs one part and says how it went. A part that counts nothing itself is one failure when it fails. @returns true when it held */
async function part(name, run) {
  const startedMs = Date.now();
  const result = await run().catch((bug) => ({ failed: 1, output: String(bug?.stack ?? bug) }));
  const { passed = 0, failed = 0, skipped = 0, broken = [], output = '', skippedWhy } = result;
  tests.push(...(result.tests ?? []));
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

/** One after the other, with what others leave of the processors. */
async function allChecks() {
  for (const [name, path, args] of checks) await part(name, tool(path, args));
}

async function main() {
  const complaint = nodeComplaint();
  if (complaint !== undefined) throw new Error(complaint);
  endWithUs();
  if (!(await installIfMissing(say))) throw new Error('Nothing was tested.');
  const readyMs = Date.now();
  installed = `; installing before it: ${Math.round((readyMs - startedMs) / 1000)} s`;
  startedMs = readyMs;

  const seed = process.env.FLUESIDE_TEST_SEED ?? String(Date.now() % 1_000_000);
  say(`Order of the tests: seed ${seed} (FLUESIDE_TEST_SEED repeats it).`);
  const order = [`--sequence.shuffle.files`, `--sequence.seed=${seed}`];
  const { ensureMain, ensureRenderer } = await import('./build-output.mjs');
  const { runVitest } = await import('./run-vitest.mjs');
  const { runJourneys } = await import('./journeys.mjs');
  say('Building, then the journeys, then the unit, property, golden and architecture tests; beside them the checks ...');
  const checked = allChecks();
  const built = await part('build', async () => {
    await ensureMain();
    await ensureRenderer();
    return {};
  });
  // a page that is open draws as long as it is open: beside other work journeys take longer, and by that more of the processors
  await part('journeys in Chromium', () => (built ? runJourneys(order) : Promise.resolve({ failed: 1, output: 'The app was not built.' })));
  await part('unit, property, golden, architecture', () => runVitest('unit', join('tests', 'vitest.config.ts'), order));
  await checked;
  if (electronProgram() === undefined) say('journeys in Electron: skipped, no Electron runtime here');
}

await main().catch((failure) => {
  counts.push({ passed: 0, failed: 1, skipped: 0 });
  say(String(failure?.message ?? failure));
});
if (failedParts.length > 0) say(`\nFailed: ${failedParts.join('; ')}`);
if (!existsSync(join(root, 'node_modules'))) say('Nothing is installed.');
const slowest = tests.sort((a, b) => b.seconds - a.seconds).slice(0, 10);
if (slowest.length > 0) say('\nThe ten slowest:');
for (const { seconds, file, name } of slowest) say(`  ${seconds.toFixed(1).padStart(5)} s  ${file}: ${name}`);
say(`All of it: ${((Date.now() - startedMs) / 60_000).toFixed(1)} min${installed}`);
const total = addCounts(counts);
// what is still in the pipe goes out first
process.stdout.write(`${lastLine(total)}\n`, () => process.exit(total.failed === 0 ? 0 : 1));
