export type MenuEntry = {
  readonly label?: string;
  readonly role?: MenuRole;
  readonly type?: 'separator';
  readonly accelerator?: string;
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
  readonly showDataFolder: () => void;
};

const line: MenuEntry = { type: 'separator' };
const roles = (...names: MenuRole[]): MenuEntry[] => names.map((role) => ({ role }));

/**
 * What each system expects in a menu and nothing more: the work itself is on the screen, where its keys are printed. No accelerator here is
 * one that the window uses itself.
 */
export function menuEntries({ platform, isPackaged, openFile, showDataFolder }: MenuParts): MenuEntry[] {
  const isMac = platform === 'darwin';
  const appMenu: MenuEntry = {
    label: 'Flueside',
    submenu: [...roles('about'), line, ...roles('services'), line, ...roles('hide', 'hideOthers', 'unhide'), line, ...roles('quit')],
  };
  const file: MenuEntry = {
    label: 'File',
    submenu: [
      { label: 'Open run or recipe...', accelerator: 'CmdOrCtrl+Shift+O', click: openFile },
      { label: 'Show data folder', click: showDataFolder },
      line,
      ...roles(isMac ? 'close' : 'quit'),
    ],
  };
  const edit: MenuEntry = { label: 'Edit', submenu: [...roles('undo', 'redo'), line, ...roles('cut', 'copy', 'paste', 'selectAll')] };
  const view: MenuEntry = {
    label: 'View',
    submenu: [
      ...roles('zoomIn', 'zoomOut', 'resetZoom', 'togglefullscreen'),
      line,
      ...roles('reload'),
      ...(isPackaged ? [] : roles('toggleDevTools')),
    ],
  };
  const window: MenuEntry = {
    label: 'Window',
    submenu: isMac ? [...roles('minimize', 'zoom'), line, ...roles('front')] : roles('minimize', 'close'),
  };
  return isMac ? [appMenu, file, edit, view, window] : [file, edit, view, window];
}
