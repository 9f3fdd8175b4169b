/**
 * Stands in for Electron's main process: everything that main/electron.ts touches, typed against the real typings. Runs in a process of its own;
 * its windows are pages of a browser that the journey holds, and talk to it over the process channel, which clones messages as Electron's does.
 * It reports as a breach: a dialog that waits, and a loop that stands still for more than 200 ms while a run is measured.
 */
import type * as Electron from 'electron';
import { EventEmitter, once } from 'node:events';
import { mkdirSync, readFileSync, readdirSync, rmSync, watch, writeFileSync } from 'node:fs';
import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { homedir } from 'node:os';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { Worker } from 'node:worker_threads';
import type { FromShell, ToShell } from './fake-messages.ts';

const tell = (message: FromShell): void => void process.send?.(message);
const heard = new EventEmitter();
// one turn for each, as the real runtime gives it: what follows from an answer is done before the next press is heard
process.on('message', (message: ToShell) => setImmediate(() => heard.emit(message.kind, message)));
const onHeard = <K extends ToShell['kind']>(kind: K, listener: (message: Extract<ToShell, { kind: K }>) => void): void =>
  void heard.on(kind, listener);

let nextId = 0;
const waiting = new Map<number, { done: (value: unknown) => void; fail: (why: Error) => void }>();
onHeard('answer', ({ id, value, failure }) => {
  const one = waiting.get(id);
  waiting.delete(id);
  if (failure === undefined) one?.done(value);
  else one?.fail(new Error(failure));
});
const askJourney = <T>(make: (id: number) => FromShell): Promise<T> =>
  new Promise<T>((done, fail) => {
    const id = (nextId += 1);
    waiting.set(id, { done: done as (value: unknown) => void, fail });
    tell(make(id));
  });

// ---- addresses: app://flueside/ is served over loopback, and named as before on the way in

const handlers = new Map<string, (request: Request) => Response | Promise<Response>>();
let base = '';
const toApp = (address: string): string => address.replace(base, 'app://flueside');
const toLoopback = (address: string): string => address.replace('app://flueside', base);

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

// ---- app

const paths = new Map<string, string>([['documents', join(homedir(), 'Documents')]]);
const startsFolder = (): string => join(paths.get('userData') ?? '', 'second-starts');
const holder = (): string => join(paths.get('userData') ?? '', 'single-instance');
const isAlive = (pid: number): boolean => {
  try {
    process.kill(pid, 0);
    return true;
  } catch {
    return false;
  }
};

type AppParts = Pick<
  Electron.App,
  | 'isPackaged'
  | 'enableSandbox'
  | 'setPath'
  | 'getPath'
  | 'setAppUserModelId'
  | 'requestSingleInstanceLock'
  | 'whenReady'
  | 'quit'
  | 'exit'
  | 'addRecentDocument'
  | 'disableHardwareAcceleration'
> & { commandLine: Pick<Electron.CommandLine, 'hasSwitch'>; dock: undefined };
const appParts: AppParts = {
  isPackaged: false,
  dock: undefined,
  commandLine: { hasSwitch: () => false },
  enableSandbox: () => undefined,
  disableHardwareAcceleration: () => undefined,
  setPath: (name, path) => void paths.set(name, path),
  getPath: (name) => paths.get(name) ?? homedir(),
  setAppUserModelId: () => undefined,
  addRecentDocument: () => undefined,
  requestSingleInstanceLock(handedOver) {
    mkdirSync(startsFolder(), { recursive: true });
    const pid = readNumber(holder());
    if (pid !== undefined && pid !== process.pid && isAlive(pid)) {
      writeFileSync(join(startsFolder(), `${process.pid}.json`), JSON.stringify(structuredClone(handedOver)));
      return false;
    }
    writeFileSync(holder(), String(process.pid));
    watch(startsFolder(), () => {
      for (const name of readdirSync(startsFolder())) {
        const text = readFileSync(join(startsFolder(), name), 'utf8');
        if (text === '') continue;
        rmSync(join(startsFolder(), name));
        app.emit('second-instance', {}, ['sorted', 'anew'], '/', JSON.parse(text));
      }
    });
    return true;
  },
  async whenReady() {
    if (base === '') {
      server.listen(0, '127.0.0.1');
      await once(server, 'listening');
      base = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
    }
  },
  quit: () => process.exit(0),
  exit: (code) => {
    rmSync(holder(), { force: true });
    process.exit(code);
  },
};
export const app = Object.assign(new EventEmitter(), appParts);

