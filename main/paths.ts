import { homedir } from 'node:os';
import { join } from 'node:path';

export type PathEnvironment = {
  readonly platform: NodeJS.Platform;
  readonly home: string;
  readonly env: Readonly<Record<string, string | undefined>>;
};

const here = (): PathEnvironment => ({ platform: process.platform, home: homedir(), env: process.env });

/** Where runs, records and settings are kept when `--data DIR` does not say otherwise: the system's own place for it, never a roaming one. */
export function dataFolder({ platform, home, env }: PathEnvironment = here()): string {
  if (platform === 'win32') return join(env['LOCALAPPDATA'] ?? join(home, 'AppData', 'Local'), 'Flueside');
  if (platform === 'darwin') return join(home, 'Library', 'Application Support', 'Flueside');
  // the XDG base directory specification: a relative path there is to be ignored
  const base = env['XDG_DATA_HOME'];
  return join(base?.startsWith('/') === true ? base : join(home, '.local', 'share'), 'flueside');
}

/** Folders that a program copies elsewhere behind our back: it may lock or replace a file that is being written. */
const copiedFolders = [/onedrive/i, /dropbox/i, /google ?drive/i, /icloud/i, /mobile documents/i, /nextcloud/i, /syncthing/i];

/** @returns true when the folder looks like one that is kept in step with a server */
export const isCopiedElsewhere = (folder: string): boolean =>
  folder.split(/[\\/]/).some((part) => copiedFolders.some((pattern) => pattern.test(part)));
