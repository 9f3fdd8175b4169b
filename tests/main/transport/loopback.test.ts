import { createConnection } from 'node:net';
import { request } from 'node:http';
import { connect as connectTcp } from 'node:net';
import { text } from 'node:stream/consumers';
import { WebSocket } from 'ws';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { LINK_PATH, SECRET_HEADER } from '../../../main/transport/websocket.ts';
import { MESSAGE_LIMIT_BYTES, PING_MS } from '../../../main/transport/wire-client.ts';
import { KEY_HEADER, KIND_HEADER, NAME_HEADER, UPLOAD_PATH } from '../../../shared/ipc/handshake.ts';
import { call, codeOf, connect, openLoopback, welcomed, type Loopback } from './loopback-fixture.ts';

let loopback: Loopback;
beforeEach(async () => {
  loopback = await openLoopback();
});
afterEach(() => loopback.close());

type Answer = { status: number; headers: Record<string, string | string[] | undefined>; body: string };
const http = (path: string, options: { method?: string; headers?: Record<string, string>; body?: string | Buffer } = {}): Promise<Answer> =>
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

/** @returns the status that the upgrade was answered with */
const refusedUpgrade = (headers: Record<string, string>, path = '/wire'): Promise<number> =>
  new Promise((resolve, reject) => {
    const socket = new WebSocket(`ws://127.0.0.1:${loopback.port}${path}`, { headers });
    socket.on('unexpected-response', (_, response) => resolve(response.statusCode ?? 0));
    socket.on('open', () => reject(new Error('it was let in')));
    socket.on('error', () => undefined);
  });

const callOf = (input: string): string => `{"type":"call","id":1,"name":"document.save","input":${input}}`;
const ownOrigin = () => `http://127.0.0.1:${loopback.port}`;

describe('files', () => {
  it('are served to this computer with a strict policy and hold no code', async () => {
    const answer = await http('/');
    expect(answer.status).toBe(200);
    expect(answer.headers['content-security-policy']).toContain("script-src 'self'");
    expect(answer.headers['cache-control']).toBe('no-store');
    expect(answer.headers['x-content-type-options']).toBe('nosniff');
    expect(answer.headers['access-control-allow-origin']).toBeUndefined();
    expect(answer.body).toBe('<title>Flueside</title>');
  });

  it('are refused under another name of the computer (a site whose name was pointed here)', async () => {
    expect((await http('/', { headers: { Host: 'burner.example' } })).status).toBe(421);
    expect((await http('/', { headers: { Host: `127.0.0.1:${loopback.port + 1}` } })).status).toBe(421);
    expect((await http('/', { headers: { Host: `localhost:${loopback.port}` } })).status).toBe(200);
  });

  it.each(['/../package.json', '/..%2f..%2fpackage.json', '/%2e%2e/%2e%2e/etc/passwd', '//etc/passwd', '/settings.json'])(
    'are only those that were built: %s',
    async (path) => {
      expect((await http(path)).status).toBe(404);
    },
  );

  it('are not changed by any other method', async () => {
    expect((await http('/', { method: 'DELETE' })).status).toBe(405);
    expect((await http('/', { method: 'POST' })).status).toBe(404);
  });

  it('survive bytes that are no HTTP', async () => {
    const socket = connectTcp(loopback.port, '127.0.0.1');
    socket.on('error', () => undefined);
    socket.resume();
    socket.write(Buffer.from([0, 255, 3, 10, 13, 10, 13, 10]));
    await new Promise((resolve) => socket.once('close', resolve));
    expect((await http('/')).status).toBe(200);
  });
});