function readNumber(path: string): number | undefined {
  try {
    return Number(readFileSync(path, 'utf8'));
  } catch {
    return undefined;
  }
}

// ---- windows

type ContentsParts = Pick<
  Electron.WebContents,
  'setWindowOpenHandler' | 'send' | 'isDestroyed' | 'setZoomLevel' | 'getZoomLevel' | 'printToPDF'
>;
class FakeContents extends EventEmitter implements ContentsParts {
  private zoom = 0;
  constructor(
    readonly id: number,
    readonly isGone: () => boolean,
  ) {
    super();
  }
  // the page of the journey's browser opens no other either (fake-shell.ts); what is decided here is held by the unit tests
  setWindowOpenHandler(): void {}
  send(channel: string, ...values: unknown[]): void {
    tell({ kind: 'send', window: this.id, channel, message: structuredClone(values[0]) });
  }
  isDestroyed(): boolean {
    return this.isGone();
  }
  setZoomLevel(level: number): void {
    this.zoom = level;
  }
  getZoomLevel(): number {
    return this.zoom;
  }
  async printToPDF(options: Electron.PrintToPDFOptions): Promise<Buffer> {
    return Buffer.from(await askJourney<Uint8Array>((id) => ({ kind: 'print', id, window: this.id, options })));
  }
}

type WindowParts = Pick<
  Electron.BrowserWindow,
  | 'loadURL'
  | 'show'
  | 'focus'
  | 'restore'
  | 'close'
  | 'destroy'
  | 'maximize'
  | 'setFullScreen'
  | 'isMinimized'
  | 'isMaximized'
  | 'isFullScreen'
  | 'isDestroyed'
  | 'getNormalBounds'
>;
const windows = new Map<number, BrowserWindow>();
export class BrowserWindow extends EventEmitter implements WindowParts {
  readonly id = (nextId += 1);
  private gone = false;
  readonly webContents = new FakeContents(this.id, () => this.gone);
  constructor(private readonly options: Electron.BrowserWindowConstructorOptions) {
    super();
    windows.set(this.id, this);
    app.emit('web-contents-created', {}, this.webContents);
  }
  async loadURL(address: string): Promise<void> {
    const { width = 800, height = 600, webPreferences } = this.options;
    const hasPreload = webPreferences?.preload !== undefined;
    await askJourney((id) => ({ kind: 'load', id, window: this.id, address: toLoopback(address), width, height, hasPreload }));
    this.emit('ready-to-show');
    this.webContents.emit('did-finish-load');
  }
  show(): void {
    tell({ kind: 'shown', window: this.id });
  }
  focus(): void {}
  restore(): void {}
  maximize(): void {}
  setFullScreen(): void {}
  isMinimized(): boolean {
    return false;
  }
  isMaximized(): boolean {
    return false;
  }
  isFullScreen(): boolean {
    return false;
  }
  isDestroyed(): boolean {
    return this.gone;
  }
  getNormalBounds(): Electron.Rectangle {
    return { x: 0, y: 0, width: this.options.width ?? 800, height: this.options.height ?? 600 };
  }
  close(): void {
    let isStopped = false;
    this.emit('close', { preventDefault: () => (isStopped = true) });
    if (!isStopped) this.destroy();
  }
  destroy(): void {
    if (this.gone) return;
    this.gone = true;
    windows.delete(this.id);
    tell({ kind: 'gone', window: this.id });
    this.emit('closed');
    if (windows.size === 0) app.emit('window-all-closed');
  }
}
onHeard('press-cross', ({ window }) => windows.get(window)?.close());
onHeard('crashed', ({ window }) => windows.get(window)?.webContents.emit('render-process-gone', {}, { reason: 'crashed', exitCode: 1 }));
onHeard('wire', ({ window, channel, message, frame }) => {
  const sender = windows.get(window)?.webContents;
  const senderFrame = { url: toApp(frame.address), parent: frame.isMain ? null : {} };
  if (sender !== undefined) ipcMain.emit(channel, { sender, senderFrame }, message);
});

