/** The loopback server of one test, and requests to it as another program would make them. */
import { request } from 'node:http';
import { text } from 'node:stream/consumers';
import { afterEach, beforeEach } from 'vitest';
import { openLoopback, type Loopback } from './loopback-fixture.ts';

export let loopback: Loopback;
type Answer = { status: number; headers: Record<string, string | string[] | undefined>; body: string };
export const http = (
  path: string,
  options: { method?: string; headers?: Record<string, string>; body?: string | Buffer } = {},
): Promise<Answer> =>
  new Promise((resolve, reject) => {
    const sent = request(
      { host: '127.0.0.1', port: loopback.port, path, method: options.method ?? 'GET', headers: options.headers },
      (response) => {
        void text(response).then((body) => resolve({ status: response.statusCode ?? 0, headers: response.headers, body }));
      },
    );
    sent.on('error', reject);
    sent.end(options.body);
  });
export const ownOrigin = () => `http://127.0.0.1:${loopback.port}`;

export function openBeforeEach(): void {
  beforeEach(async () => {
    loopback = await openLoopback();
  });
  afterEach(() => loopback.close());
}
