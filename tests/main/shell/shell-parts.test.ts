import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { menuEntries, type MenuEntry } from '../../../main/shell/menu.ts';
import { createPdfPrinter } from '../../../main/shell/pdf-printer.ts';
import { createPowerGuard } from '../../../main/shell/power-guard.ts';
import { OWN_OPTIONS_FOLLOW, readSecondStart, readShellArguments, secondStart } from '../../../main/shell/shell-arguments.ts';
import { pdfOptions } from '../../../main/shell/window-options.ts';
import { createFakeClock } from '../../helpers/host/fake-clock.ts';

describe('power', () => {
  it('is kept while a run is captured, once, and let go with its end', () => {
    const calls: string[] = [];
    let capturing = false;
    const look = createPowerGuard(
      { start: (type) => calls.push(`start ${type}`), stop: (id) => calls.push(`stop ${id}`) },
      () => capturing,
    );
    look();
    capturing = true;
    look();
    look();
    capturing = false;
    look();
    look();
    expect(calls).toEqual(['start prevent-app-suspension', 'stop 1']);
  });
});

describe('arguments', () => {
  it('are sorted into our own options and files; the rest is left alone', () => {
    const argv = [
      '/usr/bin/flueside',
      '--no-sandbox',
      '--data',
      '/my data',
      '--speed=60',
      '--enable-logging',
      '/home/a/Kitchen.flueside-run',
      '/home/a/notes.txt',
      '--simulated',
    ];
    expect(readShellArguments(argv, true)).toEqual({
      options: ['--data', '/my data', '--speed=60', '--simulated'],
      files: ['/home/a/Kitchen.flueside-run'],
    });
  });
  it('leave out the app folder that npm start gives to Electron', () => {
    expect(readShellArguments(['electron', '/app.flueside-run', '--source', 'none'], false)).toEqual({
      options: ['--source', 'none'],
      files: [],
    });
  });
  it('hand everything after --cli to the command line', () => {
    const argv = ['flueside', '--ozone-platform=headless', '--cli', 'read', 'a.flueside-run', '--json'];
    expect(readShellArguments(argv, true)).toEqual({ options: [], files: [], command: ['read', 'a.flueside-run', '--json'] });
  });
  it('find the app folder behind switches of Electron', () => {
    const argv = ['electron', '--no-sandbox', '/app', '--source', 'none', 'a.flueside-run'];
    expect(readShellArguments(argv, false)).toEqual({ options: ['--source', 'none'], files: ['a.flueside-run'] });
  });
  it.each([
    [['--simulate'], 'There is no option --simulate. Did you mean --simulated?'],
    [['--sped', '60'], 'There is no option --sped. Did you mean --speed?'],
    [['--port', '5000'], '--port is for the browser window only. Start with --browser to use it.'],
    [['--linger=5'], '--linger is for the browser window only. Start with --browser to use it.'],
    [['--data'], '--data needs a value.'],
  ])('refuse in words: %s', (words, refused) => {
    expect(readShellArguments(['flueside', ...words], true).refused).toBe(refused);
    expect(readShellArguments(['electron', '/app', OWN_OPTIONS_FOLLOW, ...words], false).refused).toBe(refused);
  });
  it('leave switches of Chromium alone, except where all of them are ours', () => {
    const words = ['--ozone-platform=wayland', '--force-device-scale-factor=2', '--proxy-server=x'];
    expect(readShellArguments(['flueside', ...words], true).refused).toBeUndefined();
    expect(readShellArguments(['electron', '/app', OWN_OPTIONS_FOLLOW, ...words], false).refused).toBe(
      'There is no option --ozone-platform.',
    );
  });
  it('hand files and a role to the first start, as seen from the folder of the second', () => {
    const handed = secondStart(['a.flueside-run', resolve('/b/c.flueside-recipe')], 'instructor', resolve('/somewhere'));
    expect(handed).toEqual({ files: [resolve('/somewhere/a.flueside-run'), resolve('/b/c.flueside-recipe')], role: 'instructor' });
    expect(readSecondStart(handed)).toEqual(handed);
    expect(readSecondStart({ files: ['/etc/passwd'] })).toEqual({ files: [] });
    expect(readSecondStart(undefined)).toEqual({ files: [] });
    expect(readSecondStart({ files: [1], role: 'king' })).toEqual({ files: [] });
  });
  it('know both kinds of our files, in any letters', () => {
    expect(readShellArguments(['x', 'A.FLUESIDE-RECIPE', 'b.flueside-runs'], true).files).toEqual(['A.FLUESIDE-RECIPE']);
  });
});

