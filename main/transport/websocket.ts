/**
 * Host 2: the built window and a WebSocket on 127.0.0.1, and nothing that listens to the outside. The files served hold no data; whoever
 * wants data shows a one-use code (see shared/ipc/handshake.ts).
 */
import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import type { AddressInfo, Socket } from 'node:net';
import type { Duplex } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { WebSocketServer, type WebSocket } from 'ws';
import type { Clock } from '../../shared/clock.ts';
import {
  CODE_FIELD,
  DOWNLOAD_PATH,
  BACKUP_LIMIT_BYTES,
  KEY_HEADER,
  KIND_HEADER,
  NAME_HEADER,
  UPLOAD_LIMIT_BYTES,
  UPLOAD_PATH,
  WIRE_PATH,
} from '../../shared/ipc/handshake.ts';
import { REPORT_PATH } from '../../shared/ipc/report-commands.ts';
import { Role } from '../../shared/ipc/session-commands.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import type { App } from '../app-parts.ts';
import { createAccess, WINDOW_CODE_MS } from './access.ts';
import { reportPolicy, safetyHeaders } from './content-policy.ts';
import { openDownload } from './downloads.ts';
import { decodeName } from './file-name.ts';
import { isOwnHost, isOwnOrigin, ownNames } from './request-checks.ts';
import { newToken, sameToken } from './token.ts';
import type { Uploads } from './uploads.ts';
import type { WindowFile } from './window-files.ts';
import { MESSAGE_LIMIT_BYTES, serveWireClient } from './wire-client.ts';
import { problemLine } from '../../shared/words/problems.ts';
import { transportTexts } from '../../shared/words/host.ts';

/** A second start of the program asks here for a link to a new window; the secret stands in the lock file. */
export const LINK_PATH = '/link';
export const SECRET_HEADER = 'x-flueside-secret';
const MOST_SOCKETS = 24;
/** connections that have asked for nothing yet; one more, and the oldest of them is closed: silence never keeps a window out */
const MOST_SILENT = 32;
/** a connection on which nothing moves */
const STILL_MS = 30_000;

export type LoopbackParts = {
  readonly app: Pick<App, 'attach' | 'takeDownload' | 'reportPage'>;
  /** the wire's own time-outs: real time, whatever the speed of the run */
  readonly clock: Clock;
  readonly files: ReadonlyMap<string, WindowFile>;
  readonly uploads: Uploads;
  /** 0: any that is free */
  readonly port: number;
};

export interface LoopbackHost {
  /** `http://127.0.0.1:PORT/` */
  readonly address: string;
  /** what a second start shows at `LINK_PATH` */
  readonly secret: string;
  /**
   * @param forMs how long it works when nobody uses it
   * @returns an address that opens one window with this right, once
   */
  newLink(role: Role, forMs?: number): string;
  close(): Promise<void>;
}

