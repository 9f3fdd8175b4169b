/** Kills the capturing process again and again at random moments, and looks at what is left each time. */
import { spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { decodeEntry } from '../../shared/measurement/run-format.ts';
import { openRecords } from '../../main/store/open.ts';
import { createAppliances } from '../../main/store/appliances.ts';
import { startPty } from '../helpers/ports/pty.ts';

export type KillReport = {
  rounds: number;
  /** lines per second that the instrument writes */
  linesPerSecond: number;
  lines: number;
  /** lines that were written to the open port before a kill and are not in the file: the worst round */
  mostMissing: number;
  damagedLines: number;
  gaps: number;
  acknowledged: number;
  acknowledgedLost: number;
  problems: string[];
};

/** A fixed series of numbers from 0 to 1: the same moments at every start. */
function createRandom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
}

/** @param childFile the built crash-child */
export async function killRounds(
  childFile: string,
  rounds: number,
  seed: number,
  onRound: (round: number, missing: number) => void = () => undefined,
): Promise<KillReport> {
  const linesPerSecond = 100;
  const folder = mkdtempSync(join(tmpdir(), 'flueside-crash-'));
  const pty = await startPty();
  const random = createRandom(seed);
  const acknowledged = new Set<string>();
  const problems: string[] = [];
  const missingPerRound: number[] = [];
  await pty.ask(`rate ${linesPerSecond}`);

  const numbersInFile = (): { numbers: number[]; damaged: number; gaps: number } => {
    const runs = join(folder, 'runs');
    const [name] = readdirSync(runs).filter((file) => file.endsWith('.run'));
    const texts = readFileSync(join(runs, name as string), 'latin1')
      .split('\n')
      .slice(1);
    texts.pop(); // what stands behind the last line end is torn, or nothing
    const entries = texts.map(decodeEntry);
    return {
      numbers: entries.flatMap((entry) =>
        entry?.kind === 'line' && entry.cutBytes === undefined ? [Number(entry.bytes.split(',')[0])] : [],
      ),
      damaged: entries.filter((entry) => entry === undefined).length,
      gaps: entries.filter((entry) => entry?.kind === 'gap').length,
    };
  };

  try {
    for (let round = 1; round <= rounds; round++) {
      const child = spawn(process.execPath, [childFile, folder, pty.path], { stdio: ['ignore', 'pipe', 'inherit'] });
      let text = '';
      let hasBegun: () => void = () => undefined;
      const begun = new Promise<void>((resolve) => (hasBegun = resolve));
      child.stdout.on('data', (piece: Buffer) => {
        text += piece.toString();
        if (/^captured/m.test(text)) hasBegun();
      });
      const ended = new Promise((resolve) => child.once('exit', resolve));
      await Promise.race([begun, ended]);
      await new Promise((resolve) => setTimeout(resolve, 50 + random() * 450));
      child.kill('SIGKILL');
      // what the instrument has written up to now; the terminal goes away so that nothing waits in it for the next round
      const [, next] = (await pty.ask('unplug', 'unplugged')).split(' ');
      await ended;
      for (const line of text.split('\n').slice(0, -1)) {
        if (line.startsWith('saved ')) acknowledged.add(line.slice(6));
        if (line.startsWith('problem ')) problems.push(`round ${round}: ${line}`);
      }
      const { numbers } = numbersInFile();
      const missing = Number(next) - 1 - (numbers.at(-1) ?? -1);
      missingPerRound.push(missing);
      onRound(round, missing);
      await pty.ask('replug', 'replugged');
    }
    const { numbers, damaged, gaps } = numbersInFile();
    const isAscending = numbers.every((n, i) => i === 0 || n > (numbers[i - 1] as number));
    if (!isAscending) problems.push('lines are out of order or double');
    // inside a round no line is missing: numbers jump only where a process was killed
    const jumps = numbers.filter((n, i) => i > 0 && n !== (numbers[i - 1] as number) + 1).length;
    if (jumps > rounds) problems.push(`${jumps} jumps in ${rounds} rounds`);
    const opened = await openRecords({ folder, wallMs: Date.now() });
    let acknowledgedLost = acknowledged.size;
    if (opened.ok) {
      const appliances = createAppliances(opened.value.db);
      acknowledgedLost = [...acknowledged].filter((id) => !appliances.get(id).ok).length;
      opened.value.close();
    } else problems.push(`records: ${opened.error.code}`);
    return {
      rounds,
      linesPerSecond,
      lines: numbers.length,
      mostMissing: Math.max(...missingPerRound),
      damagedLines: damaged,
      gaps,
      acknowledged: acknowledged.size,
      acknowledgedLost,
      problems,
    };
  } finally {
    await pty.stop();
    rmSync(folder, { recursive: true, force: true });
  }
}
