import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { once } from 'node:events';
import { WebSocket } from 'ws';
import { createApp } from '../../../main/app.ts';
import { type App } from '../../../main/app-parts.ts';
import type { WindowFile } from '../../../main/transport/window-files.ts';
import { createUploads } from '../../../main/transport/uploads.ts';
import { startLoopback, type LoopbackHost } from '../../../main/transport/websocket.ts';
import { WIRE_PATH } from '../../../shared/ipc/handshake.ts';
import { createFakeClock, type FakeClock } from '../../helpers/host/fake-clock.ts';
import { createFakeRunService, type FakeRunService } from '../app/fake-run-service.ts';

export type Loopback = {
  readonly app: App;
  readonly runService: FakeRunService;
  readonly host: LoopbackHost;
  readonly port: number;
  readonly clock: FakeClock;
  readonly folder: string;
  close(): Promise<void>;
};

/** The real server on a real socket, with a run service that only takes notes and a clock that the test moves. */
export async function openLoopback(): Promise<Loopback> {
  const folder = mkdtempSync(join(tmpdir(), 'flueside-loopback-'));
  const clock = createFakeClock();
  let runService: FakeRunService | undefined;
  const app = createApp({
    clock,
    dataFolder: folder,
    version: '0.0.0',
    host: 'browser',
    platform: 'linux',
    createRuns: (parts) => (runService = createFakeRunService(parts)),
    listPorts: () => Promise.resolve([]),
    openPort: () => Promise.reject(new Error('no ports here')),
  });
  const index: WindowFile = { type: 'text/html; charset=utf-8', bytes: Buffer.from('<title>Flueside</title>'), cache: 'no-store' };
  const files = new Map([['/', index]]);
  const host = await startLoopback({ app, clock, files, uploads: createUploads(folder, clock), port: 0 });
  if (runService === undefined) throw new Error('the app made no run service');
  return {
    app,
    runService,
    host,
    clock,
    folder,
    port: Number(new URL(host.address).port),
    async close() {
      await app.close('by-person');
      await host.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

export type TestSocket = {
  readonly socket: WebSocket;
  /** messages that came and were not asked for yet */
  readonly inbox: Record<string, unknown>[];
  send(message: unknown): void;
  /** @returns the next message that fits, waiting for it */
  next(fits?: (message: Record<string, unknown>) => boolean): Promise<Record<string, unknown>>;
  /** @returns the close code */
  closed(): Promise<number>;
};

function wrapSocket(socket: WebSocket): TestSocket {
  const inbox: Record<string, unknown>[] = [];
  const arrivals = new Set<() => void>();
  let code: number | undefined;
  socket.on('message', (data: Buffer) => {
    inbox.push(JSON.parse(data.toString()) as Record<string, unknown>);
    for (const arrival of [...arrivals]) arrival();
  });
  socket.on('close', (closeCode) => {
    code = closeCode;
    for (const arrival of [...arrivals]) arrival();
  });
  socket.on('error', () => undefined);
  return {
    socket,
    inbox,
    send: (message) => socket.send(JSON.stringify(message)),
    next: (fits = () => true) =>
      new Promise((resolve, reject) => {
        const look = (): void => {
          const at = inbox.findIndex(fits);
          if (at < 0 && code === undefined) return;
          arrivals.delete(look);
          const [found] = at < 0 ? [] : inbox.splice(at, 1);
          if (found === undefined) reject(new Error(`the socket was closed with ${code} before the message came`));
          else resolve(found);
        };
        arrivals.add(look);
        look();
      }),
    closed: () =>
      new Promise((resolve) => {
        const look = (): void => {
          if (code === undefined) return;
          arrivals.delete(look);
          resolve(code);
        };
        arrivals.add(look);
        look();
      }),
  };
}

/** Connects as a browser's page would. */
export async function connect(port: number, headers: Record<string, string> = {}): Promise<TestSocket> {
  const socket = new WebSocket(`ws://127.0.0.1:${port}${WIRE_PATH}`, { headers: { Origin: `http://127.0.0.1:${port}`, ...headers } });
  const wrapped = wrapSocket(socket);
  await once(socket, 'open');
  return wrapped;
}

export const codeOf = (link: string): string => new URL(link).hash.replace('#code=', '');

/** Connects and shows a code of that right. @returns the socket after its welcome, and its key */
export async function welcomed(
  { host, port }: Loopback,
  role: 'operator' | 'viewer' | 'instructor' = 'operator',
): Promise<TestSocket & { key: string }> {
  const client = await connect(port);
  client.send({ type: 'code', code: codeOf(host.newLink(role)) });
  const welcome = await client.next();
  if (welcome['type'] !== 'welcome') throw new Error(`refused: ${JSON.stringify(welcome)}`);
  return { ...client, key: String(welcome['key']) };
}

let nextId = 0;
/** One call, answered. */
export async function call(
  client: TestSocket,
  name: string,
  input: unknown = {},
): Promise<{ ok: boolean; value?: Record<string, unknown>; error?: { code: string; detail?: string } }> {
  const id = (nextId += 1);
  client.send({ type: 'call', id, name, input });
  const reply = await client.next((message) => message['type'] === 'reply' && message['id'] === id);
  return reply['result'] as { ok: boolean };
}
