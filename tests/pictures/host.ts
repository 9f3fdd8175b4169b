/**
 * The real host in this process, on a clock that only moves when it is told to: half an hour at a burner is prepared in seconds, and nothing
 * on a screen changes while its pictures are made.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createApp } from '../../main/app.ts';
import { type AppParts } from '../../main/app-parts.ts';
import { systemClock } from '../../main/system-clock.ts';
import { createUploads } from '../../main/transport/uploads.ts';
import { startLoopback } from '../../main/transport/websocket.ts';
import { readWindowFiles } from '../../main/transport/window-files.ts';
import { createBurner } from '../../shared/burner/burner.ts';
import type { Burner } from '../../shared/burner/burner-interface.ts';
import { findScenario } from '../../shared/burner/scenarios/catalogue.ts';
import { createClient } from '../../shared/ipc/client.ts';
import * as contract from '../../shared/ipc/contract.ts';
import type { CallInput, CommandName, Output } from '../../shared/ipc/contract.ts';
import { createFakeClock, type FakeClock } from '../helpers/host/fake-clock.ts';
import { START_WALL_MS as VISIT_START_MS } from '../helpers/visits/full-visit.ts';
import { createFakePorts, usb } from '../helpers/ports/fake-port.ts';
import { memoryPair } from '../helpers/host/memory-transport.ts';

export const PORT = 'USB serial 2';
const START_WALL_MS = VISIT_START_MS + 95 * 60_000;
/** of the host's time; a window is told as often */
const STEP_MS = 500;

export type PictureHost = {
  readonly clock: FakeClock;
  readonly ports: ReturnType<typeof createFakePorts>;
  /** what is at the port: its lines come while time passes, unless it is held */
  readonly instrument: { burner: Burner; isHeld: boolean; lineOf: (text: string) => string };
  /** asks as the person at this computer does; only before the first window is open */
  ask<K extends CommandName>(name: K, input: CallInput<K>): Promise<Output<K>>;
  /** a window's address, used once */
  link(): string;
  pass(seconds: number): Promise<void>;
  stop(): Promise<void>;
};

export type HostOptions = {
  readonly prepare?: (folder: string) => Promise<void>;
  readonly scenario?: string;
  readonly firstRun?: AppParts['firstRun'];
  readonly windowFiles: string;
};

export async function startPictureHost({
  prepare,
  scenario = 'tune-up',
  firstRun = 'none',
  windowFiles,
}: HostOptions): Promise<PictureHost> {
  const folder = mkdtempSync(join(tmpdir(), 'flueside-picture-'));
  await prepare?.(folder);
  const clock = createFakeClock(START_WALL_MS);
  const ports = createFakePorts();
  const found = findScenario(scenario);
  if (!found.ok) throw new Error(found.error.code);
  const instrument = {
    burner: createBurner({ scenario: found.value, seed: 3, shape: 'columns' }),
    isHeld: false,
    lineOf: (text: string) => text,
  };
  const app = createApp({
    clock,
    batchEveryMs: STEP_MS,
    dataFolder: folder,
    version: '0.1.0',
    host: 'browser',
    platform: 'linux',
    firstRun,
    listPorts: ports.listPorts,
    openPort: ports.openPort,
  });
  const uploads = createUploads(folder, systemClock);
  const host = await startLoopback({ app, clock: systemClock, files: readWindowFiles(windowFiles), uploads, port: 0 });
  const wire = memoryPair();
  let detach: (() => void) | undefined = app.attach(wire.host, { clientId: 'preparing', key: 'preparing', grant: 'operator' });
  const client = createClient(wire.window, contract);
  const burnerStartMs = clock.nowMs();
  return {
    clock,
    ports,
    instrument,
    async ask(name, input) {
      const result = await client.call(name, input);
      if (!result.ok) throw new Error(`${name}: ${result.error.code} ${result.error.detail ?? ''}`);
      return result.value;
    },
    link() {
      detach?.();
      detach = undefined;
      return host.newLink('operator');
    },
    async pass(seconds) {
      const endMs = clock.nowMs() + seconds * 1000;
      while (clock.nowMs() < endMs) {
        await clock.advance(Math.min(1000, endMs - clock.nowMs()));
        for (const { text } of instrument.burner.advanceTo(clock.nowMs() - burnerStartMs))
          if (!instrument.isHeld && ports.isListening(PORT)) ports.send(PORT, `${instrument.lineOf(text)}\r\n`);
      }
      await clock.advance(STEP_MS);
    },
    async stop() {
      await app.close('by-person');
      await host.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

export const plugIn = ({ ports }: PictureHost): void => ports.plug(PORT, usb('A1'));
