/** The shell in plain Node: main/electron.ts bundled with fake-electron.ts in Electron's place, its windows pages of a headless browser. */
import { fork } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { build } from 'esbuild';
import type { Browser, Page } from 'playwright-core';
import { vi } from 'vitest';
import { OWN_OPTIONS_FOLLOW } from '../../../main/shell/shell-arguments.ts';
import { launchChromium } from '../../helpers/browser/chromium.ts';
import type { FromShell, ToShell } from './fake-messages.ts';
import type { Question, Shell, ShellOptions } from './shell.ts';

const { nodeBundle } = (await import(resolve('main/scripts/build-output.mjs'))) as { nodeBundle: object };
const main = resolve('dist/main/fake-electron-shell.mjs');
let built: Promise<string> | undefined;
let browser: Promise<Browser> | undefined;

/** Beside the built app, so that it finds the window's files where the app does. @returns the preload script's text */
async function buildShell(): Promise<string> {
  const electron = (file: string) => ({
    name: 'electron',
    setup: (one: { onResolve(filter: { filter: RegExp }, found: () => { path: string }): void }) =>
      one.onResolve({ filter: /^electron$/ }, () => ({ path: resolve('tests/e2e/shell', file) })),
  });
  await build({ ...nodeBundle, entryPoints: ['main/electron.ts'], outfile: main, plugins: [electron('fake-electron.ts')] });
  const preload = await build({
    bundle: true,
    write: false,
    format: 'iife',
    entryPoints: ['main/preload.ts'],
    plugins: [electron('fake-preload.ts')],
  });
  return preload.outputFiles[0]?.text ?? '';
}

export async function closeFakeBrowser(): Promise<void> {
  await (await browser)?.close();
  browser = undefined;
}

export type FakeShell = Shell & { readonly breaches: readonly string[]; tell(message: ToShell): void };

