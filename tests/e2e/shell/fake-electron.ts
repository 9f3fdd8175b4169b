/**
 * Stands in for Electron's main process: everything that main/electron.ts touches, typed against the real typings. Runs in a process of its own;
 * its windows are pages of a browser that the journey holds, and talk to it over the process channel, which clones messages as Electron's does.
 * It reports as a breach: a dialog that waits, and a loop that stands still for more than 200 ms while a run is measured.
 */
import type * as Electron from 'electron';
import { EventEmitter } from 'node:events';
import { mkdirSync, readFileSync, readdirSync, rmSync, watch, writeFileSync } from 'node:fs';
import { homedir } from 'node:os';
import { join } from 'node:path';
import { handlers, listen, toApp, toLoopback } from './app-addresses.ts';
import { askJourney, breach, nextId, onHeard, tell } from './journey-channel.ts';
import { setMeasuring } from './watched-loop.ts';

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
    await listen();
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
  readonly id = nextId();
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

// ---- the loop is watched (watched-loop.ts) while the computer is kept awake, which it is exactly as long as a run is measured

const awake = new Set<number>();
export const powerSaveBlocker: Pick<Electron.PowerSaveBlocker, 'start' | 'stop' | 'isStarted'> = {
  start: () => {
    const id = nextId();
    awake.add(id);
    setMeasuring(true);
    return id;
  },
  stop: (id) => {
    const had = awake.delete(id);
    setMeasuring(awake.size > 0);
    return had;
  },
  isStarted: (id) => awake.has(id),
};
onHeard('is-awake', ({ id }) => tell({ kind: 'is-awake', id, value: awake.size > 0 }));
/** for the check of the check */
onHeard('stand-still', ({ ms }) => Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, ms));
onHeard('wait-in-dialog', () => dialog.showMessageBoxSync());