describe('the door', () => {
  it('is shut to another Origin, to none, to another Host and to another path', async () => {
    const host = `127.0.0.1:${loopback.port}`;
    expect(await refusedUpgrade({ Host: host, Origin: 'http://burner.example' })).toBe(403);
    expect(await refusedUpgrade({ Host: host, Origin: 'null' })).toBe(403);
    expect(await refusedUpgrade({ Host: host, Origin: `https://127.0.0.1:${loopback.port}` })).toBe(403);
    expect(await refusedUpgrade({ Host: host })).toBe(403);
    expect(await refusedUpgrade({ Host: 'burner.example', Origin: ownOrigin() })).toBe(421);
    expect(await refusedUpgrade({ Host: host, Origin: ownOrigin() }, '/elsewhere')).toBe(404);
    expect(loopback.app.windows()).toBe(0);
  });

  it('refuses a wrong code in words and closes', async () => {
    const client = await connect(loopback.port);
    client.send({ type: 'code', code: 'guessed' });
    expect(await client.next()).toEqual({ type: 'refused', reason: { code: 'link-used' } });
    expect(await client.closed()).toBe(1008);
    expect(loopback.app.windows()).toBe(0);
  });

  it('refuses a code the second time', async () => {
    const code = codeOf(loopback.host.newLink('operator'));
    const first = await connect(loopback.port);
    first.send({ type: 'code', code });
    expect(await first.next()).toMatchObject({ type: 'welcome', role: 'operator' });
    const second = await connect(loopback.port);
    second.send({ type: 'code', code });
    expect(await second.next()).toMatchObject({ type: 'refused', reason: { code: 'link-used' } });
  });

  it('refuses a command before the code', async () => {
    const client = await connect(loopback.port);
    client.send({ type: 'call', id: 1, name: 'run.start', input: {} });
    expect(await client.next()).toMatchObject({ type: 'refused', reason: { code: 'request-invalid' } });
    expect(await client.closed()).toBe(1008);
    expect(loopback.runService.called).toEqual([]);
  });

  it('closes a socket that says nothing for 2 s, not earlier', async () => {
    const client = await connect(loopback.port);
    await loopback.clock.advance(1999);
    expect(client.socket.readyState).toBe(WebSocket.OPEN);
    await loopback.clock.advance(1);
    expect(await client.closed()).toBe(1008);
  });

  it('lets a window back in with its key after a reload', async () => {
    const before = await welcomed(loopback);
    before.socket.close();
    await before.closed();
    const after = await connect(loopback.port);
    after.send({ type: 'key', key: before.key });
    expect(await after.next()).toEqual({ type: 'welcome', key: before.key, role: 'operator' });
    expect((await call(after, 'session.hello')).value).toMatchObject({ role: 'operator' });
  });

  it('bounds how many windows are open', { timeout: 30_000 }, async () => {
    const held = await Promise.all(Array.from({ length: 24 }, () => welcomed(loopback)));
    expect(await refusedUpgrade({ Origin: ownOrigin() })).toBe(503);
    held[0]?.socket.close();
    await held[0]?.closed();
    await loopback.clock.advance(0);
    await expect(connect(loopback.port)).resolves.toBeDefined();
  });

  it('lets the own window in at once beside 40 that show no code and 600 connections that say nothing', { timeout: 60_000 }, async () => {
    await Promise.all(Array.from({ length: 24 }, () => connect(loopback.port)));
    await Promise.allSettled(Array.from({ length: 16 }, () => connect(loopback.port)));
    const idle = Array.from({ length: 600 }, () =>
      createConnection({ port: loopback.port, host: '127.0.0.1' }).on('error', () => undefined),
    );
    await Promise.all(idle.map((socket) => new Promise((resolve) => socket.once('connect', resolve).once('close', resolve))));
    const client = await welcomed(loopback);
    expect((await call(client, 'session.hello')).ok).toBe(true);
    for (const socket of idle) socket.destroy();
  });
});

