/**
 * The rules of the desktop shell, on small interfaces that Electron's own objects fit (checked where electron.ts hands them in), so that a test
 * can hold every rule against the checklist without a runtime.
 */
import { join } from 'node:path';
import { desktop } from '../../shared/words/desktop.ts';
import { isOwnFrame, isOwnPage, mayLoad } from './own-page.ts';

export type Stoppable = { preventDefault(): void };
export type Navigation = Stoppable & { readonly url: string; readonly isMainFrame: boolean };

export interface ShellContents {
  setWindowOpenHandler(handler: (details: { url: string }) => { action: 'deny' }): void;
  on(event: 'will-navigate', listener: (details: Navigation) => void): unknown;
  on(event: 'will-frame-navigate', listener: (details: Navigation) => void): unknown;
  on(event: 'will-redirect', listener: (details: Navigation) => void): unknown;
  on(event: 'will-attach-webview', listener: (event: Stoppable) => void): unknown;
}

export interface ShellDownload {
  getURL(): string;
  getFilename(): string;
  setSaveDialogOptions(options: { title: string; defaultPath: string }): void;
  once(event: 'done', listener: (event: unknown, state: 'completed' | 'cancelled' | 'interrupted') => void): unknown;
}

export interface ShellSession {
  setPermissionRequestHandler(handler: (contents: unknown, permission: string, callback: (granted: boolean) => void) => void): void;
  setPermissionCheckHandler(handler: () => boolean): void;
  setDevicePermissionHandler(handler: () => boolean): void;
  readonly webRequest: {
    onBeforeRequest(listener: (details: { url: string }, callback: (response: { cancel: boolean }) => void) => void): void;
  };
  on(event: 'will-download', listener: (event: Stoppable, item: ShellDownload) => void): unknown;
}

/** No other page, no other window, no guest. */
export function hardenContents(contents: ShellContents): void {
  const staysHere = (details: Navigation): void => {
    const allowed = details.isMainFrame ? isOwnPage(details.url) : isOwnFrame(details.url);
    if (!allowed) details.preventDefault();
  };
  contents.setWindowOpenHandler(() => ({ action: 'deny' }));
  contents.on('will-navigate', staysHere);
  contents.on('will-frame-navigate', staysHere);
  contents.on('will-redirect', staysHere);
  contents.on('will-attach-webview', (event) => event.preventDefault());
}

export type SessionParts = {
  readonly allowsTools: boolean;
  readonly exportsFolder: string;
  /** a file that the person wanted and did not get; one that was cancelled is none */
  readonly onNotSaved: (fileName: string) => void;
};

/** No camera, no position, no device, no clipboard reading; nothing over any network; downloads only of our own exports. */
export function hardenSession(session: ShellSession, { allowsTools, exportsFolder, onNotSaved }: SessionParts): void {
  session.setPermissionRequestHandler((_contents, _permission, callback) => callback(false));
  session.setPermissionCheckHandler(() => false);
  session.setDevicePermissionHandler(() => false);
  session.webRequest.onBeforeRequest(({ url }, callback) => callback({ cancel: !mayLoad(url, allowsTools) }));
  session.on('will-download', (event, item) => {
    if (!isOwnPage(item.getURL()) && !isOwnFrame(item.getURL())) return event.preventDefault();
    const fileName = item.getFilename();
    item.setSaveDialogOptions({ title: desktop.saveTitle, defaultPath: join(exportsFolder, fileName) });
    item.once('done', (_event, state) => {
      if (state === 'interrupted') onNotSaved(fileName);
    });
  });
}
