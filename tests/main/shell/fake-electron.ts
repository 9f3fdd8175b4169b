/** Stands in for Electron's runtime: as much of it as electron.ts touches, noting what was asked. */
import { EventEmitter } from 'node:events';
import { join } from 'node:path';

export type Box = { message: string; detail?: string; buttons?: string[] };
export type Sent = { channel: string; message: Record<string, unknown> };

class FakeContents extends EventEmitter {
  readonly sent: Sent[] = [];
  openHandler: (() => { action: string }) | undefined;
  setWindowOpenHandler(handler: () => { action: string }): void {
    this.openHandler = handler;
  }
  send(channel: string, message: Record<string, unknown>): void {
    this.sent.push({ channel, message });
    this.emit('sent');
  }
  isDestroyed(): boolean {
    return false;
  }
  zoomLevel = 0;
  setZoomLevel(level: number): void {
    this.zoomLevel = level;
  }
  getZoomLevel(): number {
    return this.zoomLevel;
  }
}

/** @param home where the folders of the system's own are */
export function createFakeElectron(home: string) {
  const calls: string[] = [];
  const note =
    <T>(name: string, answer?: T) =>
    (...values: unknown[]): T => {
      calls.push([name, ...values.filter((value) => typeof value !== 'function').map((value) => JSON.stringify(value))].join(' '));
      return answer as T;
    };

  const windows: FakeWindow[] = [];
  class FakeWindow extends EventEmitter {
    readonly webContents = new FakeContents();
    readonly loaded: string[] = [];
    readonly options: Record<string, unknown>;
    constructor(options: Record<string, unknown>) {
      super();
      this.options = options;
      windows.push(this);
      app.emit('web-contents-created', {}, this.webContents);
    }
    loadURL(address: string): Promise<void> {
      this.loaded.push(address);
      return Promise.resolve();
    }
    isMinimized(): boolean {
      return false;
    }
    isDestroyed(): boolean {
      return false;
    }
    isMaximized(): boolean {
      return false;
    }
    isFullScreen(): boolean {
      return false;
    }
    getNormalBounds(): object {
      return { x: 40, y: 50, width: 1200, height: 760 };
    }
    /** as a press on the cross: the window goes unless somebody stops it */
    close(): void {
      let stopped = false;
      this.emit('close', { preventDefault: () => (stopped = true) });
      if (!stopped) this.emit('closed');
    }
    readonly show = note('window.show');
    readonly focus = note('window.focus');
    readonly restore = note('window.restore');
    readonly destroy = note('window.destroy');
  }

  const app = Object.assign(new EventEmitter(), {
    isPackaged: false,
    commandLine: { hasSwitch: () => false },
    getPath: (name: string) => join(home, name),
    addRecentDocument: note('addRecentDocument'),
    disableHardwareAcceleration: note('disableHardwareAcceleration'),
    enableSandbox: note('enableSandbox'),
    setPath: note('setPath'),
    setAppUserModelId: note('setAppUserModelId'),
    requestSingleInstanceLock: note('requestSingleInstanceLock', true),
    whenReady: () => {
      calls.push('whenReady');
      return Promise.resolve();
    },
    quit: note('quit'),
    exit: (code: number) => {
      calls.push(`exit ${code}`);
      app.emit('exited');
    },
  });
  const questions: (Box & { answer: (button: number) => void })[] = [];
  const handlers: Record<string, (...values: never[]) => unknown> = {};
  const keep = (name: string) => (handler: (...values: never[]) => unknown) => void (handlers[name] = handler);
  const defaultSession = {
    setPermissionRequestHandler: keep('permission'),
    setPermissionCheckHandler: keep('check'),
    setDevicePermissionHandler: keep('device'),
    webRequest: { onBeforeRequest: keep('load') },
    on: (event: string, handler: (...values: never[]) => unknown) => keep(event)(handler),
  };

  const display = { id: 1, workArea: { x: 0, y: 0, width: 1440, height: 870 } };

  const electron = {
    app,
    BrowserWindow: FakeWindow,
    dialog: {
      showErrorBox: note('showErrorBox'),
      showMessageBoxSync: note('showMessageBoxSync'),
      // the last value is the box; a parent window may come before it
      showMessageBox: (...values: unknown[]) =>
        new Promise((resolve) => questions.push({ ...(values.at(-1) as Box), answer: (response) => resolve({ response }) })),
      showOpenDialog: () => Promise.resolve({ filePaths: [] }),
    },
    ipcMain: new EventEmitter(),
    Menu: { setApplicationMenu: note('setApplicationMenu'), buildFromTemplate: (template: unknown) => template },
    nativeTheme: { shouldUseDarkColors: true, themeSource: 'system' },
    powerMonitor: new EventEmitter(),
    powerSaveBlocker: { start: note('power.start', 7), stop: note('power.stop') },
    protocol: {
      registerSchemesAsPrivileged: note('registerSchemes'),
      handle: (scheme: string, handler: (...values: never[]) => unknown) => keep(scheme)(handler),
    },
    screen: {
      getPrimaryDisplay: () => display,
      getAllDisplays: () => [display],
    },
    session: { defaultSession },
    shell: { openExternal: note('openExternal'), openPath: note('openPath') },
  };
  return { electron, calls, windows, handlers, questions };
}
