import { describe, expect, it } from 'vitest';
import {
  hardenContents,
  hardenSession,
  type Navigation,
  type ShellContents,
  type ShellDownload,
  type ShellSession,
} from '../../../main/shell/harden.ts';
import { isOwnFrame, isOwnPage, mayLoad } from '../../../main/shell/own-page.ts';

type Listener = (...values: never[]) => void;

function fakeContents() {
  const listeners = new Map<string, Listener>();
  let openHandler: ((details: { url: string }) => { action: 'deny' }) | undefined;
  const contents: ShellContents = {
    setWindowOpenHandler: (handler) => void (openHandler = handler),
    on: (event: string, listener: Listener) => void listeners.set(event, listener),
  };
  hardenContents(contents);
  const goes = (event: string, url: string, isMainFrame: boolean): boolean => {
    let prevented = false;
    (listeners.get(event) as ((details: Navigation) => void) | undefined)?.({ url, isMainFrame, preventDefault: () => (prevented = true) });
    return !prevented;
  };
  return { listeners, goes, open: (url: string) => openHandler?.({ url }) };
}

function fakeSession(allowsTools = false, notSaved: string[] = []) {
  const handlers: Record<string, Listener> = {};
  const note = (name: string) => (handler: unknown) => void (handlers[name] = handler as Listener);
  const session: ShellSession = {
    setPermissionRequestHandler: note('request'),
    setPermissionCheckHandler: note('check'),
    setDevicePermissionHandler: note('device'),
    webRequest: { onBeforeRequest: note('load') },
    on: (event, listener) => note(event)(listener),
  };
  hardenSession(session, {
    allowsTools,
    exportsFolder: '/home/someone/Documents/Flueside',
    onNotSaved: (fileName) => notSaved.push(fileName),
  });
  return handlers as unknown as {
    request: (contents: unknown, permission: string, callback: (granted: boolean) => void) => void;
    check: () => boolean;
    device: () => boolean;
    load: (details: { url: string }, callback: (response: { cancel: boolean }) => void) => void;
    'will-download': (event: { preventDefault(): void }, item: ShellDownload) => void;
  };
}

const foreign = [
  'https://burner.example/',
  'http://127.0.0.1:1/',
  'file:///etc/passwd',
  'javascript:alert(1)',
  'data:text/html,x',
  'app://other/',
  'app://flueside.example/',
  'app://flueside@other/',
  'app:flueside',
  'chrome://settings',
  '',
];

describe('the window stays where it is', () => {
  it.each(foreign)('main frame: %s', (url) => {
    const { goes } = fakeContents();
    for (const event of ['will-navigate', 'will-frame-navigate', 'will-redirect']) expect(goes(event, url, true)).toBe(false);
  });

  it('may be reloaded', () => {
    expect(fakeContents().goes('will-navigate', 'app://flueside/', true)).toBe(true);
  });

  it.each(foreign)('frames inside show no %s', (url) => {
    expect(fakeContents().goes('will-frame-navigate', url, false)).toBe(false);
  });

  it('frames inside may preview a page that we made', () => {
    const { goes } = fakeContents();
    expect(goes('will-frame-navigate', 'blob:app://flueside/1-2-3', false)).toBe(true);
    expect(goes('will-frame-navigate', 'blob:https://burner.example/1', false)).toBe(false);
  });

  it('opens no other window, whatever the address', () => {
    const { open } = fakeContents();
    for (const url of [...foreign, 'app://flueside/']) expect(open(url)).toEqual({ action: 'deny' });
  });

  it('takes no guest', () => {
    const { listeners } = fakeContents();
    let prevented = false;
    (listeners.get('will-attach-webview') as unknown as (event: { preventDefault(): void }) => void)({
      preventDefault: () => (prevented = true),
    });
    expect(prevented).toBe(true);
  });

  it('answers every event of the checklist (Electron security tutorial 12 to 14) and no fewer', () => {
    expect([...fakeContents().listeners.keys()].sort()).toEqual([
      'will-attach-webview',
      'will-frame-navigate',
      'will-navigate',
      'will-redirect',
    ]);
  });
});

