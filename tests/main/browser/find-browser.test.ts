import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { quietFlags, rootFlags, windowFlags } from '../../../main/browser/browser-flags.ts';
import { BROWSER_VARIABLE, findBrowser, isSnap } from '../../../main/browser/find-browser.ts';
import { hasDisplay } from '../../../main/browser/open-window.ts';

const machine = (platform: NodeJS.Platform, programs: string[], env: Record<string, string> = {}) => ({
  platform,
  env: { PATH: '/opt/bin:/usr/bin:relative', ...env },
  home: '/home/someone',
  isProgram: (path: string) => programs.includes(path),
});

describe('a browser', () => {
  it('is found on the path, in the order of the path', () => {
    expect(findBrowser(machine('linux', ['/usr/bin/chromium', '/opt/bin/chromium']))).toBe('/opt/bin/chromium');
    expect(findBrowser(machine('linux', ['/snap/bin/chromium']))).toBe('/snap/bin/chromium');
  });
  it('is never taken from a folder relative to where one stands', () => {
    expect(findBrowser(machine('linux', ['relative/chromium']))).toBeUndefined();
  });
  it('is the wished one and no other', () => {
    const wish = { [BROWSER_VARIABLE]: '/my/browser' };
    expect(findBrowser(machine('linux', ['/my/browser', '/usr/bin/chromium'], wish))).toBe('/my/browser');
    expect(findBrowser(machine('linux', ['/usr/bin/chromium'], wish))).toBeUndefined();
  });
  it('is found where Windows and macOS keep programs', () => {
    const edge = 'C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe';
    expect(findBrowser(machine('win32', [edge], { 'ProgramFiles(x86)': 'C:\\Program Files (x86)' }))).toBe(edge);
    const own = '/home/someone/Applications/Chromium.app/Contents/MacOS/Chromium';
    expect(findBrowser(machine('darwin', [own]))).toBe(own);
  });
  it('may be missing', () => {
    expect(findBrowser(machine('linux', []))).toBeUndefined();
  });
});

describe('the window', () => {
  const flags = (asRoot: boolean) => windowFlags({ address: 'http://127.0.0.1:1/#code=x', userDataFolder: '/data/window', asRoot });
  it('keeps its sandbox, except for root, who cannot have it', () => {
    expect(flags(false).join(' ')).not.toMatch(/sandbox/);
    expect(flags(true)).toEqual(expect.arrayContaining([...rootFlags]));
  });
  it('has its own user data and talks to nobody by itself', () => {
    expect(flags(false)).toEqual(
      expect.arrayContaining(['--app=http://127.0.0.1:1/#code=x', '--user-data-dir=/data/window', ...quietFlags]),
    );
    expect(flags(false).join(' ')).not.toMatch(/remote-debugging|disable-web-security|allow-file-access/);
  });
});

it.each([
  { platform: 'linux', env: {}, display: false },
  { platform: 'linux', env: { DISPLAY: '' }, display: false },
  { platform: 'linux', env: { DISPLAY: ':0' }, display: true },
  { platform: 'linux', env: { WAYLAND_DISPLAY: 'wayland-0' }, display: true },
  { platform: 'win32', env: {}, display: true },
  { platform: 'darwin', env: {}, display: true },
] as const)('there is a display on $platform with $env: $display', ({ platform, env, display }) => {
  expect(hasDisplay(platform, env)).toBe(display);
});

it.skipIf(process.platform === 'win32')(
  'a browser is packed as a snap when its name leads to the program of snaps, whatever it is called',
  () => {
    const folder = mkdtempSync(join(tmpdir(), 'flueside-snap-'));
    try {
      mkdirSync(join(folder, 'bin'));
      for (const name of ['snap', 'chromium-plain']) writeFileSync(join(folder, 'bin', name), '');
      symlinkSync(join(folder, 'bin', 'snap'), join(folder, 'chromium'));
      symlinkSync(join(folder, 'bin', 'chromium-plain'), join(folder, 'snap'));
      expect(['chromium', 'snap', 'bin/chromium-plain', 'not-there'].map((name) => isSnap(join(folder, name)))).toEqual([
        true,
        false,
        false,
        false,
      ]);
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  },
);
