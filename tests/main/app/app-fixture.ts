import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';
import { createApp } from '../../../main/app.ts';
import { type App, type AppParts } from '../../../main/app-parts.ts';
import { createClient, type Client } from '../../../shared/ipc/client.ts';
import * as contract from '../../../shared/ipc/contract.ts';
import type { Role } from '../../../shared/ipc/session-commands.ts';
import { createFakeClock, type FakeClock } from '../../helpers/host/fake-clock.ts';
import { memoryPair, type MemoryPair } from '../../helpers/host/memory-transport.ts';
import { createFakeRunService, type FakeRunService } from './fake-run-service.ts';

export type TestApp = { readonly app: App; readonly runService: FakeRunService; readonly clock: FakeClock; readonly folder: string };

export type TestWindow = { readonly client: Client; readonly wire: MemoryPair; detach(): void };

/** An app in a folder of its own, with a run service that takes notes. Cleaned up when the test ends. */
export function openApp(more: Partial<AppParts> = {}, prepare: (runService: FakeRunService) => void = () => undefined): TestApp {
  const folder = more.dataFolder ?? mkdtempSync(join(tmpdir(), 'flueside-app-'));
  const clock = createFakeClock();
  let made: FakeRunService | undefined;
  const app = createApp({
    clock,
    dataFolder: folder,
    version: '0.0.0',
    host: 'memory',
    platform: 'linux',
    listPorts: () => Promise.resolve([]),
    openPort: () => Promise.reject(new Error('no ports here')),
    createRuns(parts) {
      made = createFakeRunService(parts);
      prepare(made);
      return made;
    },
    ...more,
  });
  if (made === undefined) throw new Error('the app made no run service');
  onTestFinished(async () => {
    await app.close('by-person');
    rmSync(folder, { recursive: true, force: true });
  });
  return { app, runService: made, clock, folder };
}

let count = 0;
export function openWindow(app: App, grant: Role = 'operator', key = `key-${(count += 1)}`): TestWindow {
  const wire = memoryPair();
  const detach = app.attach(wire.host, { clientId: `window-${(count += 1)}`, key, grant });
  return { client: createClient(wire.window, contract), wire, detach };
}

/** What a window was told, payloads of one event in order. */
export const toldTo = ({ wire }: TestWindow, name: string): unknown[] =>
  (wire.sent as { type: string; name?: string; payload?: unknown }[])
    .filter((message) => message.name === name)
    .map(({ payload }) => payload);
