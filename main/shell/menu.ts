import { win32, posix } from 'node:path';
import { desktop } from '../../shared/words/desktop.ts';

const words = desktop.menu;

export type MenuEntry = {
  readonly label?: string;
  readonly role?: MenuRole;
  readonly type?: 'separator';
  readonly accelerator?: string;
  readonly enabled?: boolean;
  readonly submenu?: MenuEntry[];
  readonly click?: () => void;
};

export type MenuRole =
  | 'about'
  | 'services'
  | 'hide'
  | 'hideOthers'
  | 'unhide'
  | 'quit'
  | 'close'
  | 'minimize'
  | 'zoom'
  | 'front'
  | 'undo'
  | 'redo'
  | 'cut'
  | 'copy'
  | 'paste'
  | 'selectAll'
  | 'resetZoom'
  | 'zoomIn'
  | 'zoomOut'
  | 'togglefullscreen'
  | 'reload'
  | 'toggleDevTools';

export type MenuParts = {
  readonly platform: NodeJS.Platform;
  readonly isPackaged: boolean;
  readonly openFile: () => void;
  readonly recentFiles: readonly string[];
  readonly openRecent: (path: string) => void;
  readonly showDataFolder: () => void;
};

/** The file's name; an ampersand would underline the letter behind it. */
const labelOf = (path: string): string => (path.includes('\\') ? win32 : posix).basename(path).replaceAll('&', '&&');

const line: MenuEntry = { type: 'separator' };
const roles = (...names: MenuRole[]): MenuEntry[] => names.map((role) => ({ role }));

/**
 * What each system expects in a menu and nothing more: the work itself is on the screen, where its keys are printed. No accelerator here is
 * one that the window uses itself.
 */
export function menuEntries({ platform, isPackaged, openFile, recentFiles, openRecent, showDataFolder }: MenuParts): MenuEntry[] {
  const isMac = platform === 'darwin';
  const appMenu: MenuEntry = {
    label: desktop.name,
    submenu: [...roles('about'), line, ...roles('services'), line, ...roles('hide', 'hideOthers', 'unhide'), line, ...roles('quit')],
  };
  const recent: MenuEntry[] =
    recentFiles.length === 0
      ? [{ label: words.noRecent, enabled: false }]
      : recentFiles.map((path) => ({ label: labelOf(path), click: () => openRecent(path) }));
  const file: MenuEntry = {
    label: words.file,
    submenu: [
      { label: words.open, accelerator: 'CmdOrCtrl+Shift+O', click: openFile },
      { label: words.recent, submenu: recent },
      { label: words.dataFolder, click: showDataFolder },
      line,
      ...roles(isMac ? 'close' : 'quit'),
    ],
  };
  const edit: MenuEntry = { label: words.edit, submenu: [...roles('undo', 'redo'), line, ...roles('cut', 'copy', 'paste', 'selectAll')] };
  const view: MenuEntry = {
    label: words.view,
    submenu: [
      ...roles('zoomIn', 'zoomOut', 'resetZoom', 'togglefullscreen'),
      line,
      ...roles('reload'),
      ...(isPackaged ? [] : roles('toggleDevTools')),
    ],
  };
  const window: MenuEntry = {
    label: words.window,
    submenu: isMac ? [...roles('minimize', 'zoom'), line, ...roles('front')] : roles('minimize', 'close'),
  };
  return isMac ? [appMenu, file, edit, view, window] : [file, edit, view, window];
}
