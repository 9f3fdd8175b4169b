/** A day at ten lines a second, four runs at once, at the speed of the machine: what the process holds must not grow with it. */
import { mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Settings } from '../../shared/ipc/settings.ts';
import { problem } from '../../shared/problem.ts';
import { err } from '../../shared/result.ts';
import { createRunService } from '../../main/runs/run-service.ts';
import { heldMb, rounded } from './memory.ts';
import { createStepClock } from './step-clock.ts';

const caller = { clientId: 'soak', role: 'operator' } as const;

export async function soakDay({ hours, runs }: { hours: number; runs: number }) {
  const folder = mkdtempSync(join(tmpdir(), 'flueside-soak-'));
  const clock = createStepClock();
  let samples = 0;
  let dropped = 0;
  let id = 0;
  const runService = createRunService({
    clock,
    dataFolder: folder,
    fallbackFolder: folder,
    appVersion: 'soak',
    settings: () => Settings.parse({}),
    listPorts: () => Promise.resolve([]),
    openPort: () => Promise.resolve(err(problem('port-not-found'))),
    newId: () => `soak-${++id}`,
    batchEveryMs: 1000,
    publish(name, payload) {
      if (name !== 'live.batch') return;
      const batch = payload as { samples: unknown[]; droppedCount: number };
      samples += batch.samples.length;
      dropped += batch.droppedCount;
    },
  });
  const ids: string[] = [];
  for (let i = 0; i < runs; i++) {
    const started = await runService.handlers['run.start'](
      { source: { kind: 'simulated', scenario: 'tune-up', seed: i + 1, shape: 'columns', ratePerSecond: 10 } },
      caller,
    );
    if (started.ok) ids.push(started.value.runId);
  }
  const fifth = await runService.handlers['run.start']({ source: { kind: 'typed' } }, caller);
  await clock.run(600_000); // a first stretch, in which everything is loaded and grown to its usual size
  const before = heldMb();
  const startedMs = performance.now();
  const rows: { hour: number; heldMb: number }[] = [];
  for (let hour = 1; hour <= hours; hour++) {
    await clock.run(3_600_000);
    if (hour % 4 === 0 || hour === hours) {
      rows.push({ hour, heldMb: rounded(heldMb()) });
      console.log(JSON.stringify(rows.at(-1)));
    }
  }
  const after = heldMb();
  const queryMs = performance.now();
  const history = await runService.handlers['run.history'](
    { runId: ids[0] as string, fromMs: 0, toMs: hours * 3_600_000, buckets: 1000 },
    caller,
  );
  const historyMs = performance.now() - queryMs;
  const lines = runService.runs().map(({ counters }) => counters.lines);
  await runService.close({ endRuns: true });
  const fileMb = rounded(ids.reduce((sum, runId) => sum + statSync(join(folder, 'runs', `${runId}.run`)).size, 0) / 1024 / 1024);
  rmSync(folder, { recursive: true, force: true });
  return {
    hours,
    runs: ids.length,
    fifthRun: fifth.ok ? 'started (wrong)' : fifth.error.code,
    lines,
    samples,
    dropped,
    growthMb: rounded(after - before),
    heldMb: rounded(after),
    fileMb,
    historyRows: history.ok ? (history.value.series[0]?.timeMs.length ?? 0) : 0,
    historyMs: rounded(historyMs),
    realSeconds: rounded((performance.now() - startedMs) / 1000),
  };
}
