/**
 * `npm run crash [ROUNDS]`: 100 kills (-9) at random moments while a port is captured and the records are written.
 * `npm run crash -- store [ROUNDS]`: the same while one visit is edited without a pause; needs no port.
 * `npm run crash -- records [ROUNDS] [restore|backup|import|export]`: the same while backups are made and restored and visits move.
 */
import { pathToFileURL } from 'node:url';
import { join } from 'node:path';
import { noPty } from '../helpers/ports/pty.ts';
import { killRounds } from './kill-rounds.ts';
import { isGoodRecords, recordsKillRounds, recordsWorks } from './records-rounds.ts';
import { storeKillRounds } from './store-rounds.ts';

const isStore = process.argv[2] === 'store';
const isRecords = process.argv[2] === 'records';
const rounds = Number(process.argv[isStore || isRecords ? 3 : 2] ?? 100);
const SEED = 20_260;

// bundled by the very scripts that bundle this program; the path is computed so that they do not bundle each other
const scripts = pathToFileURL(join(process.cwd(), 'main', 'scripts', 'build-output.mjs')).href;
if (isRecords) {
  const { bundleProgram } = (await import(scripts)) as { bundleProgram: (entry: string) => Promise<string> };
  const child = await bundleProgram('tests/crash/records-child.ts');
  const only = process.argv[4];
  let isGood = true;
  for (const work of recordsWorks) {
    if (only !== undefined && only !== work) continue;
    const report = await recordsKillRounds(child, work, rounds, SEED);
    console.log(JSON.stringify(report, undefined, 2));
    isGood &&= isGoodRecords(report);
  }
  console.log(isGood ? 'passed' : 'FAILED');
  process.exitCode = isGood ? 0 : 1;
} else if (isStore) {
  const { bundleProgram } = (await import(scripts)) as { bundleProgram: (entry: string) => Promise<string> };
  const report = await storeKillRounds(await bundleProgram('tests/crash/store-child.ts'), rounds, SEED);
  console.log(JSON.stringify(report, undefined, 2));
  const isGood = report.lost === 0 && report.problems.length === 0 && report.killed > rounds / 2;
  console.log(isGood ? 'passed' : 'FAILED');
  process.exitCode = isGood ? 0 : 1;
} else if (noPty !== undefined) {
  console.log(`skipped: ${noPty}`);
} else {
  const { bundleProgram } = (await import(scripts)) as { bundleProgram: (entry: string) => Promise<string> };
  const child = await bundleProgram('tests/crash/crash-child.ts');
  const report = await killRounds(child, rounds, SEED, (round, missing) => {
    if (round % 10 === 0) console.log(`round ${round}: ${missing} lines missing at the kill`);
  });
  console.log(JSON.stringify(report, undefined, 2));
  const isGood =
    report.mostMissing <= report.linesPerSecond &&
    report.acknowledgedLost === 0 &&
    report.damagedLines === 0 &&
    report.problems.length === 0;
  console.log(isGood ? 'passed' : 'FAILED');
  process.exitCode = isGood ? 0 : 1;
}