describe('messages', () => {
  it('are answered', async () => {
    const client = await welcomed(loopback);
    const hello = await call(client, 'session.hello');
    expect(hello.value).toMatchObject({ host: 'browser', role: 'operator', otherWindows: 0 });
  });

  it('that are too big are refused in words, and the window goes on', async () => {
    const client = await welcomed(loopback);
    client.send({ type: 'call', id: 7, name: 'session.hello', input: 'x'.repeat(MESSAGE_LIMIT_BYTES) });
    expect(await client.next()).toEqual({ type: 'refused', reason: { code: 'message-too-big' } });
    expect((await call(client, 'session.hello')).ok).toBe(true);
  });

  it('that are far too big end the socket (RFC 6455 section 7.4.1: 1009)', async () => {
    const client = await welcomed(loopback);
    client.socket.send('x'.repeat(5 * MESSAGE_LIMIT_BYTES));
    expect(await client.closed()).toBe(1009);
    await expect(welcomed(loopback)).resolves.toBeDefined();
  });

  it.each([
    { what: 'no JSON', bytes: Buffer.from('{"type":'), isBinary: false },
    { what: 'a bare number', bytes: Buffer.from('7'), isBinary: false },
    { what: 'nested 5 000 deep', bytes: Buffer.from(`${'['.repeat(5000)}${']'.repeat(5000)}`), isBinary: false },
    { what: 'nested 5 000 deep in their input', bytes: Buffer.from(callOf('['.repeat(5000) + ']'.repeat(5000))), isBinary: false },
    { what: 'of more values than a record of ours holds', bytes: Buffer.from(callOf(`[${'1,'.repeat(250_000)}1]`)), isBinary: false },
    { what: 'binary', bytes: Buffer.from([1, 2, 3]), isBinary: true },
  ])('that are $what are refused in words', async ({ bytes, isBinary }) => {
    const client = await welcomed(loopback);
    client.socket.send(bytes, { binary: isBinary });
    expect(await client.next()).toEqual({ type: 'refused', reason: { code: 'request-invalid' } });
    expect((await call(client, 'session.hello')).ok).toBe(true);
  });

  it.each([
    { what: 'an unknown command', name: 'run.explode', input: {} },
    { what: 'a name from the prototype', name: 'constructor', input: {} },
    { what: 'an unknown key', name: 'run.end', input: { runId: 'a', extra: 1 } },
    { what: 'a wrong type', name: 'run.end', input: { runId: 5 } },
    { what: 'no input', name: 'run.end', input: null },
    { what: 'a path where a run is meant', name: 'run.start', input: { source: { kind: 'replay', path: '/etc/passwd' } } },
  ])('with $what are refused and reach no handler', async ({ name, input }) => {
    const client = await welcomed(loopback);
    const answer = await call(client, name, input);
    expect(answer).toMatchObject({ ok: false, error: { code: 'request-invalid' } });
    expect(answer.error?.detail?.length).toBeGreaterThan(5);
    expect(loopback.runService.called).toEqual([]);
  });

  it('that come too fast are refused, and again taken after a second', async () => {
    const client = await welcomed(loopback);
    for (let id = 1; id <= 500; id += 1) client.send({ type: 'call', id, name: 'run.end', input: { runId: 'a' } });
    const refused = await client.next((message) => JSON.stringify(message).includes('too-fast'));
    expect(refused).toMatchObject({ type: 'reply', id: 401 });
    expect(loopback.runService.called.length).toBe(400);
    await loopback.clock.advance(1000);
    expect((await call(client, 'run.end', { runId: 'a' })).ok).toBe(true);
  });
});

describe('a half-open socket', () => {
  it('is cut off when two pings were not answered', async () => {
    const client = await welcomed(loopback);
    // a peer whose cable is out neither answers nor closes
    client.socket.pong = () => undefined;
    (client.socket as unknown as { _receiver: { removeAllListeners(name: string): void } })._receiver.removeAllListeners('ping');
    await loopback.clock.advance(2 * PING_MS);
    expect(loopback.app.windows()).toBe(1);
    await loopback.clock.advance(PING_MS);
    await client.closed();
    expect(loopback.app.windows()).toBe(0);
  });

  it('is not cut off while it answers', async () => {
    const client = await welcomed(loopback);
    for (let round = 0; round < 6; round += 1) {
      await loopback.clock.advance(PING_MS);
      // the answered call shows that the pong before it has arrived
      expect((await call(client, 'session.hello')).ok).toBe(true);
    }
  });
});

describe('downloads and uploads', () => {
  it('gives a file once, under its own name', async () => {
    loopback.runService.offer('secret-token', { fileName: 'run.csv', mime: 'text/csv', text: 'a,b\n' });
    const first = await http('/download/secret-token');
    expect(first).toMatchObject({ status: 200, body: 'a,b\n' });
    expect(first.headers['content-disposition']).toContain('attachment; filename="run.csv"');
    expect((await http('/download/secret-token')).status).toBe(404);
  });

  it('takes a file from a window that shows its key', async () => {
    const { key } = await welcomed(loopback);
    const headers = { Origin: ownOrigin(), [KEY_HEADER]: key, [NAME_HEADER]: encodeURIComponent('../Heizung Süd.run') };
    const answer = await http(UPLOAD_PATH, { method: 'POST', headers, body: 'abc' });
    expect(answer.status).toBe(200);
    expect(JSON.parse(answer.body)).toMatchObject({ fileName: 'Heizung Süd.run', bytes: 3 });
  });

  it('takes none without key, from elsewhere, from a viewer, or announced too big', async () => {
    const { key } = await welcomed(loopback);
    const viewer = await welcomed(loopback, 'viewer');
    const post = (headers: Record<string, string>) => http(UPLOAD_PATH, { method: 'POST', headers, body: 'abc' });
    expect((await post({ Origin: ownOrigin() })).status).toBe(403);
    expect((await post({ Origin: ownOrigin(), [KEY_HEADER]: 'guessed' })).status).toBe(403);
    expect((await post({ Origin: 'http://burner.example', [KEY_HEADER]: key })).status).toBe(403);
    expect((await post({ Origin: ownOrigin(), [KEY_HEADER]: viewer.key })).status).toBe(403);
    const tooBig = await http(UPLOAD_PATH, {
      method: 'POST',
      headers: { Origin: ownOrigin(), [KEY_HEADER]: key, 'Content-Length': String(65 * 1024 * 1024) },
    });
    expect(tooBig).toMatchObject({ status: 413 });
    expect(JSON.parse(tooBig.body)).toMatchObject({ code: 'file-too-big' });
  });

  it('takes a backup that is bigger than any other file may be', async () => {
    const { key } = await welcomed(loopback);
    const body = Buffer.alloc(65 * 1024 * 1024);
    const headers = { Origin: ownOrigin(), [KEY_HEADER]: key, [KIND_HEADER]: 'backup', [NAME_HEADER]: 'backup.zip' };
    const answer = await http(UPLOAD_PATH, { method: 'POST', headers, body });
    expect(answer.status).toBe(200);
    expect(JSON.parse(answer.body)).toMatchObject({ fileName: 'backup.zip', bytes: body.length });
  });
});

