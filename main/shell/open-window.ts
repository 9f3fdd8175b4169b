/** A window of the desktop shell: opened where it was, attached for its whole life, and shown again when its page crashes. */
import { BrowserWindow, ipcMain, nativeTheme, screen } from 'electron';
import type { Role } from '../../shared/ipc/session-commands.ts';
import type { App } from '../app-parts.ts';
import { systemClock } from '../system-clock.ts';
import { electronTransport } from '../transport/electron.ts';
import { newToken } from '../transport/token.ts';
import { APP_ADDRESS } from './own-page.ts';
import { placeOnScreens, type WindowMemory } from './window-memory.ts';
import { windowOptions } from './window-options.ts';

export const placeOf = (window: BrowserWindow): Partial<WindowMemory> => ({
  place: window.getNormalBounds(),
  isMaximized: window.isMaximized(),
  isFullScreen: window.isFullScreen(),
  zoomLevel: window.webContents.getZoomLevel(),
});

type Wanted = {
  readonly grant: Role;
  readonly memory: WindowMemory;
  /** paths of the preload script, and of the icon where the system takes none from the app itself */
  readonly preload: string;
  readonly icon: string | undefined;
  readonly isPackaged: boolean;
};

export function openWindow(flueside: App, { grant, memory, preload, icon, isPackaged }: Wanted): BrowserWindow {
  const mainScreen = screen.getPrimaryDisplay();
  const screens = [mainScreen, ...screen.getAllDisplays().filter(({ id }) => id !== mainScreen.id)].map(({ workArea }) => workArea);
  const place = placeOnScreens(memory.place, screens);
  const window = new BrowserWindow(windowOptions({ place, preload, icon, isDark: nativeTheme.shouldUseDarkColors, isPackaged }));
  if (memory.isMaximized) window.maximize();
  if (memory.isFullScreen) window.setFullScreen(true);
  window.webContents.on('did-finish-load', () => window.webContents.setZoomLevel(memory.zoomLevel));
  const key = newToken();
  let detach: (() => void) | undefined;
  const attach = (): void => {
    detach?.();
    const { transport, close } = electronTransport(ipcMain, window.webContents);
    const stop = flueside.attach(transport, { clientId: newToken(), key, grant });
    detach = () => {
      stop();
      close();
    };
  };
  // one client for the window's whole life: a page that was reloaded simply says hello again
  attach();
  let lastCrashMs = -Infinity;
  window.webContents.on('render-process-gone', (_event, { reason }) => {
    attach();
    const wasJust = systemClock.nowMs() - lastCrashMs < 10_000;
    lastCrashMs = systemClock.nowMs();
    // the run is not in the window: a new one shows it again; a page that crashes at once stays closed until "Reload"
    if (reason !== 'clean-exit' && !wasJust) void window.loadURL(APP_ADDRESS);
  });
  window.on('closed', () => detach?.());
  void window.loadURL(APP_ADDRESS);
  return window;
}
