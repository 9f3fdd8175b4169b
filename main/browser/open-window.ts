import { spawn, type ChildProcess } from 'node:child_process';
import { homedir } from 'node:os';
import { join } from 'node:path';
import { windowFlags } from './browser-flags.ts';
import { writeLinkPage } from './link-page.ts';
import { findBrowser, isProgram, isSnap } from './find-browser.ts';

export type OpenedWindow = { readonly browser: string; readonly process: ChildProcess };

/** On Linux a window needs a display server; elsewhere there is always one for who is logged in. */
export const hasDisplay = (platform: NodeJS.Platform, env: Readonly<Record<string, string | undefined>>): boolean =>
  platform !== 'linux' || (env['DISPLAY'] ?? '') !== '' || (env['WAYLAND_DISPLAY'] ?? '') !== '';

/** @returns the installed browser that can be used, or undefined */
export const installedBrowser = (): string | undefined =>
  findBrowser({ platform: process.platform, env: process.env, home: homedir(), isProgram });

/**
 * Opens the address as an app window of an installed browser. Its user data are our own, so that nobody's tabs, extensions or history mix in.
 *
 * @param onFailed called when the browser could not be started or gave up at once
 */
export function openWindow(browser: string, address: string, dataFolder: string, onFailed: (why: string) => void): OpenedWindow {
  const userDataFolder = isSnap(browser) ? join(homedir(), 'snap', 'chromium', 'common', 'flueside-window') : join(dataFolder, 'window');
  // a browser packed as a snap reads no hidden folder of the home folder
  const page = isSnap(browser) ? writeLinkPage(userDataFolder, address) : writeLinkPage(dataFolder, address);
  const flags = windowFlags({ address: page, userDataFolder, asRoot: process.getuid?.() === 0 });
  const child = spawn(browser, flags, { stdio: 'ignore' });
  child.once('error', (error) => onFailed(error.message));
  // 0 is no failure: a browser that is open already takes the window over and ends
  child.once('exit', (code, signal) => {
    if (signal === null && code !== 0) onFailed(`it ended with ${code}`);
  });
  return { browser, process: child };
}
