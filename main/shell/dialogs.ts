/** What the desktop shell asks outside of any page. */
import { dialog, type BrowserWindow } from 'electron';
import { desktop } from '../../shared/words/desktop.ts';
import { isOwnFile } from './shell-arguments.ts';

/** An AppImage takes the sandbox away by itself where the system bars it. That is said, and the person decides. Root has no other way. */
export async function mayStartWithoutSandbox(hasNoSandbox: boolean): Promise<boolean> {
  if (!hasNoSandbox || process.env['APPIMAGE'] === undefined || process.getuid?.() === 0) return true;
  const { noSandbox } = desktop;
  const { response } = await dialog.showMessageBox({
    type: 'warning',
    title: desktop.name,
    message: noSandbox.message,
    detail: noSandbox.detail,
    buttons: [noSandbox.quit, noSandbox.goOn],
    defaultId: 0,
    cancelId: 0,
    noLink: true,
  });
  return response === 1;
}

/** Asks for a run or a recipe of ours. */
export async function askForFile(parent: BrowserWindow | undefined): Promise<string | undefined> {
  const wanted = {
    title: desktop.openTitle,
    properties: ['openFile' as const],
    filters: [{ name: desktop.openKinds, extensions: ['flueside-run', 'flueside-recipe'] }],
  };
  const { filePaths } = await (parent === undefined ? dialog.showOpenDialog(wanted) : dialog.showOpenDialog(parent, wanted));
  return filePaths.find(isOwnFile);
}