describe('a second start', () => {
  it('gets a link for a new window with the secret of the lock file', async () => {
    const answer = await http(LINK_PATH, { method: 'POST', headers: { [SECRET_HEADER]: loopback.host.secret } });
    expect(answer.status).toBe(200);
    const { link } = JSON.parse(answer.body) as { link: string };
    const client = await connect(loopback.port);
    client.send({ type: 'code', code: codeOf(link) });
    expect(await client.next()).toMatchObject({ type: 'welcome', role: 'operator' });
  });

  it('gets one for a viewer when it asks for that, and none for a role that there is not', async () => {
    const ask = (role: string) => http(`${LINK_PATH}?role=${role}`, { method: 'POST', headers: { [SECRET_HEADER]: loopback.host.secret } });
    const { link } = JSON.parse((await ask('viewer')).body) as { link: string };
    const client = await connect(loopback.port);
    client.send({ type: 'code', code: codeOf(link) });
    expect(await client.next()).toMatchObject({ type: 'welcome', role: 'viewer' });
    expect((await ask('owner')).status).toBe(403);
  });

  it('gets none with a wrong secret, and a page never', async () => {
    expect((await http(LINK_PATH, { method: 'POST', headers: { [SECRET_HEADER]: 'guessed' } })).status).toBe(403);
    expect((await http(LINK_PATH, { method: 'POST' })).status).toBe(403);
    const fromPage = { [SECRET_HEADER]: loopback.host.secret, Origin: ownOrigin() };
    expect((await http(LINK_PATH, { method: 'POST', headers: fromPage })).status).toBe(403);
  });
});

describe('two windows', () => {
  it('share one operator: the new one takes over and the old one is told', async () => {
    const first = await welcomed(loopback);
    const second = await welcomed(loopback);
    const told = await first.next((message) => message['name'] === 'session.changed');
    expect(told['payload']).toEqual({ role: 'viewer', reason: 'taken-over', otherWindows: 1 });
    expect(await call(first, 'run.end', { runId: 'a' })).toMatchObject({ ok: false, error: { code: 'not-allowed' } });
    expect((await call(second, 'run.end', { runId: 'a' })).ok).toBe(true);
    expect(await call(first, 'session.takeOver')).toMatchObject({ ok: true, value: { role: 'operator' } });
    expect(await call(second, 'run.end', { runId: 'a' })).toMatchObject({ ok: false });
  });

  it('whose key allows only looking never get the controls', async () => {
    const viewer = await welcomed(loopback, 'viewer');
    expect(await call(viewer, 'session.takeOver')).toMatchObject({ ok: false, error: { code: 'not-allowed' } });
    expect(await call(viewer, 'session.hello', { wish: 'operator' })).toMatchObject({ ok: false });
    expect(await call(viewer, 'settings.change', { patch: { theme: 'dark' } })).toMatchObject({ ok: false });
    expect(loopback.runService.called).toEqual([]);
  });
});

it('closes every window when the host ends', async () => {
  const client = await welcomed(loopback);
  await loopback.host.close();
  await client.closed();
  expect(loopback.app.windows()).toBe(0);
});