describe('the session grants nothing', () => {
  it.each([
    'media',
    'geolocation',
    'notifications',
    'serial',
    'usb',
    'hid',
    'clipboard-read',
    'openExternal',
    'fileSystem',
    'fullscreen',
    'unknown',
  ])('permission %s', (permission) => {
    const { request, check, device } = fakeSession();
    let granted: boolean | undefined;
    request(undefined, permission, (answer) => (granted = answer));
    expect(granted).toBe(false);
    expect(check()).toBe(false);
    expect(device()).toBe(false);
  });

  const loads = (url: string, allowsTools = false): boolean => {
    let cancelled: boolean | undefined;
    fakeSession(allowsTools).load({ url }, ({ cancel }) => (cancelled = cancel));
    return cancelled === false;
  };

  it.each([
    'https://burner.example/a.js',
    'http://127.0.0.1:1/',
    'ws://127.0.0.1:1/',
    'file:///etc/passwd',
    'ftp://burner.example/',
    'devtools://devtools/bundled/x.html',
  ])('loads no %s', (url) => {
    expect(loads(url)).toBe(false);
  });

  it.each(['app://flueside/assets/a.js', 'data:image/png;base64,AA', 'blob:app://flueside/1', 'about:blank'])('loads %s', (url) => {
    expect(loads(url)).toBe(true);
  });

  it('lets the developer tools load themselves where they are allowed', () => {
    expect(loads('devtools://devtools/bundled/x.html', true)).toBe(true);
  });

  it('downloads our own exports only, and proposes the folder for them', () => {
    const started = (url: string): string | undefined => {
      let prevented = false;
      let proposed: string | undefined;
      const item = {
        getURL: () => url,
        getFilename: () => 'run.csv',
        setSaveDialogOptions: ({ title, defaultPath }: { title: string; defaultPath: string }) => {
          expect(title).toBe('Save file');
          proposed = defaultPath;
        },
        once: () => undefined,
      };
      fakeSession()['will-download']({ preventDefault: () => (prevented = true) }, item);
      expect(prevented).toBe(proposed === undefined);
      return proposed;
    };
    expect(started('app://flueside/download/token')).toBe('/home/someone/Documents/Flueside/run.csv');
    expect(started('https://burner.example/x.exe')).toBeUndefined();
    // a picture made in the window comes as a file in memory; a data address is refused like any other
    expect(started('blob:app://flueside/1-2-3')).toBe('/home/someone/Documents/Flueside/run.csv');
    expect(started('data:image/png;base64,AA')).toBeUndefined();
  });

  it.each([
    ['interrupted', ['run.csv']],
    ['cancelled', []],
    ['completed', []],
  ] as const)('says what was wanted and not saved: %s', (state, said) => {
    const notSaved: string[] = [];
    const item = {
      getURL: () => 'app://flueside/download/token',
      getFilename: () => 'run.csv',
      setSaveDialogOptions: () => undefined,
      once: (_event: 'done', listener: (event: unknown, state: 'completed' | 'cancelled' | 'interrupted') => void) => listener({}, state),
    };
    fakeSession(false, notSaved)['will-download']({ preventDefault: () => expect.fail('ours') }, item);
    expect(notSaved).toEqual(said);
  });
});

describe('our own page', () => {
  it.each([
    ['app://flueside/', true],
    ['app://flueside/assets/a.js', true],
    ['APP://flueside/', true],
    ['app://flueside:80/', false],
    ['app://user@flueside/', false],
    ['xapp://flueside/', false],
  ])('%s: %s', (url, own) => {
    expect(isOwnPage(url)).toBe(own);
    expect(mayLoad(url, false)).toBe(own);
  });
  it('is not a frame of our own by itself', () => {
    expect(isOwnFrame('app://flueside/')).toBe(false);
  });
});