export const ipcMain = new EventEmitter();

// ---- dialogs, menus, downloads

const breach = (what: string): void => tell({ kind: 'breach', what });
/** A parent window may come before the options. */
const lastOf = <T>(values: readonly unknown[]): T => values.at(-1) as T;
export const dialog = {
  showMessageBox: (...values: unknown[]): Promise<Electron.MessageBoxReturnValue> => {
    const { message, detail = '', buttons = ['OK'] } = lastOf<Electron.MessageBoxOptions>(values);
    return askJourney((id) => ({ kind: 'question', id, message, detail, buttons }));
  },
  showOpenDialog: (): Promise<Electron.OpenDialogReturnValue> => Promise.resolve({ canceled: true, filePaths: [] }),
  showMessageBoxSync: (): number => (breach('dialog.showMessageBoxSync was called'), 0),
  showErrorBox: (): void => breach('dialog.showErrorBox was called'),
  showOpenDialogSync: (): undefined => breach('dialog.showOpenDialogSync was called') as undefined,
  showSaveDialogSync: (): string => (breach('dialog.showSaveDialogSync was called'), ''),
} satisfies Record<
  keyof Pick<
    Electron.Dialog,
    'showMessageBox' | 'showOpenDialog' | 'showMessageBoxSync' | 'showErrorBox' | 'showOpenDialogSync' | 'showSaveDialogSync'
  >,
  unknown
>;

export const Menu = {
  setApplicationMenu: () => undefined,
  buildFromTemplate: (template: Electron.MenuItemConstructorOptions[]) => template,
};

const events = new EventEmitter();
type SessionParts = Pick<Electron.Session, 'setPermissionRequestHandler' | 'setPermissionCheckHandler' | 'setDevicePermissionHandler'>;
const sessionParts: SessionParts = {
  setPermissionRequestHandler: () => undefined,
  setPermissionCheckHandler: () => undefined,
  setDevicePermissionHandler: () => undefined,
};
export const session = {
  defaultSession: Object.assign(events, sessionParts, { webRequest: { onBeforeRequest: () => undefined } }),
};
onHeard('download', ({ id, address, fileName }) => {
  let isStopped = false;
  let target = '';
  const item: Pick<Electron.DownloadItem, 'getURL' | 'getFilename' | 'setSaveDialogOptions'> & { once: () => void } = {
    getURL: () => toApp(address),
    getFilename: () => fileName,
    setSaveDialogOptions: ({ defaultPath = '' }) => void (target = defaultPath),
    once: () => undefined,
  };
  events.emit('will-download', { preventDefault: () => (isStopped = true) }, item);
  tell({ kind: 'save', id, path: isStopped ? undefined : target });
});

export const protocol: Pick<Electron.Protocol, 'handle' | 'registerSchemesAsPrivileged'> = {
  registerSchemesAsPrivileged: () => undefined,
  handle: (scheme, handler) => void handlers.set(scheme, handler),
};
export const shell: Pick<Electron.Shell, 'openExternal' | 'openPath'> = {
  openExternal: () => Promise.resolve(),
  openPath: () => Promise.resolve(''),
};
export const nativeTheme: Pick<Electron.NativeTheme, 'shouldUseDarkColors' | 'themeSource'> = {
  shouldUseDarkColors: false,
  themeSource: 'system',
};
/** No keychain here: nothing is stored that would only be hidden. */
export const safeStorage: Pick<Electron.SafeStorage, 'isEncryptionAvailable' | 'getSelectedStorageBackend'> = {
  isEncryptionAvailable: () => false,
  getSelectedStorageBackend: () => 'basic_text',
};

