import { accessSync, constants, realpathSync } from 'node:fs';
import { delimiter, join } from 'node:path';

export type BrowserSearch = {
  readonly platform: NodeJS.Platform;
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly home: string;
  /** is this a program that can be started? */
  readonly isProgram: (path: string) => boolean;
};

/** Set to a program to use that one and no other. */
export const BROWSER_VARIABLE = 'FLUESIDE_BROWSER';

const linuxNames = [
  'chromium',
  'chromium-browser',
  'google-chrome-stable',
  'google-chrome',
  'microsoft-edge-stable',
  'microsoft-edge',
  'brave-browser',
  'vivaldi-stable',
];
const macPrograms = ['Chromium', 'Google Chrome', 'Microsoft Edge', 'Brave Browser', 'Vivaldi'];
const windowsPrograms = [
  'Chromium\\Application\\chrome.exe',
  'Google\\Chrome\\Application\\chrome.exe',
  'Microsoft\\Edge\\Application\\msedge.exe',
  'BraveSoftware\\Brave-Browser\\Application\\brave.exe',
];

/** Where a browser of the Chromium family may be, best first. */
function browserCandidates({ platform, env, home }: Omit<BrowserSearch, 'isProgram'>): readonly string[] {
  const wished = env[BROWSER_VARIABLE];
  if (wished !== undefined && wished !== '') return [wished];
  if (platform === 'win32') {
    const roots = [env['ProgramFiles'], env['ProgramFiles(x86)'], env['LOCALAPPDATA']].filter((root) => root !== undefined);
    return windowsPrograms.flatMap((program) => roots.map((root) => `${root}\\${program}`));
  }
  if (platform === 'darwin') {
    return macPrograms.flatMap((name) =>
      ['/Applications', join(home, 'Applications')].map((root) => `${root}/${name}.app/Contents/MacOS/${name}`),
    );
  }
  const folders = [
    ...(env['PATH'] ?? '').split(delimiter).filter((folder) => folder.startsWith('/')),
    '/usr/bin',
    '/usr/local/bin',
    '/snap/bin',
  ];
  return linuxNames.flatMap((name) => [...new Set(folders)].map((folder) => join(folder, name)));
}

/** @returns the program's path, or undefined when none is installed */
export const findBrowser = (search: BrowserSearch): string | undefined => browserCandidates(search).find((path) => search.isProgram(path));

export function isProgram(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/** A browser packed as a snap may not write into hidden folders; its own common folder is open to it. */
export function isSnap(path: string): boolean {
  try {
    const real = realpathSync(path);
    return real.startsWith('/snap/') || real.endsWith('/bin/snap');
  } catch {
    return false;
  }
}