describe('the menu', () => {
  const all = (entries: MenuEntry[]): MenuEntry[] => entries.flatMap((entry) => [entry, ...all(entry.submenu ?? [])]);
  const make = (platform: NodeJS.Platform, isPackaged = true) =>
    menuEntries({
      platform,
      isPackaged,
      openFile: () => undefined,
      recentFiles: [],
      openRecent: () => undefined,
      showDataFolder: () => undefined,
    });

  it('has the own menu of a Mac with quit in it, and quit under File elsewhere', () => {
    expect(make('darwin')[0]).toMatchObject({ label: 'Flueside' });
    expect(make('win32').map(({ label }) => label)).toEqual(['File', 'Edit', 'View', 'Window']);
    for (const platform of ['darwin', 'win32', 'linux'] as const)
      expect(all(make(platform)).filter(({ role }) => role === 'quit')).toHaveLength(1);
  });
  it('has copy and paste everywhere: a Mac has their keys from here', () => {
    for (const platform of ['darwin', 'win32', 'linux'] as const)
      expect(all(make(platform)).map(({ role }) => role)).toEqual(expect.arrayContaining(['cut', 'copy', 'paste', 'selectAll', 'undo']));
  });
  it('shows developer tools only where the app is developed', () => {
    expect(all(make('linux')).map(({ role }) => role)).not.toContain('toggleDevTools');
    expect(all(make('linux', false)).map(({ role }) => role)).toContain('toggleDevTools');
  });
  it('takes no key away from the window: single letters, space and Ctrl with a digit, D, Z belong to it', () => {
    const keys = all(make('linux', false)).flatMap(({ accelerator }) => accelerator ?? []);
    expect(keys).toEqual(['CmdOrCtrl+Shift+O']);
  });
});

describe('printing', () => {
  it('shows the page once, to the hidden window, and closes it', async () => {
    const seen: (string | undefined)[] = [];
    let open = 0;
    const printer = createPdfPrinter(() => {
      open += 1;
      return {
        loadURL: (address) => {
          const token = address.replace('app://flueside/print/', '');
          seen.push(printer.takePage(token), printer.takePage(token));
          return Promise.resolve();
        },
        webContents: { printToPDF: (options) => Promise.resolve(Uint8Array.of(options === pdfOptions ? 1 : 0)) },
        destroy: () => (open -= 1),
      };
    }, createFakeClock());
    expect(await printer.print('<h1>Report</h1>')).toEqual(Uint8Array.of(1));
    expect(seen).toEqual(['<h1>Report</h1>', undefined]);
    expect(open).toBe(0);
  });

  it('closes the window and forgets the page when printing fails', async () => {
    let open = 0;
    let token = '';
    const printer = createPdfPrinter(() => {
      open += 1;
      return {
        loadURL: (address) => {
          token = address.split('/').at(-1) ?? '';
          return Promise.reject(new Error('crashed'));
        },
        webContents: { printToPDF: () => Promise.resolve(new Uint8Array()) },
        destroy: () => (open -= 1),
      };
    }, createFakeClock());
    await expect(printer.print('x')).rejects.toThrow('crashed');
    expect(open).toBe(0);
    expect(printer.takePage(token)).toBeUndefined();
  });

  it('is given up after 60 s, and the window with the endless page destroyed', async () => {
    const clock = createFakeClock();
    let open = 0;
    const printer = createPdfPrinter(() => {
      open += 1;
      return {
        loadURL: () => Promise.resolve(),
        webContents: { printToPDF: () => new Promise<Uint8Array>(() => undefined) },
        destroy: () => (open -= 1),
      };
    }, clock);
    const printed = printer.print('x').catch((failure: Error) => failure.message);
    await clock.advance(59_999);
    expect(open).toBe(1);
    await clock.advance(1);
    expect(await printed).toBe('Printing took longer than 60 s and was stopped.');
    expect(open).toBe(0);
  });
});