/** @throws when the port cannot be listened at */
export async function startLoopback({ app, clock, files, uploads, port: wishedPort }: LoopbackParts): Promise<LoopbackHost> {
  const access = createAccess(() => clock.nowMs());
  const secret = newToken();
  const sockets = new WebSocketServer({ noServer: true, maxPayload: 2 * MESSAGE_LIMIT_BYTES, perMessageDeflate: false });
  // no limit on a whole request: a big backup takes its time to come in; silence is what ends a connection
  const server = createServer({
    headersTimeout: 5000,
    requestTimeout: 0,
    keepAliveTimeout: 5000,
    connectionsCheckingInterval: 1000,
    maxHeaderSize: 8192,
  });
  server.maxConnections = 512;
  server.setTimeout(STILL_MS, (socket) => socket.destroy());
  const silent = new Set<Socket>();
  server.on('connection', (socket) => {
    silent.add(socket);
    socket.once('close', () => silent.delete(socket));
    const [oldest] = silent;
    if (silent.size > MOST_SILENT) oldest?.destroy();
  });
  /** sockets that have not shown a code or key */
  const strangers = new Set<WebSocket>();
  let clientCount = 0;

  const newLink = (role: Role, forMs?: number): string => `${address}#${CODE_FIELD}=${access.newCode(role, forMs)}`;

  server.on('request', (request, response) => {
    silent.delete(request.socket);
    for (const [name, value] of Object.entries(headers)) response.setHeader(name, value);
    answer(request, response).catch(() => response.destroy());
  });
  server.on('upgrade', (request, socket, head) => {
    socket.on('error', () => undefined);
    silent.delete(request.socket);
    request.socket.setTimeout(0); // it pings by itself
    const path = request.url?.split('?')[0];
    if (path !== WIRE_PATH) return refuseUpgrade(socket, 404, transportTexts.nothingHere);
    if (!isOwnHost(request, port)) return refuseUpgrade(socket, 421, transportTexts.otherAddress);
    if (!isOwnOrigin(request, port)) return refuseUpgrade(socket, 403, transportTexts.onlyOurWindow);
    if (sockets.clients.size >= MOST_SOCKETS) strangers.values().next().value?.terminate();
    if (sockets.clients.size - strangers.size >= MOST_SOCKETS) return refuseUpgrade(socket, 503, problemLine(problem('too-many-windows')));
    sockets.handleUpgrade(request, socket, head, (ws) => {
      const clientId = `window-${(clientCount += 1)}`;
      let detach: (() => void) | undefined;
      strangers.add(ws);
      serveWireClient({
        socket: ws,
        clock,
        access,
        onWelcome(transport, grant) {
          strangers.delete(ws);
          return (detach = app.attach(transport, { clientId, key: grant.key, grant: grant.role }));
        },
        onClose() {
          strangers.delete(ws);
          detach?.();
        },
      });
    });
  });

  async function answer(request: IncomingMessage, response: ServerResponse): Promise<void> {
    if (!isOwnHost(request, port)) return plain(response, 421, transportTexts.otherAddress);
    const path = (request.url ?? '/').split('?')[0] ?? '/';
    if (request.method === 'POST') return post(path, request, response);
    if (request.method !== 'GET' && request.method !== 'HEAD') return plain(response, 405, transportTexts.onlyThreeMethods);
    if (path.startsWith(DOWNLOAD_PATH)) return download(path.slice(DOWNLOAD_PATH.length), request, response);
    if (path.startsWith(REPORT_PATH)) return reportPage(path.slice(REPORT_PATH.length), request, response);
    const file = files.get(path);
    if (file === undefined) return plain(response, 404, files.size === 0 ? transportTexts.notBuilt : transportTexts.nothingHere);
    response.writeHead(200, { 'Content-Type': file.type, 'Content-Length': file.bytes.length, 'Cache-Control': file.cache });
    response.end(request.method === 'HEAD' ? undefined : file.bytes);
  }

  async function download(token: string, request: IncomingMessage, response: ServerResponse): Promise<void> {
    // HEAD must not use the token up, and has nothing to say without it
    if (request.method === 'HEAD') return plain(response, 405, transportTexts.downloadByGet);
    const found = app.takeDownload(token);
    const opened = found === undefined ? undefined : openDownload(found);
    if (opened === undefined) return plain(response, 404, problemLine(problem('download-gone')));
    response.writeHead(200, opened.headers);
    await pipeline(opened.stream, response);
  }

  function reportPage(token: string, request: IncomingMessage, response: ServerResponse): void {
    const page = app.reportPage(token);
    if (page === undefined) return plain(response, 404, transportTexts.nothingHere);
    const bytes = Buffer.from(page);
    response.setHeader('Content-Security-Policy', reportPolicy);
    response.writeHead(200, { 'Content-Type': 'text/html; charset=utf-8', 'Content-Length': bytes.length, 'Cache-Control': 'no-store' });
    response.end(request.method === 'HEAD' ? undefined : bytes);
  }

  async function post(path: string, request: IncomingMessage, response: ServerResponse): Promise<void> {
    if (path === LINK_PATH) {
      // no browser sends a POST without Origin, so no page can ask here even if it knew the secret
      const known = sameToken(headerOf(request, SECRET_HEADER), secret) && request.headers.origin === undefined;
      const role = Role.safeParse(new URL(request.url ?? '', address).searchParams.get('role') ?? 'operator');
      return known && role.success
        ? json(response, 200, { link: newLink(role.data, WINDOW_CODE_MS) })
        : plain(response, 403, transportTexts.wrongSecret);
    }
    if (path !== UPLOAD_PATH) return plain(response, 404, transportTexts.nothingHere);
    const grant = access.find(headerOf(request, KEY_HEADER));
    if (!isOwnOrigin(request, port) || grant === undefined) return problemAnswer(response, 403, problem('key-unknown'));
    if (grant.role === 'viewer') return problemAnswer(response, 403, problem('not-allowed'));
    const kind = headerOf(request, KIND_HEADER) === 'backup' ? 'backup' : 'file';
    const limit = kind === 'backup' ? BACKUP_LIMIT_BYTES : UPLOAD_LIMIT_BYTES;
    if (Number(request.headers['content-length'] ?? 0) > limit) return problemAnswer(response, 413, problem('file-too-big'));
    const received = await uploads.receive(request, decodeName(headerOf(request, NAME_HEADER)), kind);
    return received.ok ? json(response, 200, received.value) : problemAnswer(response, 413, received.error);
  }

  await new Promise<void>((resolve, reject) => {
    server.once('error', reject);
    server.listen(wishedPort, '127.0.0.1', () => {
      server.off('error', reject);
      resolve();
    });
  });
  const { port } = server.address() as AddressInfo;
  const address = `http://127.0.0.1:${port}/`;
  const headers = safetyHeaders(ownNames(port).map((name) => `ws://${name}`));

  return {
    address,
    secret,
    newLink,
    close: () =>
      new Promise((resolve) => {
        for (const socket of sockets.clients) socket.terminate();
        uploads.close();
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}

const headerOf = (request: IncomingMessage, name: string): string => {
  const value = request.headers[name];
  return typeof value === 'string' ? value : '';
};

function plain(response: ServerResponse, status: number, text: string): void {
  response.writeHead(status, { 'Content-Type': 'text/plain; charset=utf-8', 'Cache-Control': 'no-store', Connection: 'close' });
  response.end(`${text}\n`);
}

function json(response: ServerResponse, status: number, value: unknown): void {
  response.writeHead(status, { 'Content-Type': 'application/json', 'Cache-Control': 'no-store' });
  response.end(JSON.stringify(value));
}

function problemAnswer(response: ServerResponse, status: number, what: Problem): void {
  response.setHeader('Connection', 'close');
  json(response, status, what);
}

function refuseUpgrade(socket: Duplex, status: number, text: string): void {
  socket.end(
    `HTTP/1.1 ${status} Refused\r\nContent-Type: text/plain\r\nContent-Length: ${Buffer.byteLength(text)}\r\nConnection: close\r\n\r\n${text}`,
  );
}
