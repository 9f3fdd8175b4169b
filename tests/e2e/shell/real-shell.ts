/** The shell in a real Electron. Where xdotool is here (Linux), the app's own dialogs are answered with keys, as a person would. */
import { spawn, spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { _electron } from 'playwright-core';
import { vi } from 'vitest';
import { OWN_OPTIONS_FOLLOW } from '../../../main/shell/shell-arguments.ts';
import { desktop } from '../../../shared/words/desktop.ts';
import type { Question, Shell, ShellOptions } from './shell.ts';

const program = process.env['FLUESIDE_SHELL_PROGRAM'] ?? '';
const words = JSON.parse(process.env['FLUESIDE_SHELL_WORDS'] ?? '[]') as string[];
const isRoot = process.getuid?.() === 0;
const hasHands = process.platform === 'linux' && spawnSync('xdotool', ['version']).status === 0;

export async function startRealShell({ dataFolder, args = [] }: ShellOptions = {}): Promise<Shell> {
  const home = mkdtempSync(join(tmpdir(), 'flueside-home-'));
  const data = dataFolder ?? join(home, 'data');
  mkdirSync(join(home, 'Documents'));
  // on Linux the system reads there where the documents are; without it they are the home folder
  mkdirSync(join(home, '.config'));
  writeFileSync(join(home, '.config', 'user-dirs.dirs'), 'XDG_DOCUMENTS_DIR="$HOME/Documents"\n');
  const env = { ...process.env, HOME: home, USERPROFILE: home, XDG_CONFIG_HOME: join(home, '.config') } as Record<string, string>;
  const own = [...words, OWN_OPTIONS_FOLLOW, '--data', data];
  const sandbox = isRoot ? ['--no-sandbox'] : [];
  const electron = await _electron.launch({
    executablePath: program,
    args: [...sandbox, ...own, ...args],
    chromiumSandbox: !isRoot,
    env,
  });
  const child = electron.process();
  let code: number | null | undefined;
  const ended = new Promise<number | null>((done) => child.once('exit', (how) => done((code = how))));
  // the dialogs stay what they are; what they ask is noted, and a machine without hands answers for the person
  await electron.evaluate(({ dialog }, answersItself) => {
    const noted: { message: string; detail: string; buttons: string[]; answer?: (button: number) => void }[] = [];
    (globalThis as unknown as { noted: unknown }).noted = noted;
    const original = dialog.showMessageBox.bind(dialog) as (...values: unknown[]) => Promise<unknown>;
    dialog.showMessageBox = ((...values: unknown[]) => {
      const { message = '', detail = '', buttons = ['OK'] } = values.at(-1) as { message?: string; detail?: string; buttons?: string[] };
      const entry: (typeof noted)[number] = { message, detail, buttons };
      noted.push(entry);
      if (!answersItself) return original(...values);
      return new Promise((done) => (entry.answer = (response) => done({ response, checkboxChecked: false })));
    }) as unknown as typeof dialog.showMessageBox;
  }, !hasHands);
  const page = await electron.firstWindow();
  let seen = 0;
  // without hands nobody can press Save: the file goes where the dialog would have proposed
  if (!hasHands)
    await electron.evaluate(
      ({ session }, folder) => {
        session.defaultSession.on('will-download', (_event, item) => item.setSavePath(`${folder}/Flueside/${item.getFilename()}`));
      },
      join(home, 'Documents'),
    );

  return {
    dataFolder: data,
    documents: join(home, 'Documents'),
    pid: child.pid ?? 0,
    page: () => Promise.resolve(page),
    // Playwright gives a crashed page up for good; the window itself does not
    text: () =>
      electron
        .evaluate(({ BrowserWindow }) => {
          const asked = BrowserWindow.getAllWindows()[0]?.webContents.executeJavaScript('document.body.innerText') as
            | Promise<string>
            | undefined;
          // a page that has just crashed never answers
          return Promise.race([asked ?? '', new Promise<string>((done) => setTimeout(() => done(''), 1000))]);
        })
        .catch(() => ''),
    windows: () => electron.evaluate(({ BrowserWindow }) => BrowserWindow.getAllWindows().length),
    isVisible: () => electron.evaluate(({ BrowserWindow }) => BrowserWindow.getAllWindows()[0]?.isVisible() ?? false),
    pressCross: () =>
      electron.evaluate(({ BrowserWindow }) => {
        setTimeout(() => BrowserWindow.getAllWindows()[0]?.close());
      }),
    async question() {
      const asked = await vi.waitUntil(
        async () =>
          (await electron.evaluate(
            (_, at) => JSON.parse(JSON.stringify((globalThis as unknown as { noted: unknown[] }).noted[at] ?? null)) as unknown,
            seen,
          )) as Question | null,
        { timeout: 20_000, interval: 100 },
      );
      seen += 1;
      return asked;
    },
    async answer({ message, buttons }, button) {
      const at = buttons.indexOf(button);
      if (at < 0) throw new Error(`"${button}" is not one of ${buttons.join(', ')}`);
      if (hasHands) await pressButton(message, buttons, at);
      else
        await electron.evaluate(
          (_, [nth, response]) =>
            (globalThis as unknown as { noted: { answer?: (button: number) => void }[] }).noted[nth as number]?.answer?.(
              response as number,
            ),
          [seen - 1, at],
        );
    },
    async pressSave() {
      if (!hasHands) return;
      await dialogIsUp(desktop.saveTitle);
      // shown is not yet listening; pressed again it finds no dialog and does nothing
      await vi.waitUntil(() => (xdotool('key', 'Return'), xdotool('getactivewindow', 'getwindowname').trim() !== desktop.saveTitle), {
        timeout: 10_000,
        interval: 500,
      });
    },
    crashPage: () => electron.evaluate(({ BrowserWindow }) => BrowserWindow.getAllWindows()[0]?.webContents.forcefullyCrashRenderer()),
    isKeptAwake: () => electron.evaluate(({ powerSaveBlocker }) => [0, 1, 2, 3].some((id) => powerSaveBlocker.isStarted(id))),
    startAgain: (more, cwd = process.cwd()) =>
      new Promise((done) => {
        const again = spawn(program, [...sandbox, ...own, ...more], { env, cwd, stdio: 'ignore' });
        again.once('exit', (how) => done(how));
      }),
    ended: () => ended,
    async clear() {
      if (code === undefined) child.kill('SIGKILL');
      await ended;
      rmSync(home, { recursive: true, force: true, maxRetries: 10, retryDelay: 100 });
    },
  };
}

const xdotool = (...command: string[]): string => spawnSync('xdotool', command, { encoding: 'utf8' }).stdout;

/** Enter takes the first button, the default; the others come by Tab, in the order in which the system puts them. */
async function pressButton(message: string, buttons: readonly string[], at: number): Promise<void> {
  await vi
    .waitUntil(() => activeWindowTakesKeys(), { timeout: 10_000, interval: 100 })
    .catch(() => {
      throw new Error(`no dialog to answer "${message}" with`);
    });
  for (let step = 0; step < at; step += 1) xdotool('key', 'Tab');
  void buttons;
  xdotool('key', 'Return');
}

const dialogIsUp = (title: string): Promise<unknown> =>
  vi.waitUntil(() => xdotool('getactivewindow', 'getwindowname').trim() === title, { timeout: 20_000, interval: 100 });

const activeWindowTakesKeys = (): boolean => xdotool('getactivewindow').trim() !== '';