export async function startFakeShell({ dataFolder, args = [] }: ShellOptions = {}): Promise<FakeShell> {
  const preload = await (built ??= buildShell());
  const context = await (await (browser ??= launchChromium())).newContext({ viewport: null, acceptDownloads: true });
  const home = mkdtempSync(join(tmpdir(), 'flueside-home-'));
  const data = dataFolder ?? join(home, 'data');
  const documents = join(home, 'Documents');
  mkdirSync(documents);
  const env = { ...process.env, HOME: home, USERPROFILE: home };
  const words = [OWN_OPTIONS_FOLLOW, '--data', data];
  const child = fork(main, [...words, ...args], { env, serialization: 'advanced', stdio: ['ignore', 'ignore', 'inherit', 'ipc'] });
  let code: number | null | undefined;
  const ended = new Promise<number | null>((done) => child.once('exit', (how) => done((code = how))));
  const tell = (message: ToShell): void => {
    // one that was killed may have gone a moment before it is known
    if (child.connected) child.send(message, () => undefined);
  };

  const pages = new Map<number, Page>();
  const loaded = new WeakSet<Page>();
  const shown = new Set<number>();
  const breaches: string[] = [];
  const questions: (Question & { id: number })[] = [];
  const saves = new Map<number, (path: string | undefined) => void>();
  let awake: ((value: boolean) => void) | undefined;
  let nextDownload = 0;
  let seen = 0;

  const openPage = async (window: number, hasPreload: boolean): Promise<Page> => {
    const page = await context.newPage();
    pages.set(window, page);
    if (hasPreload) {
      await page.exposeBinding('shellSend', ({ frame }, channel: string, message: unknown) =>
        tell({ kind: 'wire', window, channel, message, frame: { address: frame.url(), isMain: frame.parentFrame() === null } }),
      );
      // a preload script runs in the window's own page, not in frames inside it
      await page.addInitScript(`if (window === window.top) { ${preload} }`);
    }
    page.on('crash', () => {
      pages.delete(window);
      tell({ kind: 'crashed', window });
    });
    // what Electron forbids by handlers that the unit tests hold: other pages and other windows
    page.on('popup', (other) => void other.close());
    await page.route(
      (address) => address.hostname !== '127.0.0.1',
      (route) => route.abort(),
    );
    page.on('download', (download) => {
      const id = (nextDownload += 1);
      saves.set(id, (path) => void (path === undefined ? download.cancel() : download.saveAs(path)));
      tell({ kind: 'download', id, address: download.url(), fileName: download.suggestedFilename() });
    });
    return page;
  };
  const answering = (id: number, work: () => Promise<unknown>): void =>
    void work().then(
      (value) => tell({ kind: 'answer', id, value }),
      (failure: Error) => tell({ kind: 'answer', id, failure: failure.message }),
    );

  child.on('message', (message: FromShell) => {
    switch (message.kind) {
      case 'load':
        return answering(message.id, async () => {
          const page = pages.get(message.window) ?? (await openPage(message.window, message.hasPreload));
          await page.setViewportSize({ width: message.width, height: message.height });
          await page.goto(message.address, { waitUntil: 'load' });
          loaded.add(page);
        });
      case 'shown':
        return void shown.add(message.window);
      case 'gone':
        void pages.get(message.window)?.close();
        shown.delete(message.window);
        return void pages.delete(message.window);
      case 'send':
        return void pages
          .get(message.window)
          ?.evaluate(
            ([channel, value]) =>
              (globalThis as unknown as { shellReceive?: (channel: string, value: unknown) => void }).shellReceive?.(channel, value),
            [message.channel, message.message] as const,
          )
          .catch(() => undefined);
      case 'print':
        return answering(message.id, async () => {
          const { preferCSSPageSize, printBackground, generateTaggedPDF, generateDocumentOutline } = message.options;
          return pages.get(message.window)?.pdf({
            preferCSSPageSize: preferCSSPageSize ?? false,
            printBackground: printBackground ?? false,
            tagged: generateTaggedPDF ?? false,
            outline: generateDocumentOutline ?? false,
          });
        });
      case 'question':
        return void questions.push(message);
      case 'save':
        return saves.get(message.id)?.(message.path);
      case 'is-awake':
        return awake?.(message.value);
      case 'breach':
        return void breaches.push(message.what);
    }
  });

  const mainWindow = (): number | undefined => [...pages.keys()].sort((a, b) => a - b)[0];
  const page = (): Promise<Page> =>
    vi.waitUntil(
      () => {
        const found = pages.get(mainWindow() ?? -1);
        return found !== undefined && loaded.has(found) ? found : undefined;
      },
      { timeout: 20_000, interval: 50 },
    );
  return {
    dataFolder: data,
    documents,
    pid: child.pid ?? 0,
    breaches,
    tell,
    page,
    text: async () =>
      (await pages
        .get(mainWindow() ?? -1)
        ?.evaluate(() => document.body.innerText)
        .catch(() => '')) ?? '',
    windows: () => pages.size,
    isVisible: () => Promise.resolve(shown.has(mainWindow() ?? -1)),
    pressCross: () => Promise.resolve(tell({ kind: 'press-cross', window: mainWindow() ?? -1 })),
    async question() {
      const asked = await vi.waitUntil(() => questions[seen], { timeout: 20_000, interval: 20 });
      seen += 1;
      return asked;
    },
    answer(question, button) {
      const at = question.buttons.indexOf(button);
      tell({ kind: 'answer', id: (question as Question & { id: number }).id, value: { response: at, checkboxChecked: false } });
      return Promise.resolve();
    },
    pressSave: () => Promise.resolve(),
    async crashPage() {
      await pages
        .get(mainWindow() ?? -1)
        ?.goto('chrome://crash')
        .catch(() => undefined);
    },
    isKeptAwake: () =>
      new Promise((done) => {
        awake = done;
        tell({ kind: 'is-awake', id: 0 });
      }),
    startAgain: (more, cwd = process.cwd()) =>
      new Promise((done) => {
        const again = fork(main, [...words, ...more], {
          env,
          cwd,
          serialization: 'advanced',
          stdio: ['ignore', 'ignore', 'inherit', 'ipc'],
        });
        again.once('exit', (how) => done(how));
      }),
    ended: () => ended,
    async clear() {
      if (code === undefined) child.kill('SIGKILL');
      await ended;
      await context.close();
      rmSync(home, { recursive: true, force: true, maxRetries: 10, retryDelay: 100 });
      if (breaches.length > 0) throw new Error(breaches.join('; '));
    },
  };
}
