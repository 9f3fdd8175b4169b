/** The wiring of the desktop shell, run whole against a stand-in for the runtime: window, wire, protocol, power, closing, end. */
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { once } from 'node:events';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it, vi } from 'vitest';
import { LOCK_FILE } from '../../../main/session/instance-lock.ts';
import { WIRE_CHANNEL } from '../../../main/transport/electron.ts';
import { createFakeElectron } from './fake-electron.ts';

const folder = mkdtempSync(join(tmpdir(), 'flueside-entry-'));
const fake = createFakeElectron(folder);
// outside of its runtime the real package would try to download it
vi.mock('electron', () => fake.electron);

const before = [...process.argv];

beforeAll(async () => {
  process.argv = ['electron', '.', '--data', folder, '--source', 'none'];
  await import('../../../main/electron.ts');
  await vi.waitUntil(() => fake.windows.length === 1);
});
afterAll(() => {
  process.argv = before;
  rmSync(folder, { recursive: true, force: true });
});

const window = () => fake.windows[0] ?? expect.fail('no window');
let nextId = 0;
async function call(name: string, input: object = {}): Promise<{ ok: boolean; value: Record<string, unknown> }> {
  const { webContents } = window();
  const id = (nextId += 1);
  const answered = () => webContents.sent.find(({ message }) => message['type'] === 'reply' && message['id'] === id);
  fake.electron.ipcMain.emit(
    WIRE_CHANNEL,
    { sender: webContents, senderFrame: { url: 'app://flueside/', parent: null } },
    { type: 'call', id, name, input },
  );
  while (answered() === undefined) await once(webContents, 'sent');
  return answered()?.message['result'] as { ok: boolean; value: Record<string, unknown> };
}

it('sets scheme, sandbox and folder before it is ready', () => {
  const ready = fake.calls.indexOf('whenReady');
  const scheme = 'registerSchemes [{"scheme":"app","privileges":{"standard":true,"secure":true,"supportFetchAPI":true,"stream":true}}]';
  for (const early of [
    scheme,
    'enableSandbox',
    `setPath "userData" ${JSON.stringify(join(folder, 'shell'))}`,
    `requestSingleInstanceLock {"files":[]}`,
  ]) {
    expect(fake.calls).toContain(early);
    expect(fake.calls.indexOf(early)).toBeLessThan(ready);
  }
});

it('opens one protected window on its own page, and shows it when it is drawn', () => {
  expect(window().options).toMatchObject({
    show: false,
    webPreferences: { sandbox: true, contextIsolation: true, nodeIntegration: false },
  });
  expect((window().options as { webPreferences: { preload: string } }).webPreferences.preload).toMatch(/preload\.cjs$/);
  expect(window().loaded).toEqual(['app://flueside/']);
  expect(fake.calls).not.toContain('window.show');
  window().emit('ready-to-show');
  expect(fake.calls).toContain('window.show');
});

it('holds every rule of the shell on the window and the session', () => {
  expect(window().webContents.openHandler?.()).toEqual({ action: 'deny' });
  expect(window().webContents.eventNames()).toEqual(
    expect.arrayContaining(['will-navigate', 'will-frame-navigate', 'will-redirect', 'will-attach-webview', 'render-process-gone']),
  );
  expect(Object.keys(fake.handlers).sort()).toEqual(['app', 'check', 'device', 'load', 'permission', 'will-download']);
});

it('answers the window over its wire', async () => {
  expect(await call('session.hello')).toMatchObject({ ok: true, value: { host: 'electron', role: 'operator', dataFolder: folder } });
});

it('answers the app scheme', async () => {
  const answer = (await (fake.handlers['app'] as unknown as (request: Request) => Promise<Response>)(
    new Request('app://flueside/nowhere'),
  )) satisfies Response;
  expect(answer.status).toBe(404);
  expect(answer.headers.get('content-security-policy')).toContain("script-src 'self'");
});

it('keeps the machine awake during a run, and asks before the window closes on it', async () => {
  const started = await call('run.start', { source: { kind: 'simulated' } });
  expect(started.ok).toBe(true);
  await vi.waitUntil(() => fake.calls.includes('power.start "prevent-app-suspension"'));
  window().close();
  window().close();
  expect(fake.questions).toHaveLength(1);
  expect(fake.calls).not.toContain('showMessageBoxSync');
  const before = fake.windows.length;
  fake.questions[0]?.answer(0);
  await Promise.resolve();
  expect(fake.windows).toHaveLength(before);
  await call('run.end', { runId: started.value['runId'] });
  await vi.waitUntil(() => fake.calls.includes('power.stop 7'));
});

it('shows its window again for a second start', () => {
  const focused = fake.calls.filter((entry) => entry === 'window.focus').length;
  const shown = fake.calls.filter((entry) => entry === 'window.show').length;
  fake.electron.app.emit('second-instance', {}, ['electron', '.'], folder, { files: [] });
  expect(fake.calls.filter((entry) => entry === 'window.focus').length).toBe(focused + 1);
  expect(fake.calls.filter((entry) => entry === 'window.show').length).toBe(shown + 1);
  expect(fake.windows).toHaveLength(1);
});

it('loads the page anew after its process has crashed, but not for ever', async () => {
  window().webContents.emit('render-process-gone', {}, { reason: 'crashed' });
  window().webContents.emit('render-process-gone', {}, { reason: 'crashed' });
  expect(window().loaded).toHaveLength(2);
  expect((await call('session.hello')).ok).toBe(true);
});

it('ends in an orderly way and gives the folder free', async () => {
  expect(existsSync(join(folder, LOCK_FILE))).toBe(true);
  const exited = once(fake.electron.app, 'exited');
  // no run is measured: the cross closes the window at once, and with its main window the app ends
  window().close();
  await exited;
  expect(fake.calls.at(-1)).toBe('exit 0');
  expect(existsSync(join(folder, LOCK_FILE))).toBe(false);
  await vi.waitUntil(() => existsSync(join(folder, 'shell', 'window.json')));
  expect(JSON.parse(readFileSync(join(folder, 'shell', 'window.json'), 'utf8'))).toMatchObject({ place: { x: 40, y: 50, width: 1200 } });
});
