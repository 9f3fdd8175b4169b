/** Addresses of the desktop app: app://flueside/ is served over loopback, and named as before on the way in. */
import { once } from 'node:events';
import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { Readable } from 'node:stream';

export const handlers = new Map<string, (request: Request) => Response | Promise<Response>>();
let base = '';
export const toApp = (address: string): string => address.replace(base, 'app://flueside');
export const toLoopback = (address: string): string => address.replace('app://flueside', base);

async function serveApp(incoming: IncomingMessage, outgoing: ServerResponse): Promise<void> {
  const isBodied = incoming.method === 'POST';
  const request = new Request(`app://flueside${incoming.url ?? '/'}`, {
    method: incoming.method ?? 'GET',
    headers: Object.entries(incoming.headers).flatMap(([name, value]) =>
      typeof value === 'string' ? [[name, value] as [string, string]] : [],
    ),
    ...(isBodied ? { body: Readable.toWeb(incoming) as ReadableStream, duplex: 'half' } : {}),
  });
  const answer = (await handlers.get('app')?.(request)) ?? new Response('', { status: 404 });
  outgoing.writeHead(answer.status, Object.fromEntries(answer.headers));
  outgoing.end(Buffer.from(await answer.arrayBuffer()));
}
// what the first request loads takes its time: not in the middle of a run
void new Request('app://flueside/');
const server = createServer((incoming, outgoing) => void serveApp(incoming, outgoing).catch(() => outgoing.destroy()));
export async function listen(): Promise<void> {
  if (base !== '') return;
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  base = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
}