export const powerMonitor = new EventEmitter();
const display = { id: 1, workArea: { x: 0, y: 0, width: 1440, height: 870 } };
export const screen = { getPrimaryDisplay: () => display, getAllDisplays: () => [display] };

// ---- the loop, watched while the computer is kept awake, which it is exactly as long as a run is measured

const awake = new Set<number>();
export const powerSaveBlocker: Pick<Electron.PowerSaveBlocker, 'start' | 'stop' | 'isStarted'> = {
  start: () => {
    const id = (nextId += 1);
    awake.add(id);
    Atomics.store(beats, MEASURING, 1);
    return id;
  },
  stop: (id) => {
    const had = awake.delete(id);
    Atomics.store(beats, MEASURING, awake.size > 0 ? 1 : 0);
    return had;
  },
  isStarted: (id) => awake.has(id),
};
onHeard('is-awake', ({ id }) => tell({ kind: 'is-awake', id, value: awake.size > 0 }));
/** for the check of the check */
onHeard('stand-still', ({ ms }) => Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, ms));
onHeard('wait-in-dialog', () => dialog.showMessageBoxSync());

const BEAT = 0;
const MEASURING = 1;
const beats = new Int32Array(new SharedArrayBuffer(8));
setInterval(() => Atomics.add(beats, BEAT, 1), 10).unref();
/**
 * A thread of its own counts how long the loop's beat stays the same. It counts its own turns, at most 25 ms each, and takes off what the loop's
 * thread has waited for a processor meanwhile (where the system tells): a computer that is busy elsewhere is no fault of the loop's. Then it asks the
 * loop where it is (not earlier: that takes the loop's time as well); the answer comes with the next line of script.
 */
const watcher = new Worker(
  `const { workerData, parentPort } = require('node:worker_threads');
   const { Session } = require('node:inspector');
   const { readFileSync } = require('node:fs');
   // on Linux: ns on a processor, ns waited for one, turns
   function waitedMs() {
     try { return Number(readFileSync('/proc/' + process.pid + '/task/' + process.pid + '/schedstat', 'latin1').split(' ')[1]) / 1e6; }
     catch { return 0; }
   }
   const beats = new Int32Array(workerData);
   let last = -1, stillMs = 0, beforeMs = performance.now(), waitedBeforeMs = waitedMs(), session, where = 'somewhere outside the script';
   function ask() {
     if (session !== undefined) return;
     session = new Session();
     session.connectToMainThread();
     session.on('Debugger.paused', ({ params }) => {
       where = params.callFrames.slice(0, 8).map(({ functionName, location }) => functionName + ':' + (location.lineNumber + 1)).join(' < ');
       session.post('Debugger.resume');
     });
     session.post('Debugger.enable');
     session.post('Debugger.pause');
   }
   setInterval(() => {
     const nowMs = performance.now();
     const turnMs = Math.min(25, nowMs - beforeMs);
     beforeMs = nowMs;
     const beat = Atomics.load(beats, 0);
     const isStill = beat === last && Atomics.load(beats, 1) === 1;
     last = beat;
     if (isStill) {
       stillMs += turnMs;
       if (stillMs > 200) ask();
       return;
     }
     // what a thread has waited is counted when it gets its turn
     const waitedNowMs = waitedMs();
     if (stillMs - (waitedNowMs - waitedBeforeMs) > 200) parentPort.postMessage(where);
     waitedBeforeMs = waitedNowMs;
     stillMs = 0;
     session?.disconnect();
     session = undefined;
     where = 'somewhere outside the script';
   }, 10);`,
  { eval: true, workerData: beats.buffer },
);
watcher.unref();
let reported = false;
watcher.on('message', (where: string) => {
  if (!reported) breach(`the loop stood still for more than 200 ms during a run: ${where}`);
  reported = true;
});
