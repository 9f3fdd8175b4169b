/** The whole host as it is started, with a clock that is moved by hand, instruments at fake ports, a real data folder, and windows at real wires. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createApp } from '../../../main/app.ts';
import { type AppParts } from '../../../main/app-parts.ts';
import type { Log } from '../../../main/log/log.ts';
import { createClient, type Client } from '../../../shared/ipc/client.ts';
import * as contract from '../../../shared/ipc/contract.ts';
import type { CallInput, CommandName, EventName, Output, Payload } from '../../../shared/ipc/contract.ts';
import type { Problem } from '../../../shared/problem.ts';
import type { Result } from '../../../shared/result.ts';
import { createFakeClock, type FakeClock } from '../../helpers/host/fake-clock.ts';
import { createFakePorts } from '../../helpers/ports/fake-port.ts';
import { memoryPair } from '../../helpers/host/memory-transport.ts';
import { commaRecipe } from '../../helpers/comma-recipe.ts';

export type Gas = { o2: number; co: number; stack: number };
export const FRESH_AIR: Gas = { o2: 20.9, co: 0, stack: 22 };
export const FLUE: Gas = { o2: 5, co: 30, stack: 220 };
export const SPAN: Gas = { o2: 4, co: 1000, stack: 22 };

const recipe = commaRecipe('columns of a test');

export type HostWindow = {
  readonly name: string;
  readonly client: Client;
  /** every event that it was told, in order */
  readonly told: { readonly name: string; readonly payload: unknown }[];
  call<K extends CommandName>(name: K, input: CallInput<K>): Promise<Result<Output<K>, Problem>>;
  /** takes the controls over first, as a person at this window would */
  command<K extends CommandName>(name: K, input: CallInput<K>): Promise<Result<Output<K>, Problem>>;
  last<K extends EventName>(name: K, fits?: (payload: Payload<K>) => boolean): Payload<K> | undefined;
};

export type WholeHost = ReturnType<typeof openHost>;

export function openHost({ folder, clock = createFakeClock(), ...more }: { folder?: string; clock?: FakeClock } & Partial<AppParts> = {}) {
  const dataFolder = folder ?? mkdtempSync(join(tmpdir(), 'flueside-host-'));
  const ports = createFakePorts();
  const failures: { where: string; failure: unknown }[] = [];
  const log: Log = {
    failed: (where, failure) => void failures.push({ where, failure }),
    failedLast: (where, failure) => void failures.push({ where, failure }),
    said: () => undefined,
    files: () => [],
    close: () => Promise.resolve(),
  };
  const app = createApp({
    clock,
    dataFolder,
    version: '0.0.0',
    host: 'memory',
    platform: 'linux',
    listPorts: ports.listPorts,
    openPort: ports.openPort,
    batchEveryMs: 250,
    log,
    ...more,
  });
  let opened = 0;
  async function openWindow(): Promise<HostWindow> {
    const name = `window ${++opened}`;
    const wire = memoryPair();
    app.attach(wire.host, { clientId: name, key: name, grant: 'operator' });
    const told: HostWindow['told'] = [];
    wire.window.onMessage((message) => {
      const { type, name: event, payload } = message as { type: string; name: string; payload: unknown };
      if (type === 'event') told.push({ name: event, payload });
    });
    const client = createClient(wire.window, contract);
    const call: HostWindow['call'] = (command, input) => client.call(command, input);
    const hello = await call('session.hello', {});
    if (!hello.ok) throw new Error(hello.error.code);
    return {
      name,
      client,
      told,
      call,
      command(command, input) {
        // the host takes both in this order, whatever another window sends meanwhile
        void call('session.takeOver', {});
        return call(command, input);
      },
      last<K extends EventName>(event: K, fits: (payload: Payload<K>) => boolean = () => true) {
        return told.findLast((one) => one.name === event && fits(one.payload as Payload<K>))?.payload as Payload<K> | undefined;
      },
    };
  }
  /** so much time, one line a second at every port that is named */
  async function pass(seconds: number, gases: Readonly<Record<string, Gas>>): Promise<void> {
    for (let second = 0; second < seconds; second++) {
      for (const [path, { o2, co, stack }] of Object.entries(gases))
        if (ports.isListening(path)) ports.send(path, `${(o2 + 0.01 * (second % 2)).toFixed(2)},${co + (second % 3)},${stack},21.0\n`);
      await clock.advance(1000);
    }
  }
  /** A port with an instrument that is read from now on. @returns the run */
  async function connect(window: HostWindow, path: string, gas: Gas, visitId?: string): Promise<string> {
    ports.plug(path);
    const run = await window.command('run.start', {
      source: { kind: 'serial', path },
      recipe,
      ...(visitId !== undefined && { visitId }),
    });
    if (!run.ok) throw new Error(`${run.error.code} ${run.error.detail}`);
    const { runId } = run.value;
    await pass(3, { [path]: gas });
    await window.command('run.compareDisplay', { runId, agrees: true });
    await pass(2, { [path]: gas });
    return runId;
  }
  return {
    app,
    clock,
    ports,
    dataFolder,
    failures,
    openWindow,
    connect,
    pass,
    /** what was done is in every window */
    settle: () => clock.advance(600),
    async close({ keepsFolder = false } = {}) {
      await app.close('by-person');
      if (!keepsFolder) rmSync(dataFolder, { recursive: true, force: true });
    },
  };
}

export function must<T>(result: Result<T, Problem>): T {
  if (!result.ok) throw new Error(`${result.error.code} ${result.error.detail ?? ''}`);
  return result.value;
}
