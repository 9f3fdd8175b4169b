/** Who is served over loopback, and with what. */
import { createConnection } from 'node:net';
import { connect as connectTcp } from 'node:net';
import { WebSocket } from 'ws';
import { describe, expect, it } from 'vitest';
import { LINK_PATH, SECRET_HEADER } from '../../../main/transport/websocket.ts';
import { call, codeOf, connect, welcomed } from './loopback-fixture.ts';
import { loopback, http, ownOrigin, openBeforeEach } from './loopback-http.ts';

openBeforeEach();

/** @returns the status that the upgrade was answered with */
const refusedUpgrade = (headers: Record<string, string>, path = '/wire'): Promise<number> =>
  new Promise((resolve, reject) => {
    const socket = new WebSocket(`ws://127.0.0.1:${loopback.port}${path}`, { headers });
    socket.on('unexpected-response', (_, response) => resolve(response.statusCode ?? 0));
    socket.on('open', () => reject(new Error('it was let in')));
    socket.on('error', () => undefined);
  });

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
