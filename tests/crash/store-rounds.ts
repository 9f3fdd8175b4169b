/** Kills the process that edits a visit at random moments; afterwards every acknowledged edit has to be there, in order. */
import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openRecords } from '../../main/store/open.ts';
import { createVisits } from '../../main/store/visits.ts';

export type StoreKillReport = {
  rounds: number;
  /** rounds in which the process was killed while it was editing */
  killed: number;
  acknowledged: number;
  /** edits that were acknowledged and are not in the records */
  lost: number;
  problems: string[];
};

function createRandom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
}

/** @param childFile the built store-child */
export async function storeKillRounds(childFile: string, rounds: number, seed: number): Promise<StoreKillReport> {
  const random = createRandom(seed);
  const report: StoreKillReport = { rounds, killed: 0, acknowledged: 0, lost: 0, problems: [] };
  let folder = mkdtempSync(join(tmpdir(), 'flueside-crash-store-'));
  try {
    for (let round = 1; round <= rounds; round++) {
      const child = spawn(process.execPath, [childFile, folder], { stdio: ['ignore', 'pipe', 'inherit'] });
      let text = '';
      let hasBegun: () => void = () => undefined;
      const begun = new Promise<void>((resolve) => (hasBegun = resolve));
      child.stdout.on('data', (piece: Buffer) => {
        text += piece.toString();
        if (/^edited/m.test(text)) hasBegun();
      });
      const ended = new Promise<NodeJS.Signals | null>((resolve) => child.once('close', (_code, signal) => resolve(signal)));
      await Promise.race([begun, ended]);
      await new Promise((resolve) => setTimeout(resolve, random() * 200));
      child.kill('SIGKILL');
      if ((await ended) === 'SIGKILL') report.killed += 1;
      const lines = text.split('\n').slice(0, -1);
      report.problems.push(...lines.filter((line) => line.startsWith('problem ')).map((line) => `round ${round}: ${line}`));
      const id = lines.find((line) => line.startsWith('visit '))?.slice(6);
      const acknowledged = lines.filter((line) => line.startsWith('edited ')).map((line) => Number(line.slice(7)));
      report.acknowledged += acknowledged.length;
      if (id === undefined) report.problems.push(`round ${round}: no visit`);
      else report.lost += await lostIn(folder, id, acknowledged, (what) => report.problems.push(`round ${round}: ${what}`));
      if ((acknowledged.at(-1) ?? 0) >= 300) {
        rmSync(folder, { recursive: true, force: true });
        folder = mkdtempSync(join(tmpdir(), 'flueside-crash-store-'));
      }
    }
    return report;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

async function lostIn(folder: string, id: string, acknowledged: readonly number[], complain: (what: string) => void): Promise<number> {
  // as a guest: the next round then finds the mark of a bad end and checks the file thoroughly
  const opened = await openRecords({ folder, wallMs: Date.now(), guest: true });
  if (!opened.ok) {
    complain(`records: ${opened.error.code}`);
    return acknowledged.length;
  }
  const stored = createVisits(opened.value.db, () => undefined).get(id);
  opened.value.close();
  if (!stored.ok) {
    complain(`visit: ${stored.error.code}`);
    return acknowledged.length;
  }
  const { edits, annualFuelGal } = stored.value.visit;
  const kept = edits.map(({ after }) => Number(after));
  if (kept.some((value, index) => value !== index + 1)) complain('edits are missing in between, double or out of order');
  if (kept.length > 0 && annualFuelGal !== kept.at(-1)) complain('the visit is not what its last edit says');
  return acknowledged.filter((value) => !kept.includes(value)).length;
}
