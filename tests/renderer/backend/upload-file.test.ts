// @vitest-environment happy-dom
/** A file on its way to the host: what a person is told when it does not get there. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { connect } from '../../../renderer/backend/connect.ts';
import { uploadFile } from '../../../renderer/backend/upload-file.ts';
import {
  BACKUP_LIMIT_BYTES,
  KEY_HEADER,
  KEY_SLOT,
  KIND_HEADER,
  NAME_HEADER,
  UPLOAD_LIMIT_BYTES,
  UPLOAD_PATH,
} from '../../../shared/ipc/handshake.ts';
import { problem } from '../../../shared/problem.ts';

type Sent = { path: string; init: RequestInit };
let sent: Sent[] = [];
function hostSays(status: number, said: unknown): void {
  vi.stubGlobal('fetch', (path: string, init: RequestInit) => {
    sent.push({ path, init });
    return Promise.resolve({ status, json: () => (said instanceof Error ? Promise.reject(said) : Promise.resolve(said)) });
  });
}
const fileOf = (size: number, name = 'a.run'): File => ({ name, size }) as File;
beforeEach(() => {
  sent = [];
  sessionStorage.clear();
});
afterEach(() => vi.unstubAllGlobals());

describe('a file that is handed in', () => {
  it('goes with the key of the session and its name, whatever letters it has, and comes back as a name for it', async () => {
    hostSays(200, { upload: 'up-1', fileName: 'a.run', bytes: 10 });
    sessionStorage.setItem(KEY_SLOT, 'the key');
    expect(await uploadFile(fileOf(10, 'Kessel größer.run'))).toEqual({ upload: 'up-1' });
    const [{ path, init } = { path: '', init: {} }] = sent;
    expect([path, init.method]).toEqual([`.${UPLOAD_PATH}`, 'POST']);
    const headers = init.headers as Record<string, string>;
    expect([headers[KEY_HEADER], headers[KIND_HEADER]]).toEqual(['the key', 'file']);
    expect(headers[NAME_HEADER]).toMatch(/^[\x20-\x7e]+$/);
    expect(decodeURIComponent(headers[NAME_HEADER] ?? '')).toBe('Kessel größer.run');
  });

  it.each([
    ['file', UPLOAD_LIMIT_BYTES],
    ['backup', BACKUP_LIMIT_BYTES],
  ] as const)('is not sent where the host would refuse it: %s of more than %i bytes', async (kind, limit) => {
    hostSays(200, { upload: 'up-1', fileName: 'a.run', bytes: 10 });
    expect(await uploadFile(fileOf(limit + 1), kind)).toBe('too-big');
    expect(sent).toEqual([]);
    expect(await uploadFile(fileOf(limit), kind)).toEqual({ upload: 'up-1' });
  });

  it.each([
    ['the host finds it too big', 413, problem('file-too-big'), 'too-big'],
    ['the host says so without words', 413, {}, 'too-big'],
    ['the disk of the host is full', 413, problem('disk-full'), 'disk-full'],
    ['the host refuses it', 403, problem('request-invalid'), 'failed'],
    ['the answer is none of ours', 200, { somethingElse: 1 }, 'failed'],
    ['the answer is no data', 200, new Error('no JSON'), 'failed'],
  ] as const)('%s', async (_, status, said, told) => {
    hostSays(status, said);
    expect(await uploadFile(fileOf(10))).toBe(told);
  });

  it('does not get there while the host is away', async () => {
    vi.stubGlobal('fetch', () => Promise.reject(new TypeError('refused')));
    expect(await uploadFile(fileOf(10))).toBe('failed');
  });
});

it('in the desktop shell the window takes the shell’s own way to the host and opens no socket', async () => {
  const transport = { send: () => undefined, onMessage: () => () => undefined };
  const sockets: unknown[] = [];
  vi.stubGlobal(
    'WebSocket',
    class {
      constructor(...of: unknown[]) {
        sockets.push(of);
      }
    },
  );
  expect(await connect({ flueside: transport } as unknown as Window)).toEqual({ kind: 'open', transport });
  expect(sockets).toEqual([]);
});
