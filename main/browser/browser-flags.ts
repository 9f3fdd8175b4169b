export type WindowFlags = { readonly address: string; readonly userDataFolder: string; readonly asRoot: boolean };

/**
 * An app window: no tabs, no address bar, its own user data, and nothing that talks to the outside by itself. The sandbox stays on except for
 * root, for whom Chromium refuses to start with it.
 */
export const windowFlags = ({ address, userDataFolder, asRoot }: WindowFlags): readonly string[] => [
  `--app=${address}`,
  `--user-data-dir=${userDataFolder}`,
  ...quietFlags,
  '--window-size=1280,800',
  // samples go on arriving while another window is in front
  '--disable-background-timer-throttling',
  '--disable-backgrounding-occluded-windows',
  '--disable-renderer-backgrounding',
  ...(asRoot ? rootFlags : []),
];

export const quietFlags: readonly string[] = [
  '--no-first-run',
  '--no-default-browser-check',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--disable-quic',
  '--disable-extensions',
];

/** `--test-type` takes away the strip that warns of `--no-sandbox`. */
export const rootFlags: readonly string[] = ['--no-sandbox', '--test-type', '--disable-gpu'];
