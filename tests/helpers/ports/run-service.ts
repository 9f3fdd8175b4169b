import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Caller, EventName, Payload } from '../../../shared/ipc/contract.ts';
import type { LiveBatch } from '../../../shared/ipc/run-documents.ts';
import type { RunInfo } from '../../../shared/ipc/run-info.ts';
import { Settings } from '../../../shared/ipc/settings.ts';
import { problem } from '../../../shared/problem.ts';
import { err, type Result } from '../../../shared/result.ts';
import { createRunService, type RunService } from '../../../main/runs/run-service.ts';
import { createFakeClock, type FakeClock } from '../host/fake-clock.ts';
import type { RunServiceParts } from '../../../main/runs/open-runs.ts';

export const operator: Caller = { clientId: 'window-1', role: 'operator' };

/** A run service with a fake clock, a temporary folder, and every event it published. */
export function createTestRunService(more: Partial<RunServiceParts> & { clock?: FakeClock; folder?: string } = {}) {
  const folder = more.folder ?? mkdtempSync(join(tmpdir(), 'flueside-test-'));
  const clock = more.clock ?? createFakeClock();
  const events: { name: EventName; payload: unknown }[] = [];
  let nextId = 1;
  const runService: RunService = createRunService({
    dataFolder: folder,
    appVersion: '0.1.0',
    settings: () => Settings.parse({}),
    listPorts: () => Promise.resolve([]),
    openPort: (path) => Promise.resolve(err(problem('port-not-found', path))),
    publish: (name, payload) => void events.push({ name, payload: structuredClone(payload) }),
    newId: () => `id-${nextId++}-${Math.trunc(clock.wallMs())}`,
    fallbackFolder: folder,
    ...more,
    clock,
  });
  return {
    runService,
    clock,
    folder,
    events,
    of: <K extends EventName>(name: K) => events.filter((event) => event.name === name).map(({ payload }) => payload as Payload<K>),
    batches: (runId: string) =>
      events.flatMap(({ name, payload }) =>
        name === 'live.batch' && (payload as LiveBatch).runId === runId ? [payload as LiveBatch] : [],
      ),
    remove: () => rmSync(folder, { recursive: true, force: true }),
  };
}

export function value<T>(result: Result<T, { code: string; detail?: string | undefined }>): T {
  if (!result.ok) throw new Error(`${result.error.code} ${result.error.detail ?? ''}`);
  return result.value;
}
export const codeOf = (result: Result<unknown, { code: string }>): string => (result.ok ? 'ok' : result.error.code);

export async function startSimulated(runService: RunService, more: { ratePerSecond?: number; seed?: number } = {}): Promise<RunInfo> {
  return value(
    await runService.handlers['run.start'](
      {
        source: { kind: 'simulated', scenario: 'tune-up', seed: more.seed ?? 1, shape: 'columns', ratePerSecond: more.ratePerSecond ?? 1 },
      },
      operator,
    ),
  );
}
