/** What travels over loopback between the host and its windows. */
import { describe, expect, it } from 'vitest';
import { MESSAGE_LIMIT_BYTES, PING_MS } from '../../../main/transport/wire-client.ts';
import { KEY_HEADER, KIND_HEADER, NAME_HEADER, UPLOAD_PATH } from '../../../shared/ipc/handshake.ts';
import { call, welcomed } from './loopback-fixture.ts';
import { loopback, http, ownOrigin, openBeforeEach } from './loopback-http.ts';

openBeforeEach();

const callOf = (input: string): string => `{"type":"call","id":1,"name":"document.save","input":${input}}`;

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
