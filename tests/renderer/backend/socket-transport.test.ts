import { describe, expect, it } from 'vitest';
import { KEY_SLOT } from '../../../shared/ipc/handshake.ts';
import { connectSocket, greetingOf, type Page } from '../../../renderer/backend/socket-transport.ts';

function fakePage(hash: string, stored: Record<string, string> = {}) {
  const replaced: string[] = [];
  const storage = new Map(Object.entries(stored));
  const page = {
    location: { hash, pathname: '/', search: '', protocol: 'http:', host: '127.0.0.1:5000' },
    history: { replaceState: (_state: unknown, _title: string, address: string) => replaced.push(address) },
    sessionStorage: {
      getItem: (key: string) => storage.get(key) ?? null,
      setItem: (key: string, value: string) => void storage.set(key, value),
      removeItem: (key: string) => void storage.delete(key),
    },
  } as unknown as Page;
  return { page, replaced, storage };
}
function fakeSocket() {
  const sent: unknown[] = [];
  const socket = {
    send: (text: string) => sent.push(JSON.parse(text)),
    onopen: null,
    onmessage: null,
    onclose: null,
  } as unknown as WebSocket & { onopen: () => void; onmessage: (event: { data: string }) => void; onclose: () => void };
  return { socket, sent, say: (message: unknown) => socket.onmessage({ data: JSON.stringify(message) }) };
}

describe('greeting', () => {
  it('takes the code out of the address at once', () => {
    const { page, replaced } = fakePage('#code=abc');
    expect(greetingOf(page)).toEqual({ type: 'code', code: 'abc' });
    expect(replaced).toEqual(['/']);
  });
  it('uses the kept key after a reload, and nothing otherwise', () => {
    expect(greetingOf(fakePage('', { [KEY_SLOT]: 'k' }).page)).toEqual({ type: 'key', key: 'k' });
    expect(greetingOf(fakePage('').page)).toBeUndefined();
  });
});

describe('wire', () => {
  it('greets first, keeps the key, then passes messages on', async () => {
    const { page, storage } = fakePage('#code=abc');
    const { socket, sent, say } = fakeSocket();
    const opened: string[] = [];
    const connection = connectSocket(page, (address) => (opened.push(address), socket));
    socket.onopen();
    say({ type: 'welcome', key: 'kept', role: 'operator' });
    const result = await connection;
    if (result.kind !== 'open') throw new Error('not open');
    const heard: unknown[] = [];
    result.transport.onMessage((message) => heard.push(message));
    say({ type: 'event', name: 'x', payload: 1 });
    result.transport.send({ type: 'call' });
    socket.onclose();
    expect(opened).toEqual(['ws://127.0.0.1:5000/wire']);
    expect(sent).toEqual([{ type: 'code', code: 'abc' }, { type: 'call' }]);
    expect(storage.get(KEY_SLOT)).toBe('kept');
    expect(heard).toEqual([
      { type: 'event', name: 'x', payload: 1 },
      { type: 'event', name: 'wire.closed', payload: { reason: 'socket closed' } },
    ]);
  });
  it('says why it was refused and forgets a stale key', async () => {
    const { page, storage } = fakePage('', { [KEY_SLOT]: 'old' });
    const { socket, say } = fakeSocket();
    const connection = connectSocket(page, () => socket);
    say({ type: 'refused', reason: { code: 'not-allowed' } });
    expect(await connection).toMatchObject({ kind: 'refused', reason: expect.stringContaining('View only') as string });
    expect(storage.has(KEY_SLOT)).toBe(false);
  });
  it('does not hang when the host closes before the welcome, or without a greeting', async () => {
    const { socket } = fakeSocket();
    const connection = connectSocket(fakePage('#code=a').page, () => socket);
    socket.onclose();
    expect((await connection).kind).toBe('refused');
    expect((await connectSocket(fakePage('').page, () => socket)).kind).toBe('refused');
  });
});
