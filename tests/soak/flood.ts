/** Two thousand lines a second from a real pseudo-terminal: every line in the file, memory bounded. */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Settings } from '../../shared/ipc/settings.ts';
import { SerialSettings } from '../../shared/measurement/run.ts';
import { createRunService } from '../../main/runs/run-service.ts';
import { openSerialPort } from '../../main/source/open-port.ts';
import { systemClock } from '../../main/system-clock.ts';
import { startPty } from '../helpers/ports/pty.ts';
import { heldMb, residentMb, rounded } from './memory.ts';
import { commaRecipe, FOUR } from '../helpers/comma-recipe.ts';

const caller = { clientId: 'soak', role: 'operator' } as const;

export async function soakFlood({ seconds, linesPerSecond }: { seconds: number; linesPerSecond: number }) {
  const folder = mkdtempSync(join(tmpdir(), 'flueside-flood-'));
  const pty = await startPty();
  let id = 0;
  let shown = 0;
  let dropped = 0;
  const runService = createRunService({
    clock: systemClock,
    dataFolder: folder,
    fallbackFolder: folder,
    appVersion: 'soak',
    settings: () => Settings.parse({}),
    listPorts: () => Promise.resolve([]),
    openPort: openSerialPort,
    newId: () => `flood-${++id}`,
    publish(name, payload) {
      if (name !== 'live.batch') return;
      const batch = payload as { samples: unknown[]; droppedCount: number };
      shown += batch.samples.length;
      dropped += batch.droppedCount;
    },
  });
  const recipe = commaRecipe('flood', FOUR, { firstAt: 1 });
  const started = await runService.handlers['run.start'](
    { source: { kind: 'serial', path: pty.path, settings: SerialSettings.parse({ baud: 921_600 }) }, recipe },
    caller,
  );
  if (!started.ok) throw new Error(started.error.code);
  const { runId } = started.value;
  await runService.handlers['run.compareDisplay']({ runId, agrees: true }, caller);
  await pty.ask(`flood ${linesPerSecond} ${linesPerSecond * 5}`, 'flood done'); // settles in
  const before = { held: heldMb(), resident: residentMb() };
  let worstBlockMs = 0;
  let last = performance.now();
  const watch = setInterval(() => {
    worstBlockMs = Math.max(worstBlockMs, performance.now() - last - 10);
    last = performance.now();
  }, 10);
  const startMs = performance.now();
  const total = linesPerSecond * (5 + seconds);
  await pty.ask(`flood ${linesPerSecond} ${linesPerSecond * seconds}`, 'flood done');
  const lines = () => runService.runs()[0]?.counters.lines ?? 0;
  while (lines() < total && performance.now() - startMs < (seconds + 60) * 1000) await systemClock.sleep(50);
  clearInterval(watch);
  const tookS = (performance.now() - startMs) / 1000;
  const after = { held: heldMb(), resident: residentMb() };
  await runService.handlers['run.end']({ runId }, caller);
  await pty.stop();
  const numbers = readFileSync(join(folder, 'runs', `${runId}.run`), 'latin1')
    .split('\n')
    .flatMap((line) => (line.includes('\tline\t') ? [Number(line.split('\t')[2]?.split(',')[0])] : []));
  rmSync(folder, { recursive: true, force: true });
  const missing = total - new Set(numbers).size;
  return {
    seconds,
    linesPerSecond,
    linesSent: total,
    linesInFile: numbers.length,
    missing,
    isInOrder: numbers.every((n, i) => i === 0 || n === (numbers[i - 1] as number) + 1),
    samplesToWindow: shown,
    samplesLeftOut: dropped,
    tookS: rounded(tookS),
    growthHeldMb: rounded(after.held - before.held),
    growthResidentMb: rounded(after.resident - before.resident),
    worstEventLoopBlockMs: rounded(worstBlockMs),
  };
}
