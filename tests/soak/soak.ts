/**
 * `npm run soak [-- day|flood|window|bench|quick|quick-ports|race|stamps|office|commands [AMOUNT]]`: the long cases. Their short forms are in the tests.
 * day: hours at ten lines a second, four runs (24); flood: seconds at 2000 lines a second (60);
 * window: the same beside the open window, with clicks; bench: seconds with four instruments on four ports (60);
 * quick: bench rounds whose answers are quicker than the lines, with stalled lines (500); quick-ports: the same on four real ports beside
 * two busy loops (500); race: unplugs (150);
 * commands: sittings of two windows that send what they like to a whole host, 150 turns each (20);
 * office: visits of twenty laptops with a shared folder and with PostgreSQL, with drops and kills (5000; `office 5000 postgres`: one of both);
 * stamps: lines of the day that is exported and backed up while lines are stamped (864 000).
 */
import { execFileSync } from 'node:child_process';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromiumProgram } from '../helpers/browser/chromium.ts';
import { noPostgres } from '../helpers/host/postgres.ts';
import { noPty } from '../helpers/ports/pty.ts';
import { quickRounds } from '../main/bench/quick-answers.ts';
import { playCommands } from '../main/host/random-commands.ts';
import { soakBenchPorts } from './bench-ports.ts';
import { soakDay } from './day.ts';
import { soakFlood } from './flood.ts';
import { soakOffice } from './office.ts';
import { soakQuickPorts } from './quick-ports.ts';
import { soakRace } from './race.ts';
import { soakStamps } from './stamps.ts';
import { soakWindow } from './window.ts';

const [, , only, amountText, onlyPlace] = process.argv;
const amount = amountText === undefined ? undefined : Number(amountText);
const wants = (name: string): boolean => only === undefined || only === name;
let isGood = true;
const report = (name: string, figures: object, passed: boolean): void => {
  console.log(`${name}: ${passed ? 'passed' : 'FAILED'} ${JSON.stringify(figures, undefined, 1)}`);
  isGood &&= passed;
};

if (wants('race')) {
  if (noPty !== undefined) console.log(`race: skipped, ${noPty}`);
  else {
    const figures = await soakRace(amount ?? 150);
    report('race', figures, figures.stuck === 0);
  }
}
if (wants('flood')) {
  if (noPty !== undefined) console.log(`flood: skipped, ${noPty}`);
  else {
    const figures = await soakFlood({ seconds: amount ?? 60, linesPerSecond: 2000 });
    report('flood', figures, figures.missing === 0 && figures.isInOrder && figures.growthHeldMb < 50 && figures.growthResidentMb < 50);
  }
}
if (wants('window')) {
  const why = noPty ?? (chromiumProgram() === undefined ? 'no browser of the Chromium family is installed here' : undefined);
  if (why !== undefined) console.log(`window: skipped, ${why}`);
  else {
    execFileSync(process.execPath, ['main/scripts/build.mjs'], { stdio: 'inherit' });
    const figures = await soakWindow({ seconds: amount ?? 60, linesPerSecond: 2000 });
    report('window', figures, figures.missing === 0 && figures.isInOrder && figures.clickWorstMs <= 200);
  }
}
if (wants('bench')) {
  const why = noPty ?? (chromiumProgram() === undefined ? 'no browser of the Chromium family is installed here' : undefined);
  if (why !== undefined) console.log(`bench: skipped, ${why}`);
  else {
    execFileSync(process.execPath, ['main/scripts/build.mjs'], { stdio: 'inherit' });
    const figures = await soakBenchPorts({ seconds: amount ?? 60 });
    report('bench', figures, figures.missing === 0 && figures.stepsReached === figures.stepsWanted && figures.complaints.length === 0);
  }
}
if (wants('stamps')) {
  const figures = await soakStamps({ dayLines: amount ?? 864_000, visits: 300, idleMs: 10_000 });
  const worst = Math.max(...Object.values(figures.worstMs));
  report('stamps', figures, figures.missing === 0 && worst <= 50);
}
if (wants('office')) {
  const { bundleProgram } = (await import(pathToFileURL(join(process.cwd(), 'main', 'scripts', 'build-output.mjs')).href)) as {
    bundleProgram: (entry: string) => Promise<string>;
  };
  const program = await bundleProgram('tests/soak/office-laptop.ts');
  for (const place of ['folder', 'postgres'] as const) {
    if (onlyPlace !== undefined && onlyPlace !== place) continue;
    if (place === 'postgres' && noPostgres !== undefined) {
      console.log(`office, postgres: skipped, ${noPostgres}`);
      continue;
    }
    const visits = amount ?? 5000;
    const figures = await soakOffice({ laptops: 20, visits, place, seed: 28, program });
    const isWhole =
      figures.lost === 0 && figures.notInOffice === 0 && figures.doubled === 0 && figures.otherIds === 0 && figures.stillQueued === 0;
    report(
      `office, ${place}`,
      figures,
      figures.kills > 0 && (place === 'folder' || figures.serverKills > 0) && isWhole && figures.wrongHashes === 0 && figures.ends === 1,
    );
  }
}
if (wants('commands')) {
  let commands = 0;
  const faults: string[] = [];
  for (let seed = 1; seed <= (amount ?? 20); seed++) {
    const play = await playCommands(seed, 150);
    commands += play.commands;
    faults.push(...play.faults);
  }
  report('commands', { commands, faults }, faults.length === 0);
}
if (wants('quick')) {
  const figures = await quickRounds(amount ?? 500);
  report('quick', figures, figures.refused === 0 && figures.lost === 0 && figures.notFinite === 0);
}
if (wants('quick-ports')) {
  if (noPty !== undefined) console.log(`quick-ports: skipped, ${noPty}`);
  else {
    const figures = await soakQuickPorts({ rounds: amount ?? 500 });
    const isWhole = figures.lost === 0 && figures.linesMissing === 0 && figures.notFinite === 0;
    report('quick-ports', figures, isWhole && figures.refused.length === 0 && figures.alarms.length === 0);
  }
}
if (wants('day')) {
  const hours = amount ?? 24;
  const figures = await soakDay({ hours, runs: 4 });
  report('day', figures, figures.growthMb < 15 && figures.runs === 4 && figures.fifthRun === 'run-limit' && figures.dropped === 0);
}
process.exitCode = isGood ? 0 : 1;
